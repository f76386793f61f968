package optimize

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/family"
	"springwright/design/solve"
	"springwright/design/target"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/mat"
)

// rowKinds names every row of an objective's residuals.
func rowKinds(o *objective) []string {
	var kinds []string
	reaches := func(position int) {
		for _, term := range o.reaches {
			if term.position == position {
				kinds = append(kinds, slices.Repeat([]string{"reach"}, term.rows())...)
			}
		}
		kinds = append(kinds, slices.Repeat([]string{"gap"}, gapRivals)...)
	}
	reaches(-1)
	kinds = append(kinds, "rate")
	for i := range o.seats {
		for _, term := range o.loads {
			if term.Position == i {
				kinds = append(kinds, loadKind(term.Quantity))
			}
		}
		reaches(i)
		if o.spring.HookSlides() {
			kinds = append(kinds, "hook")
		}
		kinds = append(kinds, "stress")
		if i == 0 && o.slidToRest() {
			kinds = append(kinds, "slid", "straight")
		}
	}
	for _, term := range o.shape {
		switch {
		case term.other >= 0:
			kinds = append(kinds, "alike")
		case o.pattern.Freedoms[term.one].Angle:
			kinds = append(kinds, "bend")
		default:
			kinds = append(kinds, "size")
		}
	}
	return kinds
}

func loadKind(q target.Quantity) string { return fmt.Sprint("load ", int(q)) }

// pointsNear returns points from which a search could start, pulled to where the loop
// about closes and a few steps towards the target.
func pointsNear(t *testing.T, s trial, iterations int) [][]float64 {
	t.Helper()
	var points [][]float64
	for _, x := range s.startingPoints() {
		s.closed(x)
		if s.descend(s.worker, inHand(), s.box, x, iterations).cost.solved() {
			for j, f := range s.pattern.Freedoms {
				// At its bound of a round number of degrees an arc gets one step more.
				if f.Angle {
					x[j] -= 0.003 * math.Copysign(1, x[j]-f.Neutral)
				}
			}
			if costAt(s.worker, x).solved() { // or it was about to snap
				points = append(points, x)
			}
		}
	}
	if len(points) < 2 {
		t.Fatalf("only %d points to test at", len(points))
	}
	return points
}

func TestObjectiveJacobianMatchesDifferences(t *testing.T) {
	t.Parallel()
	// Limits and a wire so tight that their rows are at work too.
	tight := demoCase(t)
	tight.Limits.LoopHeightMM, tight.Limits.RoomMesialMM, tight.Limits.RoomDistalMM = 4, 3, 3
	tight.Wire.YieldMPa = 150
	spatial := spatialCase()
	spatial.Wire.YieldMPa = 200
	seated := demoCase(t)
	seated.AnchorSlot.Fast, seated.ActiveSlot.Fast = false, false
	seated.Search.Seed = 5 // of some seeds a wire leans across its slots, where states of contact change within the step
	closed := heldFast(presetCase(t, "closed-vertical-loop"))
	judged := spatialCase()
	judged.Target.AtResistance = true
	judged.Resistance = demoCase(t).Resistance
	for _, test := range []struct {
		name string
		c    design.Case
		work []string // kinds of rows that must be seen at work
	}{
		{"demo", demoCase(t), []string{"rate", "bend", "alike", "size"}},
		{"demo with tight limits", tight, []string{"rate", "bend", "reach", "stress"}},
		{"closed vertical loop", closed, []string{"gap", "reach"}},
		{"at the centre of resistance", judged, []string{"rate", "bend"}},
		{"out of the plane", spatial, []string{"rate", "bend", "reach", "stress"}},
		{"as seated", seated, []string{"rate", "bend", "slid"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			jacobianAgrees(t, test.c, test.work, 100)
		})
	}
}

// compareJacobian compares with differences to both sides. At a kink these two differ, and
// the derivative may be either.
func compareJacobian(t *testing.T, s trial, x []float64, seen map[string]bool) (kinks, entries int) {
	t.Helper()
	o := newTrial(t, s.c, s.pattern).worker
	exact := hand.Accuracy
	exact.Tolerance = 1e-12    // or the solver's own error would stand in the differences
	exact.RoughTangent = false // and with a rough one not every spring is solved so closely
	var err error
	if o.path, err = solve.NewSeatedPath(o.spring, exact); err != nil {
		t.Fatal(err)
	}
	o.solver = o.path.Solver()
	kinds := rowKinds(o)
	n, m := o.size()
	if len(kinds) != m {
		t.Fatalf("%d rows are known, the objective has %d", len(kinds), m)
	}
	r, up, down := make([]float64, m), make([]float64, m), make([]float64, m)
	jacobian := mat.NewDense(m, n, nil)
	if !residuals(o, x, r, jacobian) {
		t.Fatalf("cannot be solved at %v", x)
	}
	plain := make([]float64, m)
	if !residuals(o, x, plain, nil) {
		t.Fatal("cannot be solved without a Jacobian")
	}
	for i := range r {
		// The way differs only in the tangent's age.
		if math.Abs(r[i]-plain[i]) > 1e-6*(1+math.Abs(r[i])) {
			t.Errorf("row %d (%s) is %v with a Jacobian, %v without", i, kinds[i], r[i], plain[i])
		}
	}
	const h = 1e-5
	for j, f := range s.pattern.Freedoms {
		y := slices.Clone(x)
		y[j] = x[j] + h
		okUp := residuals(o, y, up, nil)
		y[j] = x[j] - h
		if !residuals(o, y, down, nil) || !okUp {
			t.Fatalf("cannot be solved beside %v", x)
		}
		for i := range m {
			got := jacobian.At(i, j)
			forward, backward := (up[i]-r[i])/h, (r[i]-down[i])/h
			want := (forward + backward) / 2
			entries++
			if got != 0 {
				seen[kinds[i]] = true
			}
			// Truncation and the solver's last digits over the step; the stress row
			// differentiates its own ratio by a probe.
			tolerance := 1e-4 * max(1, math.Abs(got), math.Abs(forward), math.Abs(backward))
			if kinds[i] == "stress" {
				tolerance *= 10
			}
			switch {
			case math.Abs(got-want) <= tolerance:
			case math.Abs(got-forward) <= tolerance || math.Abs(got-backward) <= tolerance:
				kinks++
			case math.Abs(up[i]-down[i]) <= 1e-2*math.Abs(up[i]-r[i]) && math.Abs(up[i]-r[i]) < 1e-3:
				kinks++ // a wire that is free to roll lies otherwise there, by a thousandth of a tolerance
			default:
				t.Errorf("row %d (%s, %.4g) by %s: %.8g, by differences %.8g and %.8g", i, kinds[i], r[i], f.Name, got, backward, forward)
			}
		}
	}
	return kinks, entries
}

