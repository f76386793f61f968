package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"springwright/design/fault"
	"springwright/design/photo"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/export"

	"github.com/spf13/pflag"
)

// largestPictureBytes is what photo.Read takes at most.
const largestPictureBytes = 96 << 20

// pictureCard is what the 100 mm bars measure on the page that the spring was pictured on; 0 where nobody has
// measured them.
type pictureCard struct{ levelMM, uprightMM float64 }

func (p *pictureCard) addFlags(flags *pflag.FlagSet) {
	flags.Var(quantityFlag{quantity.Millimetre, export.ShortestBarMM, export.LongestBarMM, &p.levelMM}, "card-x",
		"`MM` that the level 100 mm bar measures on the very page in the picture, where it is not 100")
	flags.Var(quantityFlag{quantity.Millimetre, export.ShortestBarMM, export.LongestBarMM, &p.uprightMM}, "card-y",
		"`MM` that the upright bar measures there")
}

// pictureReadings are what a picture of the bent spring on the card of the check page tells: every bend, and
// every straight between two of them, with the standard error of each.
func (c console) pictureReadings(name string, made spring.Spring, card pictureCard) ([]spring.StepReading, error) {
	expect, err := photo.ExpectOf(made)
	if err != nil {
		return nil, pictureFailure(name, err)
	}
	expect.LevelBarMM, expect.UprightBarMM = card.levelMM, card.uprightMM
	expect.AnchorLeft = true // as the card says
	f, err := os.Open(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestPictureBytes+1))
	if err != nil {
		return nil, unreadable(name, err)
	}
	outline, err := photo.Read(bytes.NewReader(data), expect)
	if err != nil {
		return nil, pictureFailure(name, err)
	}
	for _, n := range outline.Notes {
		c.say("warning", pictureNote(n))
	}
	return pictureSteps(outline), nil
}

// pictureSteps are the readings of an outline that are good enough to be taken.
func pictureSteps(outline photo.Outline) (all []spring.StepReading) {
	for _, s := range outline.Straights {
		if !s.Leg && s.Step >= 0 && !s.ByHand {
			all = append(all, spring.StepReading{Step: s.Step, Value: s.LengthMM, SD: s.SEMM})
		}
	}
	for _, b := range outline.Bends {
		if !b.ByHand {
			all = append(all, spring.StepReading{Step: b.Step, Value: b.AngleRad, SD: b.SERad})
		}
	}
	return all
}

// pictureFailure says why a picture is not read, and what to do.
func pictureFailure(name string, err error) error {
	var refused *photo.PictureError
	if errors.As(err, &refused) {
		return fault.List{refused.Fault(name)}
	}
	return &failure{code: exitFile, text: fmt.Sprintf("%s: %v", name, err)}
}

// pictureNote is what is told beside a reading.
func pictureNote(n photo.Note) string {
	switch {
	case n.Kind == photo.PrintedOffScale && len(n.Values) == 2:
		return fmt.Sprintf("the page was printed at %s %% across and %s %% up, which is taken out", fixed(100*n.Values[0], 1), fixed(100*n.Values[1], 1))
	case n.Kind == photo.WidthAtOdds && len(n.Values) == 2:
		return fmt.Sprintf("the wire in the picture is %s mm wide, expected is %s mm: was the page printed at 100 %%, and is it the right wire", fixed(n.Values[0], 2), fixed(n.Values[1], 2))
	case n.Kind == photo.BendsByHand:
		return "the picture does not show well enough how far bend " + numbersText(n.Values) + " is bent: measure that by hand, or take a picture from nearer and without shadows"
	case n.Kind == photo.StraightsByHand:
		return "the picture does not show well enough how long the straight behind bend " + numbersText(n.Values) + " is: measure that by hand, or take a picture from nearer and without shadows"
	}
	return "the spring fits with either end first, and was taken as laid with its anchor end to the left"
}

// numbersText is numbers as one reads them out: 1, 2 and 5.
func numbersText(numbers []float64) string {
	var b strings.Builder
	for i, v := range numbers {
		switch {
		case i > 0 && i == len(numbers)-1:
			b.WriteString(" and ")
		case i > 0:
			b.WriteString(", ")
		}
		b.WriteString(fixed(v, 0))
	}
	return b.String()
}
