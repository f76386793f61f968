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
	Row         int
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

// mostDayOrders is far above what anybody prints at a time; with more a document would not fit into memory.
const mostDayOrders = 20_000

var statePhrases = [...]words.Phrase{
	orders.Open: "not made yet", orders.Made: "made", orders.Missed: "target missed", orders.Faulty: "faulty order", orders.InTheWay: "not written",
}

// Cover returns the cover sheet and the cut list as a PDF file. Same input, same bytes. The error wraps ErrJob
// where something cannot be drawn.
func (d Day) Cover() ([]byte, error) {
	doc, err := d.cover()
	if err != nil {
		return nil, err
	}
	return d.file(doc, words.NewBook(d.Language).Say("Orders of the day"), words.NewBook(d.Language).Say("What has become of each order, and the wires to cut"))
}

// Labels returns the labels of all springs that there are to bend, to be cut out, as a PDF file; nil where there are none.
func (d Day) Labels() ([]byte, error) {
	doc, err := d.labels()
	if err != nil || doc == nil {
		return nil, err
	}
	return d.file(doc, words.NewBook(d.Language).Say("Labels"), words.NewBook(d.Language).Say("Labels to cut out, one a spring"))
}

func (d Day) check() error {
	var found faults
	d.Frame.check(found.add)
	if len(d.Orders) == 0 {
		found.add("there is no order")
	}
	if len(d.Orders) > mostDayOrders {
		found.add("%d orders (allowed: up to %d)", len(d.Orders), mostDayOrders)
	}
	if !(d.StockMM > 0) {
		found.add("a stock length of %g mm (allowed: above 0)", d.StockMM)
	}
	return found.err()
}

// flow is a flow that knows which codes can be printed.
func (d Day) flow() (*flow, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
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
	f.top.head = headText{f.say("Orders"), printable(f, d.List, ""), []string{
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

// teethInShort is such as "37 (36)".
func (o DayOrder) teethInShort() string {
	if o.Teeth == (tooth.Pair{}) {
		return ""
	}
	return fmt.Sprintf("%d (%d)", int(o.Teeth.Active), int(o.Teeth.Anchor))
}

func (d Day) cover() (*sheet.Document, error) {
	f, err := d.flow()
	if err != nil {
		return nil, err
	}
	f.newPage("Orders")
	d.table(f)
	d.lacking(f)
	d.cutList(f)
	return f.finished()
}

// dayRowMM leaves room to tick a row off by hand.
const dayRowMM = 5.4

func (d Day) table(f *flow) {
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
	rest := d.Orders
	for len(rest) > 0 {
		if t.RowsIn(f.leftMM()) < 1 {
			f.need(f.area.Height())
		}
		n := min(len(rest), t.RowsIn(f.leftMM()))
		t.Rows = nil
		for _, o := range rest[:n] {
			t.Rows = append(t.Rows, []string{o.Due, o.code(f), o.teethInShort(), o.sideText(f), o.Wire, o.Share, f.say(statePhrases[o.State])})
		}
		t.Draw(f.page, f.take(t.HeightMM()+gapMM))
		rest = rest[n:]
	}
}

// lacking says of each order that is not all right what is lacking.
func (d Day) lacking(f *flow) {
	bold, body := sheet.Style{SizePt: sheet.BodyPt, Bold: true}, sheet.Style{SizePt: sheet.BodyPt}
	begun := false
	for _, o := range d.Orders {
		if len(o.Lacking) == 0 {
			continue
		}
		var items []string
		for _, text := range o.Lacking {
			items = append(items, onPaper(f, text))
		}
		text := strings.Join(items, "; ") + "."
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
	for _, o := range d.Orders {
		if !o.cut() {
			continue
		}
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
