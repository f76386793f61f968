package export

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"springwright/design/orders"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Day is the orders of a day, as a laboratory makes them: the cover sheet with the cut list, and the labels.
type Day struct {
	Frame
	List    string // what the orders were read from
	Orders  []DayOrder
	StockMM float64 // length of the wires that pieces are cut from
}

// DayOrder is what became of an order, in the order of the day. What it does not have yet is empty.
type DayOrder struct {
	Code        string // as written; where the typeface lacks a letter of it, Name stands for it
	Name        string // of its folder
	Twin        bool
	Due         string
	Row         int // of the list; 0: it is a file of its own
	Teeth       tooth.Pair
	Wire        string // in the language of the sheets
	CutMM       float64
	Share       string // of springs bent in trial, of 100; "" where none were
	Fingerprint string
	State       orders.State
	Lacking     []string // what is lacking, an item each
}

// cut tells whether there is a wire to cut for it.
func (o DayOrder) cut() bool { return o.CutMM > 0 }

// volumeOrders is how many orders go into one document: the pages of 500 take some 40 MB while they are drawn,
// and nobody staples more (choice). The rest goes into further ones.
const volumeOrders = 500

var statePhrases = [...]words.Phrase{
	orders.Open: "not made yet", orders.Made: "made", orders.Missed: "target missed", orders.Faulty: "faulty order", orders.InTheWay: "not written",
}

// StateText says in words what became of an order.
func StateText(b *words.Book, s orders.State) string { return b.Say(statePhrases[s]) }

// Cover returns the cover sheet with the cut list as PDF files, one for every 500 orders. Same input, same bytes.
// The error wraps ErrJob where something cannot be drawn.
func (d Day) Cover() ([][]byte, error) {
	return d.volumes("Orders of the day", "What has become of each order, and the wires to cut", len(d.Orders), d.cover)
}

// Labels returns the labels of all springs that there are to bend, to be cut out, as PDF files; none where there
// are no springs.
func (d Day) Labels() ([][]byte, error) {
	return d.volumes("Labels", "Labels to cut out, one a spring", len(d.toBend()), d.labels)
}

// volumes draws documents of n orders, each from one order to another.
func (d Day) volumes(title, subject words.Phrase, n int, draw func(from, to int) (*sheet.Document, error)) ([][]byte, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	b := words.NewBook(d.Language)
	var files [][]byte
	for from := 0; from < n; from += volumeOrders {
		doc, err := draw(from, min(from+volumeOrders, n))
		if err != nil {
			return nil, err
		}
		file, err := d.file(doc, b.Say(title), b.Say(subject))
		if err != nil {
			return nil, err
		}
		files = append(files, file)
	}
	return files, nil
}

// toBend are the orders with a spring to bend.
func (d Day) toBend() []DayOrder {
	return slices.DeleteFunc(slices.Clone(d.Orders), func(o DayOrder) bool { return !o.cut() })
}

func (d Day) check() error {
	var found faults
	d.Frame.check(found.add)
	if len(d.Orders) == 0 {
		found.add("there is no order")
	}
	if !(d.StockMM > 0) {
		found.add("a stock length of %g mm (allowed: above 0)", d.StockMM)
	}
	return found.err()
}

// flow is a document without pages, of the orders from one to another of n.
func (d Day) flow(from, to, n int) (*flow, error) {
	f, err := d.Frame.flow()
	if err != nil {
		return nil, err
	}
	counts := map[orders.State]int{}
	for _, o := range d.Orders {
		counts[o.State]++
	}
	var said []string
	for s, phrase := range statePhrases {
		if n := counts[orders.State(s)]; n > 0 {
			said = append(said, fmt.Sprintf("%s: %d", f.say(phrase), n))
		}
	}
	slices.Reverse(said) // what needs looking after first
	title := printable(f, d.List, "")
	if n > volumeOrders {
		title += f.say(", %d to %d of %d", from+1, to, n)
	}
	f.top.head = headText{f.say("Orders"), title, []string{
		f.say("Springs: %d.", len(d.Orders)) + " " + words.Capital(strings.Join(said, ", ")) + ".",
		f.say("In the order of the day: what is due first. Codes only, never a patient's name."),
		f.say("Each spring has a folder of its own, under the name that its label gives, with its template and its inspection table."),
	}}
	return f, nil
}

