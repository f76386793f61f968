package visit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/timeline"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/mat"
)

func space(t *testing.T) (design.Case, spring.Spring) {
	return readCase(t, "testdata/t-loop.toml"), readSpring(t, "testdata/t-loop-spring.toml")
}

func loop(t *testing.T) (design.Case, spring.Spring) {
	return readCase(t, "testdata/loop.toml"), readSpring(t, "testdata/loop-spring.toml")
}

func read(t *testing.T, j Job) timeline.Report {
	t.Helper()
	r, err := Read(context.Background(), j)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func fitOf(t *testing.T, r timeline.Report, k timeline.FitKind) timeline.Fit {
	t.Helper()
	i := slices.IndexFunc(r.Fits, func(f timeline.Fit) bool { return f.Kind == k })
	if i < 0 {
		t.Fatalf("nothing is told of %v", k)
	}
	return r.Fits[i]
}

// A patient whose anchor gives way twice as easily as guessed and whose canine's centre of resistance lies
// 2 mm deeper: from visit to visit the fit comes nearer to both, is surer, and what it expects of the next
// visit is nearer to what comes than the plan.
func TestTheFitClosesInOnAPatientWhoMovesOtherwise(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("follows both teeth many times")
	}
	c, s := space(t)
	hold, apical := c.HoldRatio()/2, c.Resistance.Active.ApicalMM+2
	p := newPatient(t, c, s, map[timeline.FitKind]float64{timeline.HoldFit: hold, timeline.ActiveApicalFit: apical})
	was := [2]float64{math.Log(2), 2}
	width := math.Inf(1)
	for visit := 2; visit <= 4; visit++ {
		p.sees(t, 35, design.LeftAsIs, true, nil)
		if visit == 3 {
			continue // each reading follows both teeth hundreds of times: the first and the last are held against each other
		}
		r := read(t, p.job)
		h, a := fitOf(t, r, timeline.HoldFit), fitOf(t, r, timeline.ActiveApicalFit)
		off := [2]float64{math.Abs(math.Log(h.Value / hold)), math.Abs(a.Value - apical)}
		if off[0] >= was[0] || off[1] >= was[1] || h.High-h.Low >= width {
			t.Errorf("visit %d: hold %.2f (%.2f to %.2f), true %.2f; apical %.2f, true %.2f: no nearer than %.2f and %.2f before", visit, h.Value, h.Low, h.High, hold, a.Value, apical, was[0], was[1])
		}
		was, width = off, h.High-h.Low
		now := r.Points[len(r.Points)-1]
		if visit > 2 && math.Abs(now.Expected-now.Closed) >= 0.7*math.Abs(now.Planned-now.Closed) {
			t.Errorf("visit %d: %.2f mm are done, %.2f were expected, %.2f planned", visit, now.Closed, now.Expected, now.Planned)
		}
		if len(r.Doubts) > 0 {
			t.Errorf("visit %d: doubts %v of exact measurements", visit, r.Doubts)
		}
	}
	if was[0] > 0.5*math.Log(2) {
		t.Errorf("after three visits the hold is off by a factor of %.2f", math.Exp(was[0]))
	}
}

// With noise as measurements have it the truth lies within what the fit says of itself, three standard
// deviations, and every number repeats.
func TestTheFitKnowsHowSureItIs(t *testing.T) {
	t.Parallel()
	c, s := loop(t)
	apical := c.Resistance.Active.ApicalMM - 2
	p := newPatient(t, c, s, map[timeline.FitKind]float64{timeline.ActiveApicalFit: apical, timeline.RateFit: 0.25})
	noise := rand.New(rand.NewPCG(7, 7))
	for range 3 {
		p.sees(t, 42, design.LeftAsIs, false, noise)
	}
	r := read(t, p.job)
	for k, truth := range map[timeline.FitKind]float64{timeline.ActiveApicalFit: apical, timeline.RateFit: 0.25} {
		f := fitOf(t, r, k)
		if sd := (f.High - f.Low) / 2; math.Abs(f.Value-truth) > 3*sd || sd > 0.95*(f.PriorHigh-f.PriorLow)/2 {
			t.Errorf("%v: %.2f ± %.2f, true %.2f, guessed %.2f", k, f.Value, sd, truth, f.Prior)
		}
	}
	p.job.Workers = 1
	if again := read(t, p.job); !reflect.DeepEqual(again.Fits, r.Fits) || !reflect.DeepEqual(again.Loads, r.Loads) {
		t.Error("on one core other numbers come out")
	}
}

// At the estimate a step of ordinary generalised least squares, solved by orthogonal triangles from all
// equations at once, goes nowhere, and its covariance is that of the fit.
func TestTheEstimateIsOneOfLeastSquares(t *testing.T) {
	t.Parallel()
	c, s := loop(t)
	p := newPatient(t, c, s, map[timeline.FitKind]float64{timeline.ActiveDistalFit: 0, timeline.RateFit: 0.6})
	p.sees(t, 28, design.LeftAsIs, false, nil)
	p.sees(t, 28, design.LeftAsIs, false, nil)
	m, err := newModel(p.job)
	if err != nil {
		t.Fatal(err)
	}
	all := m.observations()
	f, err := m.estimate(context.Background(), m.prior(), all, 0)
	if err != nil {
		t.Fatal(err)
	}
	rows := mat.NewDense(m.parts+len(all), m.parts, nil)
	right := mat.NewVecDense(m.parts+len(all), nil)
	for j := range m.parts {
		rows.Set(j, j, 1)
		right.SetVec(j, -f.z[j])
	}
	for i, o := range all {
		now := m.predicted(o, f.trace)
		right.SetVec(m.parts+i, (o.value-now)/o.sd)
		for j, n := range f.around {
			rows.Set(m.parts+i, j, (m.predicted(o, n.trace)-now)/(n.by*o.sd))
		}
	}
	var qr mat.QR
	qr.Factorize(rows)
	var step mat.VecDense
	if err := qr.SolveVecTo(&step, false, right); err != nil {
		t.Fatal(err)
	}
	if far := mat.Norm(&step, math.Inf(1)); far > 2*settledZ { // the last step was below settledZ, or did not pay
		t.Errorf("a further step goes %.3f standard deviations on", far)
	}
	var r, inverse, covariance mat.Dense
	qr.RTo(&r)
	if err := inverse.Inverse(r.Slice(0, m.parts, 0, m.parts)); err != nil {
		t.Fatal(err)
	}
	covariance.Mul(&inverse, inverse.T())
	for j, told := range m.fits(f) {
		g := m.parameters[j]
		want := g.at(f.z[j] + math.Sqrt(covariance.At(j, j)))
		if math.Abs(told.High-want) > 1e-9*math.Abs(want) { // rounding of two ways
			t.Errorf("%v reaches to %.9f, by least squares to %.9f", told.Kind, told.High, want)
		}
	}
}

