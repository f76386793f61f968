package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// SlotSlopes is Slopes for a wire in its slots after FollowSlots, FollowTied or RestInSlots, its
// contacts kept. slid is how much wire, mm, each parameter lets out of the slot at the base
// and the far one beforehand: SlidMM of the slopes at the seat where the wire was slid to rest,
// before it was cinched; nil for none.
func (s *Solver) SlotSlopes(parameters []Parameter, slid [][2]float64, slopes []Slope) bool {
	if s.points != nil {
		return false
	}
	s.exactTangent()
	s.carry(s.withStraights(parameters))
	system, ok := s.newSlotTangent()
	if !ok {
		return false
	}
	last := s.columns[len(s.steps)]
	for i := range parameters {
		var let [2]float64
		if slid != nil {
			let = slid[i]
		}
		slopes[i] = system.slope(s, last[i], let, vec6{}, vec6{})
	}
	return true
}

// SeatSlopes returns the exact derivatives of the solution by a move of the far slot, as
// SlotSlopes does by parameters: 0 to 2 by a mm along the global axes, 3 to 5 by a rad about
// global axes through the slot's centre. slid is how much wire each lets out beforehand.
func (s *Solver) SeatSlopes(slid *[6][2]float64) (slopes [6]Slope, ok bool) {
	if s.points != nil {
		return slopes, false
	}
	s.exactTangent()
	s.carry(s.withStraights(nil))
	system, ok := s.newSlotTangent()
	if !ok {
		return slopes, false
	}
	centre := s.inSlots.seat.Along(s.inSlots.end.LeverMM).At
	for i := range slopes {
		var unit vec6
		unit[i] = 1
		turn, shift := r3.Vec{X: unit[3], Y: unit[4], Z: unit[5]}, r3.Vec{X: unit[0], Y: unit[1], Z: unit[2]}
		shift = r3.Add(shift, r3.Cross(centre, turn))
		// Moved as one with its load the wire's end would see no change: the slot's move is that
		// of the end the other way.
		back := vec6{-turn.X, -turn.Y, -turn.Z, -shift.X, -shift.Y, -shift.Z}
		var load vec6
		s.addFelt(&load, &back)
		for k := range load {
			load[k] = -load[k]
		}
		var let [2]float64
		if slid != nil {
			let = slid[i]
		}
		slopes[i] = system.slope(s, vec6{}, let, back, load)
	}
	return slopes, true
}

// slotTangent is Newton's system at a solution, decomposed.
type slotTangent struct {
	system *slotSystem
	lu     slotFactors
	out    [2]vec6 // motion of the wire's end by a mm let out of either slot
}

// withStraights are parameters, and behind them the lengths of the straights at the base and at
// the far end: what lets wire out of a slot.
func (s *Solver) withStraights(parameters []Parameter) []Parameter {
	s.straightened = append(append(s.straightened[:0], parameters...),
		Parameter{Piece: s.straightAt(true)[0].piece, LengthMM: 1},
		Parameter{Piece: s.straightAt(false)[0].piece, LengthMM: 1})
	return s.straightened
}

// addLet adds what wire let out of the slots adds to the motion of a node.
func (s *Solver) addLet(motion *vec6, node int, letMM [2]float64) {
	columns := s.columns[node]
	for side, mm := range letMM {
		by := &columns[len(columns)-2+side]
		for k := range motion {
			motion[k] += mm * by[k]
		}
	}
}

func (s *Solver) newSlotTangent() (*slotTangent, bool) {
	if s.lifted.on {
		return nil, false // only a tight wire is solved so, and none is designed
	}
	t := s.presentTarget()
	view := s.viewSlots(&t.seat)
	n := &slotTangent{system: &s.resting.system}
	m := n.system
	m.extras = s.appendSlotExtras(m.extras[:0])
	m.n = 6 + len(m.extras)
	s.slotMatrix(m, &t, &view)
	last := s.columns[len(s.steps)]
	copy(n.out[:], last[len(last)-2:])
	for j := 6; j < m.n; j++ {
		e := &m.extras[j-6]
		if e.kind != baseSlides && e.kind != endSlides {
			continue
		}
		m.origin[j] = vec6{}
		for k, by := range n.out[e.kind-baseSlides] {
			m.moves[j][k] = by * m.unit[j]
		}
		s.slotColumn(m, j, &view, nil)
	}
	n.lu = m.matrix.factor(m.n)
	return n, true
}

