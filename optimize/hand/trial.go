package hand

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
)

// ErrNothingSolved means that no spring of the design could be seated at all.
var ErrNothingSolved = errors.New("no spring of this kind could be seated")

// ErrSuperelastic means that bent springs of a wire that remembers its way cannot be
// followed by their elastic loads.
var ErrSuperelastic = errors.New("springs of superelastic wire are not bent in trial")

// Bent bends n springs of a design with the errors of c.Bender, solves each at every
// position of the travel and judges it by the target of c. Slots hold as in the search, and the
// wire is elastic. The numbers of spring i come from a stream of their
// own, so that the answer depends on seed and n but not on the number of workers (0: one
// for each core), and two designs meet the same hands. Limits on room and stress are not
// judged again. The errors are ErrSuperelastic, ErrNothingSolved where the design itself has
// no solution, and that of ctx.
func Bent(ctx context.Context, c design.Case, spring spring.Spring, n int, seed uint64, workers int) (Robustness, error) {
	if spring.Wire.IsSuperelastic() {
		return Robustness{}, ErrSuperelastic
	}
	if n <= 0 {
		return Robustness{}, ctx.Err()
	}
	h := New(c, spring)
	l, ok := h.Linear()
	if !ok {
		return Robustness{}, ErrNothingSolved
	}
	t := newTrials(&h, n)
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var group sync.WaitGroup
	for range workers {
		b, err := newBench(&h)
		if err != nil {
			return Robustness{}, err
		}
		group.Go(func() {
			for ctx.Err() == nil {
				const batch = 16 // springs between two looks at ctx
				from := int(next.Add(batch)) - batch
				if from >= n {
					return
				}
				for i := from; i < min(from+batch, n); i++ {
					b.spring(t, i, seed)
				}
			}
		})
	}
	group.Wait()
	if err := ctx.Err(); err != nil {
		return Robustness{}, err
	}
	r := t.robustness(l)
	var err error
	if r.Spread.Tolerances, err = h.tolerances(workers); err != nil {
		return Robustness{}, err
	}
	r.Missed = t.missed(c)
	if len(r.Missed) > 0 {
		r.Spread.Missed, r.Spread.MissedShare = r.Missed[0].Quantity, r.Missed[0].Share
		r.Spread.MostMissed = c.NameOf(r.Spread.Missed, fmt.Sprintf)
	}
	return r, nil
}

// shownLoads are the loads of a PositionSpread.
const shownLoads = 4

// trials has the outcome of every spring, by its number.
type trials struct {
	h      *Hand
	seated []bool
	met    []bool
	judged [][]float64 // of each term, of each spring
	shown  [][]float64 // of each position and load of a PositionSpread, of each spring
}

func newTrials(h *Hand, n int) *trials {
	rows := func(count int) [][]float64 {
		out := make([][]float64, count)
		for i := range out {
			out[i] = make([]float64, n)
		}
		return out
	}
	return &trials{
		h: h, seated: make([]bool, n), met: make([]bool, n),
		judged: rows(len(h.terms)), shown: rows(shownLoads * len(h.seats)),
	}
}

// bench is one place to bend springs at.
type bench struct {
	h      *Hand
	path   *solve.SeatedPath
	bent   bent
	normal []float64
}

// newBench is one for springs of a hand. The error is that of solve.NewSeatedPath.
func newBench(h *Hand) (*bench, error) {
	path, err := solve.NewSeatedPath(h.spring, Accuracy)
	if err != nil {
		return nil, err
	}
	path.Wary = true
	return &bench{h: h, path: path, normal: make([]float64, len(h.sources))}, nil
}

// draw fills in the standard normal numbers of spring i.
func (b *bench) draw(i, seed uint64) {
	numbers := rand.New(rand.NewPCG(seed, i))
	for j := range b.normal {
		b.normal[j] = numbers.NormFloat64()
	}
}

// spring bends and judges spring i.
func (b *bench) spring(t *trials, i int, seed uint64) {
	b.draw(uint64(i), seed)
	b.try(t, i)
}

// try bends and judges the spring of the present numbers as spring i.
func (b *bench) try(t *trials, i int) {
	b.h.bend(&b.bent, b.normal)
	met := true
	t.seated[i] = b.follow(&b.bent, func(k int, active, anchor tooth.Load) {
		for l, v := range [shownLoads]float64{active.ForceN.Z, active.CoupleNMM.Y, anchor.ForceN.Z, anchor.CoupleNMM.Y} {
			t.shown[shownLoads*k+l][i] = v
		}
	}, func(term int, value float64) bool {
		t.judged[term][i] = value
		met = met && b.h.terms[term].Window.Misses(value) <= 0
		return true
	})
	t.met[i] = t.seated[i] && met
}