// printable is a text, or another where the typeface lacks a letter of it.
func printable(f *flow, text, other string) string {
	if len(f.doc.Lacking(text)) == 0 {
		return text
	}
	return other
}

func (o DayOrder) code(f *flow) string {
	code := printable(f, o.Code, o.Name)
	if o.Twin {
		code = f.say("%s, twin", code)
	}
	return code
}

func (o DayOrder) sideText(f *flow) string {
	switch {
	case o.Teeth == (tooth.Pair{}):
		return ""
	case o.Teeth.Active.PatientRight():
		return f.say("right")
	}
	return f.say("left")
}

// TeethInShort is such as "37 (36)".
func (o DayOrder) TeethInShort() string {
	if o.Teeth == (tooth.Pair{}) {
		return ""
	}
	return fmt.Sprintf("%d (%d)", int(o.Teeth.Active), int(o.Teeth.Anchor))
}

func (d Day) cover(from, to int) (*sheet.Document, error) {
	f, err := d.flow(from, to, len(d.Orders))
	if err != nil {
		return nil, err
	}
	f.newPage("Orders")
	d.table(f, d.Orders[from:to])
	d.lacking(f, d.Orders[from:to])
	if to == len(d.Orders) {
		d.cutList(f)
	}
	return f.finished()
}

// dayRowMM leaves room to tick a row off by hand.
const dayRowMM = 5.4

func (d Day) table(f *flow, rest []DayOrder) {
	t := sheet.Table{RowMM: dayRowMM, Columns: []sheet.Column{
		{Head: f.say("due"), WidthMM: 27},
		{Head: f.say("order")},
		{Head: f.say("tooth (anchor)"), WidthMM: 20},
		{Head: f.say("side"), WidthMM: 14},
		{Head: f.say("wire"), WidthMM: 44},
		{Head: f.say("of 100"), WidthMM: 10, Align: sheet.Right},
		{Head: f.say("state"), WidthMM: 23},
		{Head: f.say("done"), WidthMM: 9, Ruled: true},
	}}
	t.Fill(1, f.area.Width())
	f.heading(f.say("Orders of the day"), f.say("Of 100 springs bent by hand so many meet the target."))
	for len(rest) > 0 {
		if t.RowsIn(f.leftMM()) < 1 {
			f.need(f.area.Height())
		}
		n := min(len(rest), t.RowsIn(f.leftMM()))
		t.Rows = nil
		for _, o := range rest[:n] {
			t.Rows = append(t.Rows, []string{o.Due, o.code(f), o.TeethInShort(), o.sideText(f), o.Wire, o.Share, f.say(statePhrases[o.State])})
		}
		t.Draw(f.page, f.take(t.HeightMM()+gapMM))
		rest = rest[n:]
	}
}

// lacking says of each order that is not all right what is lacking.
func (d Day) lacking(f *flow, some []DayOrder) {
	bold, body := sheet.Style{SizePt: sheet.BodyPt, Bold: true}, sheet.Style{SizePt: sheet.BodyPt}
	begun := false
	for _, o := range some {
		if len(o.Lacking) == 0 {
			continue
		}
		var items []string
		for _, text := range o.Lacking {
			items = append(items, onPaper(f, text))
		}
		text := words.Capital(strings.Join(items, "; ")) + "."
		height := bold.LineMM() + f.blockMM(text, body) + 0.6
		if !begun {
			f.need(8 + height)
			f.heading(f.say("What is lacking"), "")
			begun = true
		}
		f.need(min(height, f.area.Height()))
		at := f.take(bold.LineMM() + 0.6)
		at.Y -= bold.CapMM()
		title := o.code(f) + ": " + f.say(statePhrases[o.State])
		if o.Row > 0 {
			title = f.say("%s (row %d): %s", o.code(f), o.Row, f.say(statePhrases[o.State]))
		}
		f.page.Text(at, f.doc.Fit(title, f.area.Width(), bold), bold)
		f.paragraph(text, body, blockApartMM)
	}
	if begun {
		f.take(gapMM - 2)
	}
}

