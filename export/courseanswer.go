package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/course"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// answers lays out a page of answers for each student.
func (c Course) answers() (*sheet.Document, error) {
	f, all, err := c.begin()
	if err != nil {
		return nil, err
	}
	for i, s := range all {
		f.top.head = s.headText()
		if err := (answerPage{s, c.Class.Students[i]}).draw(f); err != nil {
			return nil, fmt.Errorf("%w: %s: %w", ErrJob, s.job.Case.Code, err)
		}
	}
	return f.finished()
}

// answerPage is the loads on both teeth, their balance, and the answers to the questions.
type answerPage struct {
	*subject
	student course.Student
}

func (p answerPage) draw(f *flow) error {
	a := p.student.Answer
	first := p.job.Evaluation.Record.Positions[0]
	f.newPage("Answers")
	body := sheet.Style{SizePt: sheet.BodyPt}
	sketch := freeBodyOf(p.subject)
	f.heading(f.say("Loads at the start"), sketch.remark())
	height := sketch.heightMM(f) - headingMM
	corner := f.take(height)
	left := corner.X + (f.area.Width()-sketchWidthMM)/2
	sketch.draw(f, plane.Box{Min: plane.Point{X: left, Y: corner.Y - height}, Max: plane.Point{X: left + sketchWidthMM, Y: corner.Y}})
	f.take(exerciseGapMM)

	teeth := p.job.Case.Teeth
	both := func(active, anchor tooth.Load) sheet.Table {
		return p.wordedTable(f,
			wordedLoad{f.say("Active tooth %d", int(teeth.Active)), teeth.ActiveMember(), active},
			wordedLoad{f.say("Anchor tooth %d", int(teeth.Anchor)), teeth.AnchorMember(), anchor})
	}
	worded := both(first.Active, first.Anchor)
	worded.Draw(f.page, f.take(worded.HeightMM()+exerciseGapMM))

	f.heading(f.say("Balance"), f.say("On the axes of the given loads, moments about the centre of the anchor slot."))
	balance := p.table(f, "")
	lever := tooth.Load{CoupleNMM: a.Lever()}
	sum := tooth.Load{
		ForceN:    r3.Add(first.Active.ForceN, first.Anchor.ForceN),
		CoupleNMM: r3.Add(r3.Add(first.Active.CoupleNMM, first.Anchor.CoupleNMM), lever.CoupleNMM),
	}
	for _, row := range [...]struct {
		name string
		load tooth.Load
	}{{f.say("on the active tooth"), first.Active}, {f.say("distance × force"), lever}, {f.say("on the anchor tooth"), first.Anchor}, {f.say("together"), sum}} {
		balance.Rows = append(balance.Rows, append([]string{row.name}, signed(f.words, row.load)...))
	}
	balance.Draw(f.page, f.take(balance.HeightMM()+exerciseGapMM))
	number := func(v float64) string { return f.words.Number(v, 2) }
	force := func(v float64) string { return f.words.Number(v, 3) }
	f.block(f.say("Tipping couple on the anchor: −(%s) − ((%s mm) · (%s N) − (%s mm) · (%s N)) = %s N·mm.", number(first.Active.CoupleNMM.Y),
		number(a.ArmMM.Z), force(first.Active.ForceN.X), number(a.ArmMM.X), force(first.Active.ForceN.Z), number(first.Anchor.CoupleNMM.Y)), body)
	f.take(exerciseGapMM)

	f.heading(f.say("Answers"), "")
	for _, text := range p.answers(f) {
		f.block(text, body)
	}
	if a.Seated {
		changed := both(a.WhatIf[0], a.WhatIf[1])
		f.need(changed.HeightMM())
		changed.Draw(f.page, f.take(changed.HeightMM()+exerciseGapMM))
	}
	f.block(p.hardText(f.words, p.student.Hardness), sheet.Style{SizePt: sheet.SmallPt})
	return nil
}

// wordedLoad is a load on a tooth under a heading.
type wordedLoad struct {
	head string
	of   tooth.Member
	load tooth.Load
}

// wordedTable has loads beside each other, a component a row: in every language there is room for the words.
func (p answerPage) wordedTable(f *flow, loads ...wordedLoad) sheet.Table {
	const labelMM, widestMM = 27, 50
	t := sheet.Table{RowMM: 4.3, Columns: []sheet.Column{{WidthMM: labelMM}}}
	heads := p.loadHeads()
	for i := range loadOrder {
		t.Rows = append(t.Rows, []string{strings.ReplaceAll(heads[i], "\n", ", ")})
	}
	for _, one := range loads {
		t.Columns = append(t.Columns, sheet.Column{Head: one.head, WidthMM: min(widestMM, (f.area.Width()-labelMM)/float64(len(loads))), Align: sheet.Right})
		for i, text := range p.inWords(one.of, one.load) {
			t.Rows[i] = append(t.Rows[i], text)
		}
	}
	return t
}

