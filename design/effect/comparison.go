package effect

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Candidate is one of several springs that are held against each other over one travel.
type Candidate struct {
	Name       string // short, such as "loop"
	Title      string // in full
	Spring     spring.Spring
	Evaluation solve.Evaluation
	// Withheld says why there are no figures; then Evaluation is empty.
	Withheld error
	// Anchor is what becomes of both teeth with the anchor of the case; nil before WithAnchor has
	// worked it out, and where figures are withheld.
	Anchor *AnchorOutcome
}

// NewCandidate evaluates a spring. One that cannot be solved has no figures, and neither
// has one that yields without a law for what follows: its first seat sets it permanently,
// so that elastic figures would be wrong over the whole travel. The error is that of ctx.
func NewCandidate(ctx context.Context, name, title string, s spring.Spring) (Candidate, error) {
	c := Candidate{Name: name, Title: title, Spring: s}
	e, err := solve.Evaluate(ctx, s, solve.Options{})
	if stopped := ctx.Err(); stopped != nil {
		return Candidate{}, stopped
	}
	switch {
	case err == nil:
		c.Evaluation = e
	case errors.Is(err, solve.ErrYield):
		c.Withheld = fmt.Errorf("%w; it stays elastic for no more than %.2f mm of the travel", err, elasticMM(e.Record))
	default:
		c.Withheld = fmt.Errorf("it cannot be solved: %w", err)
	}
	return c, nil
}

// WithAnchor is the candidate with what becomes of both teeth under it, the anchor held as the case
// has it: the same for all candidates. The error is that of ctx.
func (c Candidate) WithAnchor(ctx context.Context, wanted design.Case) (Candidate, error) {
	if c.Withheld != nil {
		return c, nil
	}
	outcome, err := PredictAnchor(ctx, wanted, c.Spring)
	c.Anchor = &outcome
	return c, err
}

// elasticMM is the longest travel left with which the wire does not yield, from an elastic
// record.
func elasticMM(r spring.Record) float64 {
	elastic := math.Inf(1)
	for i, p := range r.Positions {
		if p.StressRatio <= 1 {
			continue
		}
		elastic = 0
		if i+1 < len(r.Positions) {
			next := r.Positions[i+1]
			if next.StressRatio <= 1 {
				share := (p.StressRatio - 1) / (p.StressRatio - next.StressRatio)
				elastic = p.TravelLeftMM + share*(next.TravelLeftMM-p.TravelLeftMM)
			}
		}
	}
	return elastic
}

// Compared is a component of the load on a tooth by which candidates are held against each
// other, and the sign that it is shown with.
type Compared struct {
	Component tooth.Component
	Sign      float64
}

// ComparedLoads lists the component that drives the travel, above 0 where it does so, and the
// couple that tips, where that is another.
func ComparedLoads(c design.Case) []Compared {
	main, sign := c.SpringFor(nil).Travel().Component()
	list := []Compared{{main, sign}}
	if main != tooth.CoupleY {
		list = append(list, Compared{tooth.CoupleY, c.Teeth.ClinicalSign(tooth.CoupleY)})
	}
	return list
}

// Of is the component of a load with its sign.
func (c Compared) Of(l tooth.Load) float64 { return c.Sign * l.Component(c.Component) }

// Sense is the way in which it is above 0, such as "distal".
func (c Compared) Sense(of tooth.Member) string { return of.Sense(c.Component, c.Sign) }

// Positions are those of the record, none where the figures are withheld.
func (c Candidate) Positions() []spring.Position { return c.Evaluation.Record.Positions }