// onPaper is a text with a mark for each letter that the typeface lacks: a file may have quoted any.
func onPaper(f *flow, text string) string {
	lacking := f.doc.Lacking(text)
	if len(lacking) == 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if slices.Contains(lacking, r) {
			return '?'
		}
		return r
	}, text)
}

// WireCuts are the pieces of one wire in the lengths that they are cut from.
type WireCuts struct {
	Wire    string
	Pieces  int
	TotalMM float64
	Lengths []orders.Length
}

// Cuts lays the wires of all springs into stock lengths, by the names of the wires.
func (d Day) Cuts() []WireCuts {
	byWire := map[string][]orders.Piece{}
	var names []string
	for _, o := range d.toBend() {
		if byWire[o.Wire] == nil {
			names = append(names, o.Wire)
		}
		byWire[o.Wire] = append(byWire[o.Wire], orders.Piece{Order: o.Name, LengthMM: o.CutMM})
	}
	slices.Sort(names)
	var all []WireCuts
	for _, name := range names {
		w := WireCuts{Wire: name, Pieces: len(byWire[name]), Lengths: orders.Cut(byWire[name], d.StockMM)}
		for _, p := range byWire[name] {
			w.TotalMM += p.LengthMM
		}
		all = append(all, w)
	}
	return all
}

func (d Day) cutList(f *flow) {
	cuts := d.Cuts()
	if len(cuts) == 0 {
		return
	}
	body := sheet.Style{SizePt: sheet.BodyPt}
	for i, w := range cuts {
		var lines [][]string
		for n, l := range w.Lengths {
			var pieces []string
			for _, p := range l.Pieces {
				pieces = append(pieces, fmt.Sprintf("%s\u00a0(%s)", f.words.Number(p.LengthMM, 1), p.Order))
			}
			left := f.say("left %s mm", f.words.Number(max(l.LeftMM, 0), 0))
			if l.LeftMM < 0 {
				left = f.say("longer than a stock length")
			}
			lines = append(lines, f.doc.Wrap(fmt.Sprintf("%d. %s. %s.", n+1, strings.Join(pieces, " + "), words.Capital(left)), f.area.Width()-8, body))
		}
		f.need(16 + float64(len(lines[0]))*body.LineMM())
		if i == 0 {
			f.heading(f.say("Cut list"), f.say("Lengths in mm from stock of %s mm, %s mm lost at each cut. Tick a length when it is cut.", f.words.Number(d.StockMM, 0), f.words.Number(orders.CutLossMM, 0)))
		}
		f.block(f.say("%s: pieces %d, together %s mm, stock lengths %d", w.Wire, w.Pieces, f.words.Number(w.TotalMM, 1), len(w.Lengths)), sheet.Style{SizePt: sheet.BodyPt, Bold: true})
		for _, line := range lines {
			height := max(float64(len(line))*body.LineMM(), 3.4) + 1.0
			f.need(height)
			at := f.take(height)
			f.page.Rectangle(sheet.Mark, plane.Box{Min: plane.Point{X: at.X, Y: at.Y - 2.6}, Max: plane.Point{X: at.X + 2.6, Y: at.Y}})
			for _, text := range line {
				at.Y -= body.LineMM()
				f.page.Text(plane.Point{X: at.X + 5, Y: at.Y + body.LineMM() - body.CapMM()}, text, body)
			}
		}
		f.take(2)
	}
}

// errTooNarrow means that a paper has no room for labels.
var errTooNarrow = errors.New("the paper has no room for labels")

// CutMM is the length of wire to cut for a spring.
func CutMM(s spring.Spring, teeth tooth.Pair) float64 { return bend.TableOf(s, teeth).CutMM() }