// slope is the change of the solution by a motion of the wire's end with the load held, by wire
// let out of the slots, and by what changes the end's conditions as such a motion and load would.
func (n *slotTangent) slope(s *Solver, moved vec6, let [2]float64, seatMotion, seatLoad vec6) Slope {
	m := n.system
	motion := moved
	for k := range motion {
		motion[k] += let[0]*n.out[0][k] + let[1]*n.out[1][k]
	}
	var res slotVector
	for i := range m.n {
		for k := range 6 {
			res[i] += m.byMotion[i][k] * motion[k]
		}
		if atBase := i >= 6 && (m.extras[i-6].kind == baseTurns || m.extras[i-6].kind == baseSlides); !atBase {
			for k := range 6 {
				res[i] += m.byMotion[i][k]*seatMotion[k] + m.byLoad[i][k]*seatLoad[k]
			}
		}
	}
	x := n.lu.solve(&res)
	var load, start vec6
	slid := [2]float64{}
	for j := range m.n {
		by := -x[j] * m.unit[j]
		if j < 6 {
			load[j] = by
			continue
		}
		for k := range motion {
			motion[k] -= x[j] * m.moves[j][k]
		}
		switch m.extras[j-6].kind {
		case baseTurns:
			for k := range start {
				start[k] -= x[j] * m.origin[j][k]
			}
		case baseSlides:
			slid[0] = by
		case endSlides:
			slid[1] = by
		}
	}
	turned := s.flexibility[len(s.steps)].mul(&load)
	for k := range motion {
		motion[k] += turned[k]
	}
	slope := s.slope(load, motion)
	slope.SlidMM, slope.start = slid, start
	slope.letMM = [2]float64{slid[0] + let[0], slid[1] + let[1]}
	return slope
}

// slotFactors is a slotSystem's matrix decomposed with complete pivoting.
type slotFactors struct {
	a           [mostUnknowns][mostUnknowns]float64
	row, column [mostUnknowns]int
	n, rank     int
}

// slotMatrix is that of a slotSystem.
type slotMatrix [mostUnknowns][mostUnknowns]float64

func (m *slotMatrix) factor(n int) slotFactors {
	f := slotFactors{a: *m, n: n, rank: n}
	for k := range n {
		f.row[k], f.column[k] = k, k
	}
	for k := range n {
		p, q, best := k, k, 0.0
		for i := k; i < n; i++ {
			for j := k; j < n; j++ {
				if v := math.Abs(f.a[i][j]); v > best {
					p, q, best = i, j, v
				}
			}
		}
		if !(best > neutral) {
			f.rank = k
			break
		}
		f.a[k], f.a[p] = f.a[p], f.a[k]
		f.row[k], f.row[p] = f.row[p], f.row[k]
		if q != k {
			f.column[k], f.column[q] = f.column[q], f.column[k]
			for i := range n {
				f.a[i][k], f.a[i][q] = f.a[i][q], f.a[i][k]
			}
		}
		for i := k + 1; i < n; i++ {
			l := f.a[i][k] / f.a[k][k]
			f.a[i][k] = l
			for j := k + 1; j < n; j++ {
				f.a[i][j] -= l * f.a[k][j]
			}
		}
	}
	return f
}

// solve returns x with A x = b. Unknowns that no condition depends on stay 0.
func (f *slotFactors) solve(b *slotVector) (x slotVector) {
	var y slotVector
	for i := range f.rank {
		y[i] = b[f.row[i]]
		for j := range i {
			y[i] -= f.a[i][j] * y[j]
		}
	}
	for i := f.rank - 1; i >= 0; i-- {
		for j := i + 1; j < f.rank; j++ {
			y[i] -= f.a[i][j] * y[j]
		}
		y[i] /= f.a[i][i]
	}
	for i := range f.rank {
		x[f.column[i]] = y[i]
	}
	return x
}
