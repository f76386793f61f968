package words

import (
	"strconv"
	"strings"

	"springwright/design/photo"
)

// PictureRefusal says why a picture of a spring is not read, and what to do. What is particular to the picture
// is told in English as it was found, else by the numbers of marks and bends.
func (b *Book) PictureRefusal(e *photo.PictureError) (text, hint string) {
	if b.Language() == English {
		return e.Error(), e.Reason.Hint()
	}
	text, hint = b.known(e.Reason.String()), b.known(e.Reason.Hint())
	if len(e.Marks) > 0 {
		text += "; " + b.Say("marks with so many dots: %s", numbered(e.Marks))
	}
	if len(e.Bends) > 0 {
		text += "; " + b.Say("bends: %s", numbered(e.Bends))
	}
	return text, hint
}

// known says a text that another package has as a constant.
func (b *Book) known(english string) string {
	own, found := tables[b.Language()][english]
	if !found && b.lacks != nil && english != "" {
		b.lacks(english)
	}
	if !found {
		return english
	}
	return own
}

func numbered(list []int) string {
	var parts []string
	for _, n := range list {
		parts = append(parts, strconv.Itoa(n))
	}
	return strings.Join(parts, ", ")
}

// PictureNote is what is told beside a reading.
func (b *Book) PictureNote(n photo.Note) string {
	switch {
	case n.Kind == photo.PrintedOffScale && len(n.Values) == 2:
		return b.Say("the page was printed at %s %% across and %s %% up, which is taken out", b.Number(100*n.Values[0], 1), b.Number(100*n.Values[1], 1))
	case n.Kind == photo.WidthAtOdds && len(n.Values) == 2:
		return b.Say("the wire in the picture is %s mm wide, expected is %s mm: was the page printed at 100 %%, and is it the right wire", b.Number(n.Values[0], 2), b.Number(n.Values[1], 2))
	case n.Kind == photo.BendsByHand:
		return b.Say("the picture does not show well enough how far these are bent, bend %s: measure that by hand, or take a picture from nearer and without shadows", b.numbered(n.Values))
	case n.Kind == photo.StraightsByHand:
		return b.Say("the picture does not show well enough how long the straight is behind bend %s: measure that by hand, or take a picture from nearer and without shadows", b.numbered(n.Values))
	}
	return b.Say("the spring fits with either end first, and was taken as laid with its anchor end to the left")
}

// numbered are numbers as one reads them out: 1, 2 and 5.
func (b *Book) numbered(numbers []float64) string {
	var parts []string
	for _, v := range numbers {
		parts = append(parts, b.Number(v, 0))
	}
	return b.and(parts, "")
}
