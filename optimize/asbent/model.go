package asbent

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/optimize"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrReadings means that no spring fits the readings.
var ErrReadings = errors.New("no spring fits what was measured")

// Job is a spring that was bent and measured.
type Job struct {
	Case     design.Case // CaseOf(Spring) where nobody knows what the spring is for
	Spring   spring.Spring
	Measured spring.Measured
	// Springs are bent in trial, as the measured one may be, for bands and chances; 0: UsualSprings, in Continue
	// UsualSoFar.
	Springs int
	// BendsAlone leaves the seat where it is drawn: of a spring that only lies on the table, as a student's.
	BendsAlone bool
	Seed       uint64
	Workers    int // 0: one for each core; the answer is the same on any number
}

// UsualSprings tell a chance to 3 per cent, one standard deviation, in a second or two (choice).
const UsualSprings = 240

func (j Job) springs() int {
	if j.Springs <= 0 {
		return UsualSprings
	}
	return j.Springs
}

func (j Job) workers() int {
	if j.Workers <= 0 {
		return runtime.GOMAXPROCS(0)
	}
	return j.Workers
}

// CaseOf is what a spring file tells of its case: its slots, its teeth and its travel, without a target
// and with a skilled hand.
func CaseOf(s spring.Spring) design.Case {
	c := design.Case{
		Title: s.Title, Teeth: s.Teeth, Wire: s.Wire, Heading: s.Heading, Positions: s.Positions, Slide: s.Slide,
		Bender: design.SkilledBender(),
	}
	c.AnchorSlot.LengthMM, c.ActiveSlot.LengthMM = s.AnchorSlotLengthMM, s.ActiveSlotLengthMM
	place := func(seat spring.Seat) design.Placement {
		centre := s.Centre(seat.Pose(s.Heading))
		return design.Placement{CentreMM: r3.Add(centre, r3.Vec{X: s.AnchorSlotLengthMM / 2}), Rotation: seat.Rotation}
	}
	c.Now, c.Goal = place(s.Start), place(s.End)
	return c
}

// CaseFor is a case as it holds for a spring that was made for it: with the wire that was taken, and seated as
// the spring is.
func CaseFor(c design.Case, made spring.Spring) design.Case {
	c.Heading, c.Wire, c.Slide = made.Heading, made.Wire, made.Slide
	return c
}

// model is what is known of the spring before anything was measured.
type model struct {
	job    Job
	spring spring.Spring // as drawn
	drawn  spring.Steps
	hand   hand.Hand // as drawn; nothing was put right yet
	end    beam.Pose // of the free wire as drawn
	room   optimize.Room
}

func newModel(j Job) (*model, error) {
	if j.Spring.Wire.IsSuperelastic() {
		return nil, hand.ErrSuperelastic
	}
	c := j.Case
	c.Bender = bender(c.Bender)
	c.Positions = j.Spring.Positions
	j.Case = c
	m := &model{job: j, spring: j.Spring, drawn: j.Spring.Path.Steps(), end: j.Spring.Rod().UnloadedEnd(beam.Origin())}
	m.hand = hand.New(c, j.Spring)
	if c.Limits.LoopHeightMM > 0 { // else nobody has told the room
		m.room = optimize.RoomOf(c, j.Spring)
	}
	for _, r := range j.Measured.Steps {
		if r.Step < 0 || r.Step >= len(m.drawn) {
			return nil, fmt.Errorf("%w: step %d of %d", ErrReadings, r.Step, len(m.drawn))
		}
	}
	return m, nil
}

// bender is the hand whose work is measured: one that is never off would leave nothing to explain a
// reading by, and what was put right is told by the readings.
func bender(b design.Bender) design.Bender {
	usual := design.SkilledBender()
	if b.AngleSDRad == 0 {
		b.AngleSDRad = usual.AngleSDRad
	}
	if b.LengthSDMM == 0 {
		b.LengthSDMM = usual.LengthSDMM
	}
	b.Checks = false
	return b
}

// cameOut is the spring of a number for each source.
func (m *model) cameOut(z []float64) hand.CameOut { return m.hand.CameOut(z) }

// hasTarget tells whether anything is asked of the loads.
func (m *model) hasTarget() bool { return len(m.hand.Terms()) > 0 }

// each calls do for 0 to n−1 on the job's goroutines, each with a bench of its own. Results go by index.
func (m *model) each(ctx context.Context, n int, do func(b *hand.Bench, i int)) error {
	return inParallel(ctx, min(m.job.workers(), n), n, m.hand.NewBench, do)
}

// off is how far a free end lies off from another: a shift, mm, and a rotation vector, rad.
func off(from, to beam.Pose) [6]float64 {
	shift, turn := r3.Sub(to.At, from.At), beam.RotationBetween(from, to)
	return [6]float64{shift.X, shift.Y, shift.Z, turn.X, turn.Y, turn.Z}
}

// freeEnd is where the free end of a wire lies.
func freeEnd(steps spring.Steps) beam.Pose {
	pose := beam.Origin()
	for _, piece := range steps.Pieces() {
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
	}
	return pose
}

// finite tells whether all numbers are.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