// table is one of numbers with a name in front.
func (p answerPage) table(f *flow, head string) sheet.Table {
	t := sheet.Table{RowMM: 4.6, Columns: []sheet.Column{{Head: head}}}
	for i, h := range p.loadHeads() {
		t.Columns = append(t.Columns, sheet.Column{Head: h, WidthMM: [...]float64{21, 18, 19, 26, 35, 24}[i], Align: sheet.Right})
	}
	t.Fill(0, f.area.Width())
	return t
}

// inWords are the loads on a tooth, such as "0.43 intrusive".
func (p answerPage) inWords(of tooth.Member, l tooth.Load) []string {
	var cells []string
	for _, k := range loadOrder {
		cells = append(cells, worded(p.words, l.Component(k), 2, p.sense(of, k)))
	}
	return cells
}

// signed are the loads on the axes.
func signed(w *words.Book, l tooth.Load) []string {
	var cells []string
	for _, k := range loadOrder {
		cells = append(cells, w.Number(l.Component(k), 2))
	}
	return cells
}

// answers are the answers to the questions.
func (p answerPage) answers(f *flow) []string {
	a, first := p.student.Answer, p.job.Evaluation.Record.Positions[0]
	one := f.say("1. None: no couple that tips a tooth is worth naming.")
	if a.Class != 0 {
		one = f.say("1. Class %s: the tipping couples are %s and %s N·mm, the smaller is %s of the larger (%s stands for the class).", a.Class.String(),
			f.words.Number(first.Active.CoupleNMM.Y, 2), f.words.Number(first.Anchor.CoupleNMM.Y, 2),
			f.words.Number(ratioOfCouples(first.Active.CoupleNMM.Y, first.Anchor.CoupleNMM.Y), 2), f.words.Number(a.Class.Ratio(), 1))
	}
	two := f.say("2. The force of the active tooth the other way round, and the couple that the balance leaves it: see the table. Held by nothing it gives way to both.")
	three := f.say("3. Nowhere near the teeth: what the active tooth gets is a couple with hardly any force.")
	if a.HasNothing {
		three = f.say("3. At %s mm from the anchor slot's centre, %s mm from the active one's: there the couple is made up for by force × distance.",
			f.words.Number(a.NothingMM, 1), f.words.Number(math.Abs(a.NothingMM-a.ArmMM.X), 1))
	}
	all := []string{one, two, three}
	switch {
	case a.Bend == 0:
	case !a.Seated:
		all = append(all, f.say("4. With bend %d bent %s farther the spring cannot be seated.", a.Bend, f.words.Degrees(course.WhatIfRad)))
	default:
		k, on := largestChange(first.Active, first.Anchor, a.WhatIf)
		of := [...]tooth.Member{p.job.Case.Teeth.ActiveMember(), p.job.Case.Teeth.AnchorMember()}[on]
		before := [...]tooth.Load{first.Active, first.Anchor}[on].Component(k)
		by := a.WhatIf[on].Component(k) - before
		all = append(all, f.say("4. Bend %d bent %s farther: most of all the %s of tooth %d changes, by %s N·mm, %s. The loads are then:", a.Bend, f.words.Degrees(course.WhatIfRad),
			f.say([...]words.Phrase{"torque", "tipping", "rotation"}[k-tooth.CoupleX]), int(of.Number), f.words.Number(math.Abs(by), 2), p.senseOf(of, k, by)))
	}
	return all
}

// senseOf is which way a couple turns a tooth.
func (p answerPage) senseOf(of tooth.Member, k tooth.Component, v float64) string {
	if k == tooth.CoupleX {
		return p.words.Torque(of, v)
	}
	return p.words.Sense(of, k, v)
}

// ratioOfCouples is the smaller couple over the larger.
func ratioOfCouples(a, b float64) float64 {
	if math.Abs(a) > math.Abs(b) {
		a, b = b, a
	}
	if b == 0 {
		return 0
	}
	return a / b
}

// largestChange is the couple that changes most, and on which of the teeth, 0 for the active one: forces change by
// some hundredths of a newton only.
func largestChange(active, anchor tooth.Load, now [2]tooth.Load) (k tooth.Component, on int) {
	most := -1.0
	for i, before := range [...]tooth.Load{active, anchor} {
		for c := tooth.CoupleX; c <= tooth.CoupleZ; c++ {
			if by := math.Abs(now[i].Component(c) - before.Component(c)); by > most {
				most, k, on = by, c, i
			}
		}
	}
	return k, on
}

