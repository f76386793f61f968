package effect

import (
	"context"
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pace is how fast the active tooth moves: PerDay, mm or, where the goal is a turn, rad, on the way to the
// goal while the load that drives it there is Push, N or N·mm.
type Pace struct{ PerDay, Push float64 }

// paceExponent is how the speed grows with the load: 18 g moved canines 0.87 and 60 g 1.27 mm a month
// (Iwasaki et al., AJODO 2000;117:175, from memory), which is a power of 0.31.
const paceExponent = 0.3

// mobility is mm/N of the active tooth in a day while a load pushes so.
func (p Pace) mobility(g driftGoal, push float64) float64 {
	least := math.Pow(mostMobility, -1/(1-paceExponent)) * p.Push
	return p.PerDay * g.perPush / p.Push * math.Pow(max(math.Abs(push), least)/p.Push, paceExponent-1)
}

// Course follows both teeth through time, under one spring after another. Its jaw is that of the
// beginning: the axes of the first spring as it was seated.
type Course struct {
	spring           spring.Spring // the one that is worn, seated where it was
	wire             *solve.SeatFollower
	goal             driftGoal
	leverMM2         float64
	pace             Pace
	start            beam.Pose
	startCentre      r3.Vec
	end              beam.Pose // of the wire's entry into the active slot
	centre           r3.Vec    // of resistance of the active tooth
	held             anchorPlace
	onActive, onBase tooth.Load // in the jaw
}

// Standing is where both teeth stand on a course.
type Standing struct {
	// Seat is the wire's entry into the active slot as seen from the anchor slot.
	Seat spring.Seat
	// ActiveMM and ActiveTurn are how far the active slot's centre and the tooth have moved in the jaw.
	ActiveMM, ActiveTurn r3.Vec
	Anchor               AnchorShift
	OnActive, OnAnchor   tooth.Load // about the slots' centres, in the jaw
	// Push is the load towards the goal, N or N·mm.
	Push float64
	// Closed is how much of the way to the goal is done, as seen from the anchor slot: mm or rad.
	Closed float64
	// Centre is how far the active tooth's centre of resistance has come towards the goal, mm: behind Closed
	// where the crown has gone ahead of the root.
	Centre float64
}

// NewCourse seats the first spring of a course at its Start. offset is from the active slot's centre to the
// tooth's centre of resistance there. The errors are those of PredictBothDrift.
func NewCourse(s spring.Spring, offset r3.Vec, leverMM2 float64, anchor AnchorBody, pace Pace) (*Course, error) {
	goal, err := goalOf(s, offset, leverMM2)
	if err != nil {
		return nil, err
	}
	if !(pace.PerDay > 0) || !(pace.Push > 0) {
		return nil, fmt.Errorf("pace %.3g a day at %.3g (both must be above 0)", pace.PerDay, pace.Push)
	}
	start := s.Start.Pose(s.Heading)
	c := &Course{
		spring: s, goal: goal, leverMM2: leverMM2, pace: pace,
		start: start, end: start, startCentre: r3.Add(s.Centre(start), offset), held: *newAnchorPlace(s, anchor),
	}
	c.centre = c.startCentre
	return c, c.seat(s)
}

// GoalOf is what a spring's travel is to a course: whether it is a turn more than a shift, and how large it
// is, mm or rad.
func GoalOf(s spring.Spring, offset r3.Vec, leverMM2 float64) (turns bool, size float64, err error) {
	g, err := goalOf(s, offset, leverMM2)
	return g.turns, g.size, err
}

// Push is what a load at the centre of resistance does towards the goal of a spring's travel: N, or N·mm
// where that is a turn.
func Push(s spring.Spring, offset r3.Vec, leverMM2 float64, onActive tooth.Load) (float64, error) {
	g, err := goalOf(s, offset, leverMM2)
	return g.push(onActive.AtResistance(offset)), err
}

// push is a load, about the centre of resistance, towards the goal.
func (g driftGoal) push(atCentre tooth.Load) float64 {
	if g.turns {
		return r3.Dot(g.about, atCentre.CoupleNMM)
	}
	return r3.Dot(g.along, atCentre.ForceN)
}

// SetPace changes how fast the tooth moves from here on.
func (c *Course) SetPace(p Pace) { c.pace = p }

// Seat takes the spring out, and seats another one where the teeth stand now.
func (c *Course) Seat(s spring.Spring) error {
	s.Start = spring.SeatOf(c.held.seen(c.end), s.Heading)
	return c.seat(s)
}

func (c *Course) seat(s spring.Spring) (err error) {
	c.spring = s
	if c.wire, err = solve.NewSeatFollower(s); err != nil {
		return err
	}
	c.onActive, c.onBase, err = c.loads(c.end, &c.held)
	return err
}

// loads are those on both teeth, in the jaw.
func (c *Course) loads(end beam.Pose, held *anchorPlace) (onActive, onAnchor tooth.Load, err error) {
	hung := end
	if c.spring.HookSlides() { // see PredictBothDrift
		hung.D1, hung.D2, hung.D3 = c.start.D1, c.start.D2, c.start.D3
	}
	onActive, onAnchor, err = c.wire.Follow(held.seen(end), held.seen(hung))
	if err != nil {
		return onActive, onAnchor, fmt.Errorf("the spring is not followed to where the teeth go: %w", err)
	}
	return held.inJaw(onActive), held.inJaw(onAnchor), nil
}

// move is how both teeth move: a shift of each centre of resistance and a turn about it.
type move struct{ shift, turn, anchorShift, anchorTurn r3.Vec }

func (m move) plus(other move, weight float64) move {
	add := func(a, b r3.Vec) r3.Vec { return r3.Scale(weight, r3.Add(a, b)) }
	return move{add(m.shift, other.shift), add(m.turn, other.turn), add(m.anchorShift, other.anchorShift), add(m.anchorTurn, other.anchorTurn)}
}

func (m move) scaled(by float64) move {
	return move{r3.Scale(by, m.shift), r3.Scale(by, m.turn), r3.Scale(by, m.anchorShift), r3.Scale(by, m.anchorTurn)}
}

// speed is the move of a day under loads.
func (c *Course) speed(end beam.Pose, centre r3.Vec, held *anchorPlace, onActive, onAnchor tooth.Load) move {
	at := onActive.AtResistance(r3.Sub(centre, c.spring.Centre(end)))
	mobility := c.pace.mobility(c.goal, c.goal.push(at))
	m := move{shift: r3.Scale(mobility, at.ForceN), turn: r3.Scale(mobility/c.leverMM2, at.CoupleNMM)}
	m.anchorShift, m.anchorTurn = held.give(mobility, onAnchor)
	return m
}

// moved are the places after a move.
func (c *Course) moved(m move) (end beam.Pose, centre r3.Vec, held anchorPlace) {
	arm := r3.Sub(c.end.At, c.centre)
	centre = r3.Add(c.centre, m.shift)
	end = c.end.Turned(m.turn)
	end.At = r3.Add(centre, beam.Rotate(m.turn, arm))
	held = c.held
	held.move(m.anchorShift, m.anchorTurn)
	return end, centre, held
}

// Steps in time are cut until Euler's and Heun's way differ by less than these (choice: far below what is
// measured in a mouth); a way that takes more than mostCourseSteps goes nowhere.
const (
	courseMM        = 0.004
	courseRad       = 0.04 * math.Pi / 180
	mostCourseSteps = 3000
)

// Wear lets the spring work for some days. The error is that of ctx, or that the spring is not followed.
func (c *Course) Wear(ctx context.Context, days float64) error {
	step := min(days, 2)
	for done, n := 0.0, 0; done < days-1e-9; n++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		if n > mostCourseSteps {
			return fmt.Errorf("the way of the teeth is not followed for %.0f days", days)
		}
		step = min(step, days-done)
		first := c.speed(c.end, c.centre, &c.held, c.onActive, c.onBase).scaled(step)
		end, centre, held := c.moved(first)
		onActive, onAnchor, err := c.loads(end, &held)
		if err != nil && n < mostCourseSteps && step > days/mostCourseSteps {
			step /= 4
			continue
		}
		if err != nil {
			return err
		}
		second := c.speed(end, centre, &held, onActive, onAnchor).scaled(step)
		off := max(
			max(r3.Norm(r3.Sub(first.shift, second.shift)), r3.Norm(r3.Sub(first.anchorShift, second.anchorShift)))/courseMM,
			max(r3.Norm(r3.Sub(first.turn, second.turn)), r3.Norm(r3.Sub(first.anchorTurn, second.anchorTurn)))/courseRad,
		) / 2
		if off > 1 && step > days/mostCourseSteps {
			step *= max(0.2, 0.8/math.Sqrt(off))
			continue
		}
		c.end, c.centre, c.held = c.moved(first.plus(second, 0.5))
		if c.onActive, c.onBase, err = c.loads(c.end, &c.held); err != nil {
			return err
		}
		done += step
		step *= min(4, 0.8/math.Sqrt(max(off, 0.04)))
	}
	return nil
}

// Now is where both teeth stand.
func (c *Course) Now() Standing {
	seen := c.held.seen(c.end)
	s := Standing{
		Seat:     spring.SeatOf(seen, c.spring.Heading),
		ActiveMM: r3.Sub(c.spring.Centre(c.end), c.spring.Centre(c.start)), ActiveTurn: beam.RotationBetween(c.start, c.end),
		Anchor: c.held.shift(), OnActive: c.onActive, OnAnchor: c.onBase,
		Push: c.goal.push(c.onActive.AtResistance(r3.Sub(c.centre, c.spring.Centre(c.end)))),
	}
	s.Closed = r3.Dot(c.goal.along, r3.Sub(c.spring.Centre(seen), c.spring.Centre(c.start)))
	s.Centre = r3.Dot(c.goal.along, r3.Sub(c.centre, c.startCentre))
	if c.goal.turns {
		s.Closed = r3.Dot(c.goal.about, beam.RotationBetween(c.start, seen))
	}
	return s
}
