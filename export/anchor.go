package export

import (
	"errors"
	"slices"
	"strings"

	"springwright/design/effect"
	"springwright/design/tooth"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// outcomes are what becomes of both teeth, where anything is planned.
func (s *subject) outcomes() []effect.AnchorOutcome {
	if s.job.Teeth == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(s.job.Teeth.Anchors), func(o effect.AnchorOutcome) bool {
		return errors.Is(o.Fault, effect.ErrNoDrift) || o.Fault == nil && len(o.Drift.Steps) == 0
	})
}

// anchorNote says how far the tooth gets and what the anchor has lost by then.
type anchorNote struct{ *subject }

func (n anchorNote) text() string {
	var list []string
	for _, o := range n.outcomes() {
		list = append(list, n.words.AnchorOutcome(n.job.Case.Teeth, o)+".")
	}
	if len(list) == 0 {
		return ""
	}
	return n.say("Predicted for both teeth, an estimate. %s", strings.Join(list, " "))
}

// heightMM is what the note takes.
func (n anchorNote) heightMM(f *flow) float64 {
	text := n.text()
	if text == "" {
		return 0
	}
	return f.doc.HeightOf(text, f.area.Width(), sheet.Style{SizePt: sheet.BodyPt}) + afterCheckMM
}

// draw writes the note over the whole width.
func (n anchorNote) draw(f *flow) {
	if text := n.text(); text != "" {
		f.paragraph(text, sheet.Style{SizePt: sheet.BodyPt}, afterCheckMM)
	}
	n.told.anchor = true
}

const anchorApartMM = 3.5 // kept below the table

// anchorBlock holds what becomes of both teeth with the anchor as it is against the next better
// hold.
type anchorBlock struct{ *subject }

// table has a line for each hold. Its columns are as wide as what stands in them.
func (b anchorBlock) table(f *flow) sheet.Table {
	list := b.outcomes()
	if len(list) == 0 {
		return sheet.Table{}
	}
	teeth := b.job.Case.Teeth
	active, anchor := int(teeth.Active), int(teeth.Anchor)
	t := sheet.Table{Columns: []sheet.Column{
		{Head: ""},
		{Align: sheet.Right},
		{WidthMM: 3},
		{Head: b.say("slot of %d goes\nmm", anchor)},
		{Head: b.say("tip of %d", anchor)},
		{Head: b.say("torque of %d", anchor)},
		{Head: b.say("rotation of %d", anchor)},
	}}
	for _, o := range list {
		row := []string{b.words.Anchorage(teeth, o.Anchorage), "–", "", b.words.AnchorSlot(teeth, o), "–", "–", "–"}
		if o.Fault == nil {
			d := o.Drift
			t.Columns[1].Head = b.say("%d comes, mm\nof %s", active, b.words.Number(d.PlannedMM, 2))
			row[1] = b.words.Number(d.ReachedMM, 2)
			if d.Turns {
				t.Columns[1].Head = b.say("%d turns, °\nof %s", active, b.words.Number(r3.Norm(d.Planned)/degree, 1))
				row[1] = b.words.Number(d.ReachedRad/degree, 1)
			}
			row[4], row[5], row[6] = b.words.Turn(teeth.AnchorMember(), d.AnchorLost().Rotation)
		}
		t.Rows = append(t.Rows, row)
	}
	const apartMM = 3.0
	for i := range t.Columns {
		c := &t.Columns[i]
		for line := range strings.SplitSeq(c.Head, "\n") {
			c.WidthMM = max(c.WidthMM, f.doc.WidthOf(line, sheet.Style{SizePt: sheet.SmallPt})+apartMM)
		}
		for _, row := range t.Rows {
			c.WidthMM = max(c.WidthMM, f.doc.WidthOf(row[i], sheet.Style{SizePt: sheet.BodyPt})+apartMM)
		}
	}
	return t
}

// remark says what the figures are, and what the holds are reckoned by.
func (b anchorBlock) remark() string {
	text := b.say("An estimate, at the end of the way.")
	if b.job.Case.Anchorage.HoldRatio > 0 {
		return text + " " + b.say("The anchor's hold is as given in the case.")
	}
	guess, moves := tooth.RootSurfaceOf(b.job.Case.Teeth.Active).Guess, false
	for _, o := range b.outcomes() {
		moves = moves || o.Anchorage.Moves()
		c := b.job.Case
		c.Anchorage = o.Anchorage
		for _, r := range c.AnchorRoots() {
			guess = guess || r.Surface.Guess
		}
	}
	switch {
	case !moves:
		return text
	case guess:
		return text + " " + b.say("The more root surface, the less a tooth moves; some surfaces are from memory.")
	}
	return text + " " + b.say("The more root surface, the less a tooth moves; the surfaces are published ones.")
}

// heightMM is what the block takes.
func (b anchorBlock) heightMM(f *flow) float64 {
	t := b.table(f)
	if len(t.Rows) == 0 {
		return 0
	}
	return headingMM + t.HeightMM() + anchorApartMM
}

func (b anchorBlock) draw(f *flow) {
	t := b.table(f)
	if len(t.Rows) == 0 {
		return
	}
	f.need(b.heightMM(f))
	f.heading(b.say("What becomes of both teeth"), b.remark())
	t.Draw(f.page, f.take(t.HeightMM()+anchorApartMM))
}
