// Package export makes what the user takes to the bench: the true-scale sheet as PDF and
// SVG, the bend table as CSV and as text. Nothing here writes files.
package export

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design/effect"
	"springwright/design/photo"
	"springwright/design/report"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Job is one spring to be put on paper.
type Job struct {
	Frame
	report.Report        // where it has a report of both teeth, there is a page of it
	Pages         []Page // in any order; none: the usual ones
	Stages        bool   // a page more: the wire after each bend
	Twin          bool   // a page more: the mirrored spring for the other side
}

// Paper is a paper size, always upright.
type Paper int

// The paper sizes.
const (
	A4 Paper = iota
	Letter
)

// ParsePaper reads "a4" or "letter", in capitals or not.
func ParsePaper(name string) (Paper, error) {
	for _, p := range [...]Paper{A4, Letter} {
		if strings.EqualFold(name, p.String()) {
			return p, nil
		}
	}
	return A4, fmt.Errorf("paper %q is unknown (allowed: a4, letter)", name)
}

// String is "A4" or "Letter".
func (p Paper) String() string {
	if p == Letter {
		return "Letter"
	}
	return "A4"
}

// SizeMM is the width and height of the paper: ISO 216 and ANSI/ASME Y14.1.
func (p Paper) SizeMM() (width, height float64) {
	if p == Letter {
		return 215.9, 279.4
	}
	return 210, 297
}

// ErrJob says that a job cannot be drawn.
var ErrJob = errors.New("this spring cannot be put on paper")

// check returns all faults of a job at once.
func (j Job) check() error {
	var found faults
	fault := found.add
	checkTeeth(j.Case.Teeth, fault)
	j.Frame.check(fault)
	if len(j.Evaluation.Record.Positions) == 0 {
		fault("the record has no positions")
	}
	if n := len(j.Evaluation.Seated); n < 2 || n != len(j.Evaluation.Samples) {
		fault("the seated shape has %d poses for %d samples (allowed: at least 2, one each)", n, len(j.Evaluation.Samples))
	}
	if !(j.Spring.Wire.HeightMM() > 0) || !(j.Spring.Wire.DepthMM() > 0) {
		fault("the wire has no size")
	}
	if !(j.Spring.Path.WireLengthMM() > 0) {
		fault("the path has no length")
	}
	if !j.finite() || !finiteShortfall(j.Spring.Shortfall) {
		fault("a number is not finite")
	}
	for _, p := range j.Pages {
		if p < 0 || int(p) >= len(pageKinds) {
			fault("page %d is unknown", int(p))
		}
		if p == TeethPage && j.Teeth == nil {
			fault("the page %q needs a report of both teeth", p)
		}
		if p == CheckPage {
			if _, err := photo.ExpectOf(j.Spring); err != nil {
				fault("the page %q is for springs that are read from a picture: %w", p, err)
			}
		}
	}
	return found.err()
}

// checkTeeth finds faults of the teeth that the head of a page names.
func checkTeeth(teeth tooth.Pair, fault func(format string, args ...any)) {
	for _, t := range [...]tooth.Number{teeth.Anchor, teeth.Active} {
		if !t.Valid() {
			fault("tooth %d is not a tooth of ISO 3950 (11 to 18, 21 to 28, 31 to 38, 41 to 48)", int(t))
		}
	}
	if teeth.Active == teeth.Anchor || !teeth.SameQuadrant() {
		fault("anchor %d and active tooth %d must be two teeth of one quadrant", int(teeth.Anchor), int(teeth.Active))
	}
}

// finite tells whether every number that is drawn or printed is finite.
func (j Job) finite() bool {
	sum := j.Spring.AnchorSlotLengthMM + j.Spring.ActiveSlotLengthMM + j.Spring.Wire.HeightMM() + j.Spring.Wire.DepthMM() +
		j.Case.AnchorSlot.HeightMM + j.Case.ActiveSlot.HeightMM + j.Evaluation.Gauge.ForceN + j.Evaluation.Gauge.TravelMM
	add := func(vs ...r3.Vec) {
		for _, v := range vs {
			sum += math.Abs(v.X) + math.Abs(v.Y) + math.Abs(v.Z)
		}
	}
	for _, s := range j.Spring.Path.Steps() {
		add(r3.Vec{X: s.LengthMM, Y: s.AngleRad, Z: s.RadiusMM})
	}
	for _, p := range j.Evaluation.Seated {
		add(p.At, p.D1, p.D2, p.D3)
	}
	add(j.Spring.Start.AtMM, j.Spring.Start.Rotation, j.Spring.End.AtMM, j.Spring.End.Rotation)
	positions := j.Evaluation.Record.Positions
	if j.Straight != nil {
		positions = slices.Concat(positions, j.Straight.Positions)
	}
	for _, p := range positions {
		add(p.Active.ForceN, p.Active.CoupleNMM, p.Anchor.ForceN, p.Anchor.CoupleNMM, r3.Vec{X: p.TravelLeftMM, Y: p.StressRatio})
	}
	if j.Teeth != nil {
		for _, t := range [...]effect.ToothReport{j.Teeth.Active, j.Teeth.Anchor} {
			add(t.AtResistance.ForceN, t.AtResistance.CoupleNMM, r3.Vec{X: t.Remedy.CoupleNMM, Y: t.Remedy.ForceN})
			for _, m := range t.Movements {
				add(m.RotationAboutMM, r3.Vec{X: m.ForceN, Y: m.MomentNMM})
			}
		}
		for _, s := range j.Teeth.Drift.Steps {
			add(s.ShiftMM, s.Rotation, s.Active.ForceN, s.Active.CoupleNMM)
		}
	}
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