// Each thing that may be advised is, where it should be, with the reason that it should have.
func TestEveryVerdictIsReached(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("searches corrections")
	}
	has := func(r timeline.Report, k timeline.ReasonKind) bool {
		return slices.ContainsFunc(r.Verdict.Reasons, func(reason timeline.Reason) bool { return reason.Kind == k })
	}
	loopPatient := func(t *testing.T) *patient {
		c, s := loop(t)
		return newPatient(t, c, s, nil)
	}
	last := func(p *patient) *design.Visit { return &p.job.Visits[len(p.job.Visits)-1] }
	for _, test := range []struct {
		name   string
		make   func(t *testing.T) *patient
		advice timeline.Advice
		why    timeline.ReasonKind
	}{
		{"seated", loopPatient, timeline.Wait, timeline.StillWorks},
		{"on its way", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 35, design.LeftAsIs, false, nil)
			return p
		}, timeline.Wait, timeline.StillWorks},
		{"there", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 60, design.LeftAsIs, false, nil)
			p.sees(t, 70, design.LeftAsIs, false, nil)
			last(p).Now.CentreMM.Z = 0.1
			return p
		}, timeline.Stop, timeline.GoalReached},
		{"too far", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 130, design.LeftAsIs, false, nil)
			last(p).Now.CentreMM.Z = 0.9
			return p
		}, timeline.Stop, timeline.TooFar},
		{"the wrong way", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 35, design.LeftAsIs, false, nil)
			p.sees(t, 35, design.LeftAsIs, false, nil)
			last(p).Now.CentreMM.Z = -1.9
			return p
		}, timeline.Stop, timeline.WrongWay},
		{"turned", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 35, design.LeftAsIs, false, nil)
			last(p).Now.Rotation.Y = 12 * degree
			return p
		}, timeline.Stop, timeline.TurnedAside},
		{"anchor gone", func(t *testing.T) *patient {
			c, s := space(t)
			c.Target.AnchorLossMM = 0.2
			p := newPatient(t, c, s, map[timeline.FitKind]float64{timeline.HoldFit: 1})
			p.sees(t, 35, design.LeftAsIs, true, nil)
			return p
		}, timeline.Stop, timeline.AnchorGone},
		{"gauge", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 35, design.LeftAsIs, false, nil)
			last(p).Gauge = &spring.GaugeReading{Axis: tooth.ForceZ, TravelMM: 2, ForceN: 3, SD: 0.05}
			return p
		}, timeline.Stop, timeline.GaugeOff},
		{"taken out", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 35, design.Removed, false, nil)
			last(p).SpringFile = ""
			return p
		}, timeline.Stop, timeline.NoneWorn},
		{"the root follows", func(t *testing.T) *patient {
			c, s := space(t)
			p := newPatient(t, c, s, map[timeline.FitKind]float64{timeline.RateFit: 2.4})
			p.sees(t, 21, design.LeftAsIs, false, nil)
			p.sees(t, 7, design.LeftAsIs, false, nil)
			return p
		}, timeline.Wait, timeline.RootFollows},
		{"spent", func(t *testing.T) *patient {
			c, s := space(t)
			p := newPatient(t, c, s, nil)
			p.sees(t, 70, design.LeftAsIs, false, nil)
			return p
		}, timeline.Reactivate, timeline.Spent},
		{"beyond bends", func(t *testing.T) *patient {
			p := loopPatient(t)
			p.sees(t, 35, design.LeftAsIs, false, nil)
			last(p).Now.Rotation.Y = 6 * degree
			last(p).Now.CentreMM.X -= 1
			return p
		}, timeline.Remake, timeline.NoCorrection},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			r := read(t, test.make(t).job)
			if r.Verdict.Advice != test.advice || !has(r, test.why) {
				t.Errorf("%v, %+v; want %v, %v", r.Verdict.Advice, r.Verdict.Reasons, test.advice, test.why)
			}
			if test.advice != timeline.Stop && !(r.Verdict.ToDays >= r.Verdict.FromDays && r.Verdict.FromDays >= soonestDays) {
				t.Errorf("look again from %d to %d days", r.Verdict.FromDays, r.Verdict.ToDays)
			}
		})
	}
}

// A spring that pushes away from its goal has no plan to hold a patient against.
func TestASpringAgainstItsGoalIsRefused(t *testing.T) {
	t.Parallel()
	c, s := loop(t)
	p := newPatient(t, c, s, nil)
	p.job.Case.Goal.CentreMM.Z = -4
	if _, err := Read(context.Background(), p.job); !errors.Is(err, ErrNoPlan) {
		t.Errorf("error %v, want %v", err, ErrNoPlan)
	}
}
