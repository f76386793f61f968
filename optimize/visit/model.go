package visit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/timeline"
	"springwright/design/tooth"
)

// Job is a case with the visits that stand, the first one that at which its spring was seated.
type Job struct {
	Case   design.Case
	Visits []design.Visit
	// Springs that may be the one worn are solved, for bands and chances; 0: UsualSprings.
	Springs int
	Seed    uint64
	Workers int // 0: one for each core; the answer is the same on any number
}

// UsualSprings are solved where nothing else is asked for.
const UsualSprings = 120 // a band's edges to a tenth of its width, a chance to 4 per cent (choice)

func (j Job) workers() int {
	if j.Workers <= 0 {
		return runtime.GOMAXPROCS(0)
	}
	return j.Workers
}

func (j Job) springs() int {
	if j.Springs <= 0 {
		return UsualSprings
	}
	return j.Springs
}

// ErrNoPlan means that the first spring does not push the tooth towards its goal.
var ErrNoPlan = errors.New("the spring does not push the tooth towards its goal")

const (
	degree = math.Pi / 180
	month  = 30.4 // days
	// How fast a tooth goes at the planned load, and by which factor that may be off, one standard deviation
	// (from memory: intrusion 0.3 to 0.5 mm a month, along the arch 0.5 to 1.3, turns 2 to 6°).
	intrusionMM, shiftMM, turnRad = 0.4, 0.8, 4 * degree
	rateLogSD                     = 0.6
	// A month differs from the next by this factor beside (choice).
	scatterLogSD = 0.3
	// The hold of the anchor beside that of the active tooth, reckoned by surfaces of roots that differ by a
	// fifth between patients (30 patients, Chiang Mai Dent J 2019;40(1):57–66, from memory) and by bone that
	// nobody has seen (choice).
	holdLogSD = 0.5
	// A centre of resistance that the case file tells is known to this (choice).
	toldCentreMM = 0.7
)

// guessedCentreMM is the spread where no other is known: that of the upper first molar, inward, distal and
// apical (computed tomography of 50 molars).
var guessedCentreMM = [3]float64{1.39, 2.7, 1.66}

// parameter is a guess that what is seen may change: value = prior + sd·z, or prior·exp(sd·z).
type parameter struct {
	kind      timeline.FitKind
	prior, sd float64
	ratio     bool
}

func (p parameter) at(z float64) float64 {
	if p.ratio {
		return p.prior * math.Exp(p.sd*z)
	}
	return p.prior + p.sd*z
}

// model is what is known before anything was seen.
type model struct {
	job        Job
	turns      bool
	way        float64 // mm or rad
	gain       float64 // of the pace of the centre of resistance over that of the slot
	push       float64 // of the first spring, as first seated and as guessed
	parameters []parameter
	parts      int // all numbers: the parameters, and one for each time between visits and for that to come
}

func newModel(j Job) (*model, error) {
	if len(j.Visits) == 0 || j.Visits[0].Done != design.SeatedFirst {
		return nil, errors.New("no spring was seated yet")
	}
	first := j.Visits[0].Spring
	j.Case.Heading, j.Case.Wire = first.Heading, first.Wire
	first.Start, first.End = j.Case.SeatOf(j.Visits[0].Now), j.Case.SeatOf(j.Case.Goal)
	j.Visits = append([]design.Visit(nil), j.Visits...)
	j.Visits[0].Spring = first
	m := &model{job: j}
	c := j.Case
	offset, lever := c.ActiveOffset(first.Start), c.Resistance.Active.LeverMM2
	var err error
	if m.turns, m.way, err = effect.GoalOf(first, offset, lever); err != nil {
		return nil, err
	}
	wire, err := solve.NewSeatFollower(first)
	if err != nil {
		return nil, err
	}
	pose := first.Start.Pose(first.Heading)
	onActive, _, err := wire.Follow(pose, pose)
	if err != nil {
		return nil, fmt.Errorf("the first spring is not seated where the slots were: %w", err)
	}
	if m.push, err = effect.Push(first, offset, lever, onActive); err != nil {
		return nil, err
	}
	if !(m.push > 0) {
		return nil, ErrNoPlan
	}
	m.parameters = parametersOf(c, first, m.turns)
	m.parts = len(m.parameters) + len(j.Visits)
	m.gain = 1
	m.calibrate()
	return m, nil
}

// calibrate finds the pace at which the first spring, as guessed, brings the slot in its first four weeks as
// far as teeth go: a slot moves otherwise than the centre of resistance where the tooth tips. A spring that
// does not bring it there at any pace goes at the fastest that is tried.
func (m *model) calibrate() {
	first := *m
	first.job.Visits = m.job.Visits[:1]
	first.parts = len(m.parameters) + 1
	wanted := min(m.parameters[0].prior*calibratedDays/month, calibratedShare*m.way)
	low, high := 0.02, 20.0
	for range 12 {
		first.gain = math.Sqrt(low * high)
		t, err := first.follow(context.Background(), first.prior(), calibratedDays/aheadStepDays)
		if err != nil { // too fast to be followed
			high = first.gain
			continue
		}
		if t.ahead[len(t.ahead)-1].Closed < wanted {
			low = first.gain
		} else {
			high = first.gain
		}
	}
	m.gain = low
}

const (
	calibratedDays  = 28
	calibratedShare = 0.6 // of a way that is shorter than what teeth go in that time (choice)
)