// hardText says how hard a spring is.
func (s speech) hardText(w *words.Book, h course.Hardness) string {
	return s.say("How hard: %d bends, the largest %s; of 100 springs bent by a student's hand (±5° a bend, ±1 mm a straight) %s meet the target; the most exacting bend alone may be %s off.",
		h.Bends, w.Degrees(h.LargestAngleRad), words.InHundred(h.Share), w.Degrees(h.LeastToleranceRad))
}

// keys lays out the keys of all students.
func (c Course) keys() (*sheet.Document, error) {
	f, all, err := c.begin()
	if err != nil {
		return nil, err
	}
	f.top.head = headOf(f.words, all[0].job.Case, f.say("For the teacher: the keys of all students."))
	f.top.head.name = f.say("Keys %s", c.Class.Case.Code)
	f.newPage("Keys")
	body := sheet.Style{SizePt: sheet.BodyPt}
	t := sheet.Table{RowMM: 4.4, Columns: []sheet.Column{
		{Head: f.say("code"), WidthMM: 24},
		{Head: f.say("distance\nmm"), WidthMM: 14, Align: sheet.Right},
		{Head: f.say("height\nmm"), WidthMM: 12, Align: sheet.Right},
		{Head: f.say("force\nN"), WidthMM: 12, Align: sheet.Right},
		{Head: f.say("along arch\nN"), WidthMM: 21, Align: sheet.Right},
		{Head: f.say("couple\nactive"), WidthMM: 14, Align: sheet.Right},
		{Head: f.say("couple\nanchor"), WidthMM: 14, Align: sheet.Right},
		{Head: f.say("class"), WidthMM: 10, Align: sheet.Right},
		{Head: f.say("no couple\nat mm"), WidthMM: 14, Align: sheet.Right},
		{Head: f.say("bend more:\nactive"), WidthMM: 17, Align: sheet.Right},
		{Head: "\n" + f.say("anchor"), WidthMM: 13, Align: sheet.Right},
		{Head: f.say("in 100"), Align: sheet.Right},
	}}
	t.Fill(len(t.Columns)-1, f.area.Width())
	number := func(v float64, decimals int) string { return f.words.Number(v, decimals) }
	var rows [][]string
	for _, s := range c.Class.Students {
		first, a := s.Evaluation.Record.Positions[0], s.Answer
		class, nothing, active, anchor := a.Class.String(), "–", "–", "–"
		if class == "" {
			class = "–"
		}
		if a.HasNothing {
			nothing = number(a.NothingMM, 1)
		}
		if a.Seated {
			active, anchor = number(a.WhatIf[0].CoupleNMM.Y, 2), number(a.WhatIf[1].CoupleNMM.Y, 2)
		}
		rows = append(rows, []string{
			s.Code(), number(a.ArmMM.X, 2), number(a.ArmMM.Z, 2), number(first.Active.ForceN.Z, 2), number(first.Active.ForceN.X, 2),
			number(first.Active.CoupleNMM.Y, 2), number(first.Anchor.CoupleNMM.Y, 2), class, nothing, active, anchor, words.InHundred(s.Hardness.Share),
		})
	}
	f.drawRows(t, rows, f.say("Keys"), f.say("Force on the active tooth, tipping couples in N·mm, all on the axes of the sheets, at the start."))
	f.take(exerciseGapMM)
	if a := c.Class.Students[0].Answer; a.Bend > 0 {
		f.block(f.say("Bend more: bend %d bent %s farther. In 100: springs bent by a student's hand that meet the target.", a.Bend, f.words.Degrees(course.WhatIfRad)), body)
	}
	f.block(f.say("How hard they usually are, which all of them come near to. %s", f.hardText(f.words, c.Class.Hardness)), body)
	if apart := c.Class.LeastApart; apart != (course.Apart{}) {
		f.block(f.say("The two sheets that are most alike differ by %s at a bend and %s mm at a straight: one bent over the other fails by the bands.", f.words.Degrees(apart.AngleRad), f.words.Number(apart.LengthMM, 1)), body)
	}
	return f.finished()
}

// drawRows draws a table that may go on on further pages, with its heading on each.
func (f *flow) drawRows(t sheet.Table, rows [][]string, title, remark string) {
	for len(rows) > 0 {
		f.need(headingMM + t.HeadMM() + 3*t.RowMM)
		f.heading(title, remark)
		t.Rows = rows[:min(len(rows), max(1, t.RowsIn(f.leftMM())))]
		rows = rows[len(t.Rows):]
		t.Draw(f.page, f.take(t.HeightMM()))
	}
}