func TestClosingJacobianMatchesDifferencesAtTheSolution(t *testing.T) {
	t.Parallel()
	for _, c := range []design.Case{demoCase(t), spatialCase()} {
		c.Search.Starts = 4
		s := newTrial(t, c, family.RectangularLoop(c))
		closed := 0
		for _, x := range s.startingPoints() {
			p := newClosing(s.worker)
			if s.descend(p, inHand(), s.box, x, 100).cost.total(inHand()) > 1e-12 {
				continue
			}
			closed++
			n, m := p.size()
			jacobian := mat.NewDense(m, n, nil)
			up, down := make([]float64, m), make([]float64, m)
			residuals(p, x, up, jacobian)
			here := slices.Clone(up)
			for j := range x {
				const h = 1e-6
				y := slices.Clone(x)
				y[j] = x[j] + h
				residuals(p, y, up, nil)
				y[j] = x[j] - h
				residuals(p, y, down, nil)
				for i := range m {
					if (up[i] == 0) != (down[i] == 0) || up[i] == 0 && here[i] != 0 { // just at its limit
						continue
					}
					want := (up[i] - down[i]) / (2 * h)
					if got := jacobian.At(i, j); math.Abs(got-want) > 1e-4*(1+math.Abs(want)) {
						t.Errorf("row %d by %s: %.8g, by differences %.8g", i, s.pattern.Freedoms[j].Name, got, want)
					}
				}
			}
		}
		if closed == 0 {
			t.Error("no starting point could be closed")
		}
	}
}

func TestLoadTermResidualIsMonotoneAndItsSlopeTrue(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, window := range []target.Window{
		{Min: 0.3, Max: 0.6},
		{Min: 0.05, Max: inf},
		{Min: -inf, Max: 2},
		{Min: 0.3, Max: 0.301},
		within(0, 0.5), within(0.2, 0.001),
		{Min: 0, Max: inf},
		{Min: 1, Max: 1},
	} {
		term := newLoadTerm(hand.Term{Window: window})
		for i := range 400 {
			load := -1 + 0.01*float64(i) + 0.00317
			k, r, slope := term.row(load)
			const h = 1e-7
			_, after, slopeAfter := term.row(load + h)
			if slope == slopeAfter && math.Abs((after-r)/h-slope) > 1e-3*(1+math.Abs(slope)) {
				t.Errorf("%+v at %v: slope %v, by difference %v", window, load, slope, (after-r)/h)
			}
			if window.Aimed && after < r-1e-12 {
				t.Errorf("%+v: residual falls at %v", window, load)
			}
			if inside := load > window.Min+term.margin() && load < window.Max-term.margin(); !window.Aimed && (r <= 0) != inside {
				t.Errorf("%+v at %v: residual %v", window, load, r)
			}
			if misses := k.miss(r); (misses > 1) != (window.Misses(load) > 0) && window.Max-window.Min > 2*hand.LeastSlack {
				t.Errorf("%+v at %v: misses %v, outside by %v", window, load, misses, window.Misses(load))
			}
		}
	}
	free := studyCase()
	free.Target = target.Target{Start: allFree(), Travel: allFree()}
	if terms := loadTerms(free); terms != nil {
		t.Errorf("free components make %v", fmt.Sprint(terms))
	}
}

// jacobianAgrees compares the Jacobian of a case with differences near three starting
// points. Every kind of row in work must be at work there, and of the derivatives at most one
// in smooth may lie at a kink, where there is nothing to compare.
func jacobianAgrees(t *testing.T, c design.Case, work []string, smooth int) {
	t.Helper()
	c.Search.Starts = 6
	pattern, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	s := newTrial(t, c, pattern)
	seen := map[string]bool{}
	kinks, entries := 0, 0
	for _, x := range pointsNear(t, s, 3) {
		k, n := compareJacobian(t, s, x, seen)
		kinks, entries = kinks+k, entries+n
	}
	if kinks*smooth > entries {
		t.Errorf("%d of %d derivatives lie at kinks", kinks, entries)
	}
	for _, kind := range work {
		if !seen[kind] {
			t.Errorf("no row of kind %q was at work: choose other points", kind)
		}
	}
}