func parametersOf(c design.Case, s spring.Spring, turns bool) []parameter {
	rate := shiftMM
	travel := s.Travel()
	if k, sign := travel.Component(); k == tooth.ForceZ && sign > 0 {
		rate = intrusionMM
	}
	if turns {
		rate = turnRad
	}
	list := []parameter{{timeline.RateFit, rate, rateLogSD, true}}
	if c.Anchorage.Moves() {
		list = append(list, parameter{timeline.HoldFit, c.HoldRatio(), holdLogSD, true})
	}
	centre := func(first timeline.FitKind, r tooth.Resistance) {
		for i, at := range [...]float64{r.InwardMM, r.DistalMM, r.ApicalMM} {
			sd := r.SpreadMM[i]
			switch {
			case sd > 0:
			case r.Guess:
				sd = guessedCentreMM[i]
			default:
				sd = toldCentreMM
			}
			list = append(list, parameter{first + timeline.FitKind(i), at, sd, false})
		}
	}
	centre(timeline.ActiveInwardFit, c.Resistance.Active)
	if c.Anchorage.Moves() {
		centre(timeline.AnchorInwardFit, c.Resistance.Anchor)
	}
	return list
}

// guessed is the case with the guesses as z has them, and the rate, mm or rad a month.
func (m *model) guessed(z []float64) (c design.Case, perMonth float64) {
	c = m.job.Case
	for i, p := range m.parameters {
		v := p.at(z[i])
		switch p.kind {
		case timeline.RateFit:
			perMonth = v
		case timeline.HoldFit:
			c.Anchorage.HoldRatio = v
		default:
			*[...]*float64{
				&c.Resistance.Active.InwardMM, &c.Resistance.Active.DistalMM, &c.Resistance.Active.ApicalMM,
				&c.Resistance.Anchor.InwardMM, &c.Resistance.Anchor.DistalMM, &c.Resistance.Anchor.ApicalMM,
			}[p.kind-timeline.ActiveInwardFit] = v
		}
	}
	return c, perMonth
}

// trace is what becomes of both teeth with one set of numbers.
type trace struct {
	arrivals []effect.Standing // at each visit, before anything was done; of the first, once seated
	left     effect.Standing   // after the last
	way      []passed          // between the visits, and at each before and after what was done
	ahead    []effect.Standing // every aheadStep after the last visit
}

// passed is where both teeth stand some days after the first visit.
type passed struct {
	days float64
	at   effect.Standing
}

const (
	aheadStepDays = 7
	aheadSteps    = 26 // half a year: nobody leaves a spring alone for longer (choice)
)

// days are those between a visit and the one before it.
func (m *model) days(i int) float64 {
	return m.job.Visits[i].Date.Sub(m.job.Visits[i-1].Date).Hours() / 24
}

// follow carries both teeth through the visits, and steps of aheadStepDays beyond the last.
func (m *model) follow(ctx context.Context, z []float64, ahead int) (trace, error) {
	c, perMonth := m.guessed(z)
	body, err := effect.AnchorBodyOf(c)
	if err != nil {
		return trace{}, err
	}
	visits := m.job.Visits
	pace := func(scatter float64) effect.Pace {
		return effect.Pace{PerDay: m.gain * perMonth / month * math.Exp(scatterLogSD*scatter), Push: m.push}
	}
	course, err := effect.NewCourse(visits[0].Spring, c.ActiveOffset(visits[0].Spring.Start), c.Resistance.Active.LeverMM2, body, pace(0))
	if err != nil {
		return trace{}, err
	}
	t := trace{arrivals: []effect.Standing{course.Now()}, way: []passed{{0, course.Now()}}}
	worn, days := true, 0.0
	for i := 1; i < len(visits); i++ {
		if worn {
			course.SetPace(pace(z[len(m.parameters)+i-1]))
			for left := m.days(i); left > 0; left -= aheadStepDays {
				step := min(left, aheadStepDays)
				if err := course.Wear(ctx, step); err != nil {
					return t, err
				}
				t.way = append(t.way, passed{days + m.days(i) - left + step, course.Now()})
			}
		}
		days += m.days(i)
		t.arrivals = append(t.arrivals, course.Now())
		if v := visits[i]; v.Done.NewSpring() {
			s := v.Spring
			s.End = visits[0].Spring.End
			if err := course.Seat(s); err != nil {
				return t, err
			}
			worn = true
			t.way = append(t.way, passed{days, course.Now()})
		} else if v.Done == design.Removed {
			worn = false
		}
	}
	t.left = course.Now()
	course.SetPace(pace(z[m.parts-1]))
	for range ahead {
		if !worn {
			break
		}
		if err := course.Wear(ctx, aheadStepDays); err != nil {
			return t, err
		}
		t.ahead = append(t.ahead, course.Now())
	}
	return t, nil
}

// placement is where the active slot stands, as a case has it.
func (m *model) placement(s effect.Standing) design.Placement {
	return design.PlacementOf(m.job.Visits[0].Spring, s.Seat)
}

// closed is how much of the way to the goal a placement has done: mm or rad.
func (m *model) closed(p design.Placement) float64 {
	c := m.job.Case
	way, done := 0.0, 0.0
	first := 0
	if m.turns {
		first = int(tooth.CoupleX)
	}
	for k := first; k < first+3; k++ {
		from := m.job.Visits[0].Now.At(tooth.Component(k))
		to := c.Goal.At(tooth.Component(k)) - from
		way += to * to
		done += to * (p.At(tooth.Component(k)) - from)
	}
	return done / math.Sqrt(way)
}

// prior are the numbers before anything was seen.
func (m *model) prior() []float64 { return make([]float64, m.parts) }