// follow takes a bent spring over the travel: at tells the loads at every position, judged the value of
// every term, and whether to go on. It reports whether the spring could be seated as far as that.
func (b *bench) follow(s *bent, at func(position int, active, anchor tooth.Load), judged func(term int, value float64) bool) bool {
	b.path.SetSteps(s.steps)
	if drawnN := b.h.spring.DrawnToN; drawnN != 0 { // loads are in wire of the nominal stiffness
		b.path.DrawTo(max(leastPullN, drawnN+s.gaugeN) / s.stiffness)
	}
	next := 0
	var first tooth.Load
	for k := range b.h.seats {
		if b.path.FollowPose(b.h.seatFor(s, k)) != nil {
			return false
		}
		active, anchor := b.path.Loads()
		active, anchor = scaled(active, s.stiffness), scaled(anchor, s.stiffness)
		if k == 0 {
			first = active
		}
		at(k, active, anchor)
		load := b.h.judge.At(k, active, anchor, first)
		for ; next < len(b.h.terms) && b.h.terms[next].Position == k; next++ {
			if !judged(next, b.h.target.Value(b.h.terms[next].Quantity, load)) {
				return true
			}
		}
	}
	return true
}

func scaled(l tooth.Load, by float64) tooth.Load {
	return tooth.Load{ForceN: r3.Scale(by, l.ForceN), CoupleNMM: r3.Scale(by, l.CoupleNMM)}
}

func (t *trials) robustness(l Linear) Robustness {
	n := len(t.seated)
	r := Robustness{Spread: spring.Spread{Springs: n}, Influences: l.influences()}
	for i := range n {
		if !t.seated[i] {
			r.Spread.Unseated++
		}
		if t.met[i] {
			r.Spread.Met++
		}
	}
	r.Spread.Low, r.Spread.High = wilson(r.Spread.Met, n)
	if len(r.Influences) > 0 {
		r.Spread.Influence, r.Spread.InfluenceShare = r.Influences[0].Name, r.Influences[0].Share
	}
	if r.Spread.Unseated == n {
		return r
	}
	leftMM := func(position int) float64 {
		return r3.Norm(r3.Sub(t.h.spring.End.AtMM, t.h.spring.SeatAt(position).AtMM))
	}
	for k := range t.h.seats {
		shown := t.shown[shownLoads*k:]
		r.Spread.Positions = append(r.Spread.Positions, spring.PositionSpread{
			TravelLeftMM:     leftMM(k),
			ActiveForceZN:    t.band(shown[0]),
			ActiveCoupleYNMM: t.band(shown[1]),
			AnchorForceZN:    t.band(shown[2]),
			AnchorCoupleYNMM: t.band(shown[3]),
		})
	}
	for i, term := range t.h.terms {
		r.Judged = append(r.Judged, JudgedBand{
			Position: term.Position, TravelLeftMM: leftMM(term.Position),
			Quantity: term.Quantity, Window: term.Window, Band: t.judgedBand(i),
		})
	}
	return r
}

// missed counts the springs in which a quantity misses a window, for every quantity.
func (t *trials) missed(c design.Case) []Missed {
	var out []Missed
	for q := range target.Quantities {
		var seated, missing float64
		terms := t.judgedOf(q)
		for i, ok := range t.seated {
			if !ok {
				continue
			}
			seated++
			if slices.ContainsFunc(terms, func(j int) bool { return t.h.terms[j].Window.Misses(t.judged[j][i]) > 0 }) {
				missing++
			}
		}
		if missing > 0 {
			out = append(out, Missed{q, missing / seated})
		}
	}
	slices.SortStableFunc(out, func(a, b Missed) int { return cmp.Compare(b.Share, a.Share) })
	return out
}

// judgedOf lists the terms of a quantity.
func (t *trials) judgedOf(q target.Quantity) []int {
	var out []int
	for j, term := range t.h.terms {
		if term.Quantity == q {
			out = append(out, j)
		}
	}
	return out
}

// band is that of the springs that could be seated.
func (t *trials) band(values []float64) spring.Band {
	var seated []float64
	for i, v := range values {
		if t.seated[i] {
			seated = append(seated, v)
		}
	}
	slices.Sort(seated)
	at := func(p float64) float64 { return stat.Quantile(p, stat.LinInterp, seated, nil) }
	return spring.Band{Low: at(0.05), Median: at(0.5), High: at(0.95)}
}