// AnchorEffect says in a sentence what a candidate does to the anchor tooth, from its
// figures at both ends of the travel, beside those of a reference where that has any.
func (c Candidate) AnchorEffect(teeth tooth.Pair, reference Candidate) string {
	positions := c.Positions()
	if len(positions) == 0 {
		return "No figures: " + c.Withheld.Error() + "."
	}
	first, last := positions[0], positions[len(positions)-1]
	text := fmt.Sprintf("At the start tooth %d feels %s", int(teeth.Anchor), anchorLoadText(teeth.AnchorMember(), first.Anchor))
	if other := reference.Positions(); len(other) > 0 && reference.Name != c.Name {
		text += timesText(first.Anchor, other[0].Anchor, reference.Name)
	}
	text += classText(first, teeth) + "; "
	end := anchorLoadText(teeth.AnchorMember(), last.Anchor)
	switch {
	case end == nothingText:
		text += "nothing is left of it at the end of the travel"
	case ClassOf(last) == ClassOf(first):
		text += "at the end of the travel " + end
	default:
		text += "at the end of the travel " + end + classText(last, teeth)
	}
	return text + "."
}

const nothingText = "next to nothing"

// anchorLoadText names the forces and couples worth naming, those seen from the cheek first.
func anchorLoadText(of tooth.Member, l tooth.Load) string {
	var parts []string
	add := func(format string, least float64, components ...tooth.Component) {
		for _, k := range components {
			// A smaller one is named only where it is a fifth of the largest of its kind.
			least = math.Max(least, math.Abs(l.Component(k))/5)
		}
		for _, k := range components {
			if v := l.Component(k); math.Abs(v) >= least {
				parts = append(parts, fmt.Sprintf(format, math.Abs(v), of.Sense(k, v)))
			}
		}
	}
	add("%.2f N %s", restN, tooth.ForceZ, tooth.ForceX, tooth.ForceY)
	add("%.1f N·mm %s", restNMM, tooth.CoupleY, tooth.CoupleX, tooth.CoupleZ)
	return listed(parts, nothingText)
}

// listed joins parts by commas and "and".
func listed(parts []string, none string) string {
	switch n := len(parts); n {
	case 0:
		return none
	case 1:
		return parts[0]
	default:
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
}

// timesText compares sizes of force and couple with those of the reference.
func timesText(l, reference tooth.Load, name string) string {
	var parts []string
	if of := r3.Norm(reference.ForceN); of >= restN {
		parts = append(parts, fmt.Sprintf("%.1f times the force", r3.Norm(l.ForceN)/of))
	}
	if of := r3.Norm(reference.CoupleNMM); of >= restNMM {
		parts = append(parts, fmt.Sprintf("%.1f times the couple", r3.Norm(l.CoupleNMM)/of))
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + listed(parts, "") + " of the " + name + ")"
}

// classText says what the geometry class means for the two teeth: nothing where the couples
// that tip them, which it is about, are small beside others.
func classText(p spring.Position, teeth tooth.Pair) string {
	var tipping, other float64
	for _, l := range [...]tooth.Load{p.Active, p.Anchor} {
		tipping = math.Max(tipping, math.Abs(l.CoupleNMM.Y))
		other = math.Max(other, math.Hypot(l.CoupleNMM.X, l.CoupleNMM.Z))
	}
	if tipping < other/5 {
		return ""
	}
	class := ClassOf(p)
	word := teeth.CoupleYWord(p.Anchor.CoupleNMM.Y)
	switch {
	case class == 0:
		return ", and neither tooth is tipped by a couple"
	case class <= 3:
		return fmt.Sprintf(", and tooth %d is turned the same way, %s (class %v)", int(teeth.Active), teeth.CoupleYWord(p.Active.CoupleNMM.Y), class)
	case class == 4 && math.Abs(p.Anchor.CoupleNMM.Y) >= math.Abs(p.Active.CoupleNMM.Y):
		return fmt.Sprintf(", and carries the couple all but alone (class %v)", class)
	case class == 4:
		return fmt.Sprintf(", while tooth %d carries the couple all but alone (class %v)", int(teeth.Active), class)
	default:
		return fmt.Sprintf(", turned %s while tooth %d is turned %s (class %v)", word, int(teeth.Active), teeth.CoupleYWord(p.Active.CoupleNMM.Y), class)
	}
}
