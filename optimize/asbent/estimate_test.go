package asbent

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/optimize/hand"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/mat"
)

// demoSpring is a spring that meets the demo's target, as a search once found it.
func demoSpring(t testing.TB) (design.Case, spring.Spring) {
	t.Helper()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	c.Heading = spring.Back
	var steps spring.Steps
	for i, lengthMM := range [...]float64{2.5, 2.5, 3.5, 8, 3.5, 2, 1} {
		steps = append(steps, spring.StraightStep(lengthMM))
		if bends := [...]float64{8, 85, -94, -80, -117, 22}; i < len(bends) {
			steps = append(steps, spring.BendStep(bends[i]*degree, c.Limits.BendRadiusMM))
		}
	}
	return c, c.SeatedSpring(spring.PathOf(steps...))
}

func mustModel(t testing.TB, j Job) *model {
	t.Helper()
	m, err := newModel(j)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func mustEstimate(t testing.TB, m *model) *estimate {
	t.Helper()
	e, err := m.estimate()
	if err != nil {
		t.Fatal(err)
	}
	return &e
}

// Of readings that are linear in the errors the estimate is that of ordinary generalised least squares, in
// millimetres and radians: mean Σ Hᵀ (H Σ Hᵀ + R)⁻¹ y, covariance Σ − Σ Hᵀ (H Σ Hᵀ + R)⁻¹ H Σ. Of a free
// end it is, once linearised about the mean.
func TestEstimateAgainstGeneralisedLeastSquares(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	came := mustModel(t, Job{Case: c, Spring: s})
	noise := rand.New(rand.NewPCG(3, 4))
	z := make([]float64, came.hand.Sources())
	for j := range z {
		z[j] = noise.NormFloat64()
	}
	read := came.readings(came.cameOut(z), 0.5*degree, 0.1, noise)
	read.Steps = append(read.Steps[:3], read.Steps[6:]...) // not all
	m := mustModel(t, Job{Case: c, Spring: s, Measured: read})
	e := mustEstimate(t, m)

	n, first := len(m.drawn), m.hand.FirstStep()
	prior := mat.NewDiagDense(n, nil)
	for i, step := range m.drawn {
		sd := c.Bender.AngleSDRad
		if step.Kind == spring.Straight {
			sd = c.Bender.LengthSDMM
		}
		prior.SetDiag(i, sd*sd)
	}
	mean := mat.NewVecDense(n, nil) // of the errors, mm and rad
	for i, step := range m.cameOut(e.mean).Steps {
		mean.SetVec(i, size(step)-size(m.drawn[i]))
	}
	rows := len(read.Steps) + len(read.End)
	h, noiseOf, y := mat.NewDense(rows, n, nil), mat.NewDense(rows, rows, nil), mat.NewVecDense(rows, nil)
	for k, r := range read.Steps {
		h.Set(k, r.Step, 1)
		y.SetVec(k, r.Value-size(m.drawn[r.Step]))
		noiseOf.Set(k, k, r.SD*r.SD)
	}
	at := m.cameOut(e.mean).Steps
	for k, r := range read.End {
		k += len(read.Steps)
		var predicted float64
		for i := range n {
			const by = 1e-5
			var sides [2]float64
			for side, way := range [...]float64{-by, by} {
				steps := append(spring.Steps(nil), at...)
				if steps[i].Kind == spring.Straight {
					steps[i].LengthMM += way
				} else {
					steps[i].AngleRad += way
				}
				sides[side] = off(m.end, freeEnd(steps))[r.Along]
			}
			h.Set(k, i, (sides[1]-sides[0])/(2*by))
			predicted += h.At(k, i) * mean.AtVec(i)
		}
		y.SetVec(k, r.Off-off(m.end, freeEnd(at))[r.Along]+predicted)
		noiseOf.Set(k, k, r.SD*r.SD)
	}
	var hp, spread, gain, want, cov mat.Dense
	hp.Mul(h, prior)
	spread.Mul(&hp, h.T())
	spread.Add(&spread, noiseOf)
	if err := gain.Solve(&spread, &hp); err != nil { // transposed
		t.Fatal(err)
	}
	want.Mul(gain.T(), y)
	cov.Mul(gain.T(), &hp)
	cov.Sub(prior, &cov)
	sds := e.sds()
	for i := range n {
		// Differences of second order over 1e-5 are good to 1e-9; the iteration stops at 1e-7 of a deviation.
		if got := mean.AtVec(i); math.Abs(got-want.At(i, 0)) > 1e-7 {
			t.Errorf("step %d: off by %.9f, want %.9f", i, got, want.At(i, 0))
		}
		sd := sds[first+i] * math.Abs(m.hand.SD(first+i))
		if wantSD := math.Sqrt(cov.At(i, i)); math.Abs(sd-wantSD) > 1e-6*wantSD {
			t.Errorf("step %d: SD %.9f, want %.9f", i, sd, wantSD)
		}
	}
}

// A free end that was put where it is drawn leaves what the neutral check of package hand leaves: to first
// order the same law.
func TestPutRightIsTheNeutralCheck(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	var read spring.Measured
	for k := range tooth.Components {
		sd := c.Bender.CheckSDMM
		if k.Couple() {
			sd = c.Bender.CheckSDRad
		}
		read.End = append(read.End, spring.EndReading{Along: k, SD: sd})
	}
	m := mustModel(t, Job{Case: c, Spring: s, Measured: read})
	e := mustEstimate(t, m)
	checking := hand.New(c, s)
	const springs = 4000
	sums, squares := make([]float64, len(m.drawn)), make([]float64, len(m.drawn))
	for i := range springs {
		noise := rand.New(rand.NewPCG(8, uint64(i)))
		z := make([]float64, checking.Sources())
		for j := range z {
			z[j] = noise.NormFloat64()
		}
		for k, step := range checking.CameOut(z).Steps {
			away := size(step) - size(m.drawn[k])
			sums[k] += away
			squares[k] += away * away
		}
	}
	for k, sd := range e.sds()[m.hand.FirstStep():] {
		sd *= math.Abs(m.hand.SD(m.hand.FirstStep() + k))
		got := math.Sqrt(squares[k]/springs - sums[k]*sums[k]/springs/springs)
		// A deviation of 4,000 springs is known to 1.1 per cent.
		if math.Abs(got-sd) > 0.045*sd {
			t.Errorf("step %d: SD %.5f, of springs put right %.5f", k, sd, got)
		}
	}
}

// The slopes of what is read are those of closed forms and of finer solves: the free end's those of the rod
// solver, the gauge's those over a tenth of the step.
func TestSlopesOfReadings(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	read := spring.Measured{Gauge: &spring.GaugeReading{Axis: tooth.ForceZ, TravelMM: -2.5, ForceN: 0.59, SD: 0.05}}
	for k := range tooth.Components {
		read.End = append(read.End, spring.EndReading{Along: k, SD: 0.1})
	}
	m := mustModel(t, Job{Case: c, Spring: s, Measured: read})
	z := make([]float64, m.hand.Sources())
	row := make([]float64, len(z))
	solver := beam.NewSolver(s.Rod(), beam.Origin(), hand.Accuracy)
	pattern := spring.Pattern{Steps: m.drawn}
	for i, step := range m.drawn {
		pattern.Freedoms = append(pattern.Freedoms, spring.Freedom{Step: i, Angle: step.Kind != spring.Straight})
	}
	solver.UnloadedSlopes(pattern.Parameters(pattern.Steps))
	for _, o := range m.observations() {
		if err := m.row(o, z, row); err != nil {
			t.Fatal(err)
		}
		for i := range m.drawn {
			j := m.hand.FirstStep() + i
			var want float64
			within := 1e-6
			if o.doubt.Kind == bent.OfEnd {
				motion := solver.NodeSlope(solver.Nodes()-1, i, &beam.Slope{})
				want = [...]float64{
					motion.ShiftMM.X, motion.ShiftMM.Y, motion.ShiftMM.Z, motion.TurnRad.X, motion.TurnRad.Y, motion.TurnRad.Z,
				}[o.doubt.Along] * m.hand.SD(j)
			} else {
				const by = 0.01
				var sides [2]float64
				for side, way := range [...]float64{-by, by} {
					z[j] = way
					got, err := o.predict(z)
					if err != nil {
						t.Fatal(err)
					}
					sides[side] = got
				}
				z[j] = 0
				want, within = (sides[1]-sides[0])/(2*by), 2e-4 // N: third-order terms of a tenth of a deviation
			}
			if math.Abs(row[j]-want) > within {
				t.Errorf("reading %+v by step %d: %v, want %v", o.doubt, i, row[j], want)
			}
		}
	}
	force, err := solve.GaugeForceN(s, tooth.ForceZ, -2.5, hand.Accuracy)
	if err != nil {
		t.Fatal(err)
	}
	// The stiffness alone scales it.
	if got := row[hand.StiffnessSource] / m.hand.SD(hand.StiffnessSource); math.Abs(got-force) > 1e-6 {
		t.Errorf("by the stiffness %v, want %v", got, force)
	}
}

// Of 500 springs bent by the hand and read with noise the 90 % bands of every step and of the free end's
// height cover what came out in 85 to 95 of 100.
func TestBandsCoverWhatCameOut(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	drawn := mustModel(t, Job{Case: c, Spring: s})
	const springs, z90 = 500, 1.6448536269514722 // normal quantile of 0.95
	first := drawn.hand.FirstStep()
	covered := make([]int, len(drawn.drawn))
	for i := range springs {
		noise := rand.New(rand.NewPCG(21, uint64(i)))
		z := make([]float64, drawn.hand.Sources())
		for j := range z {
			z[j] = noise.NormFloat64()
		}
		came := drawn.cameOut(z)
		read := drawn.readings(came, 0.5*degree, 0.1, noise)
		// Each spring with some of its readings alone.
		read.Steps = read.Steps[:noise.IntN(len(read.Steps)+1)]
		if noise.IntN(2) == 0 {
			read.End = nil
		}
		if read.None() {
			read = drawn.readings(came, 0.5*degree, 0.1, noise)
		}
		m := mustModel(t, Job{Case: c, Spring: s, Measured: read})
		e := mustEstimate(t, m)
		likely, sds := m.cameOut(e.mean).Steps, e.sds()
		for k := range likely {
			if math.Abs(size(likely[k])-size(came.Steps[k])) <= z90*sds[first+k]*math.Abs(m.hand.SD(first+k)) {
				covered[k]++
			}
		}
	}
	for k, n := range covered {
		if share := float64(n) / springs; share < 0.85 || share > 0.95 {
			t.Errorf("step %d: %.1f %% covered", k, 100*share)
		}
	}
}

// The same input gives the same report, on any number of goroutines.
func TestReadIsTheSameOnAnyNumberOfCores(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	read, err := casefile.ReadMeasured("m.toml", []byte("bend_1_deg = 10\nbend_4_deg = 77\nbend_6_deg = 23\nstraight_7_mm = 1.1\nend_apical_mm = 0.2"), s, c.Bender, nil)
	if err != nil {
		t.Fatal(err)
	}
	var reports [2]Report
	for k, workers := range [...]int{1, 3} {
		if reports[k], err = Read(t.Context(), Job{Case: c, Spring: s, Measured: read, Springs: 24, Seed: 1, Workers: workers}); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(reports[0], reports[1], cmpopts.IgnoreUnexported(spring.Path{})); diff != "" {
		t.Errorf("on one and on three goroutines (-one +three):\n%s", diff)
	}
	if reports[0].One == nil {
		t.Error("nothing was corrected: the test compares little")
	}
}
