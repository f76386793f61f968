package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// resting is the work on one seat.
type resting struct {
	target    slotTarget
	room      [2]SlotCoordinates
	touch     [2]Touches
	view      slotView
	system    slotSystem
	turns     int             // extras that are coordinates; what slides comes behind them
	give      [10]float64     // of those coordinates, by a load as it is in the residual
	gives     [10]float64     // as a step has it
	snaps     bool            // see giveWay
	behind    [10][10]float64 // the stiffness that giveWay leaves, as it is: unsymmetric
	old       bool
	exact     bool   // the tangent of approximate will not do here
	eliminate [8]int // rows and columns of the load and of what slides
	load      eliminated
	quadratic boxed
	delta     slotVector
	// by is what a unit of a coordinate does to what is eliminated, residue what the residual does.
	by      [8][10]float64
	residue [8]float64
}

// place is which slot, and which of its coordinates, an extra is.
func (e *extra) place() (slot, coordinate int) {
	if e.kind == endTurns {
		return 1, e.coordinate
	}
	return 0, e.coordinate
}

func (n *resting) begin(s *Solver, seat Pose, base, end Slot, room *[2]SlotCoordinates, touch *[2]Touches) {
	n.room, n.touch, n.old, n.exact = *room, *touch, false, false
	for k, slot := range [...]*Slot{&base, &end} {
		for i := range n.touch[k] {
			free := room[k][i] > 0
			switch {
			case !free:
				n.touch[k][i] = NoRoom
			case n.touch[k][i] == NoRoom || math.IsInf(room[k][i], 1):
				n.touch[k][i] = Between
			}
			if i < 3 {
				slot.FreeTurn[i] = free
			} else {
				slot.FreeEdge[i-3] = free
			}
		}
		slot.TurnRad, slot.EdgeRad = r3.Vec{}, [2]float64{}
	}
	s.inSlots.base, s.inSlots.end, s.inSlots.seat = base, end, seat
	n.target = slotTarget{seat: seat, baseForce: base.ForceN, endForceN: end.ForceN}
	s.holdBase(&n.target)
	s.turnBase()
	if s.nodes[0] != s.start {
		s.shoot()
		s.stale = true
	}
	m := &n.system
	m.extras = s.appendSlotExtras(m.extras[:0])
	m.n = 6 + len(m.extras)
	n.turns = 0
	for _, e := range m.extras {
		if e.kind == baseTurns || e.kind == endTurns {
			slot, i := e.place()
			n.give[n.turns] = [2]*Slot{&base, &end}[slot].Give[i] / s.scales().moment
			n.turns++
		}
	}
	n.load.n = 6 + len(m.extras) - n.turns
	for i := range n.load.n {
		n.eliminate[i] = i
		if i >= 6 {
			n.eliminate[i] = i + n.turns
		}
	}
}

// look brings the residual up to date.
func (n *resting) look(s *Solver) {
	n.view = s.viewSlots(&n.target.seat)
	clear(n.system.residual[:])
	s.slotResidual(&n.system, &n.target, &n.view)
}

// coordinates are where the wire lies now, without what the slots give to it: what walls stop.
func (n *resting) coordinates(s *Solver) [2]SlotCoordinates {
	q := [2]SlotCoordinates{
		s.inSlots.base.coordinates(s.inSlots.baseTurn, s.inSlots.baseShift),
		s.inSlots.end.coordinates(n.view.endTurn, n.view.endShift),
	}
	for k := range n.turns {
		slot, i := n.system.extras[k].place()
		q[slot][i] += n.give[k] * n.signed(k, n.system.residual[6+k])
	}
	return q
}

// worst is how far the wire is from fulfilling its contacts as they are.
func (n *resting) worst(s *Solver) float64 {
	var most float64
	for i := range 6 {
		most = max(most, math.Abs(n.system.residual[i])) // keeps a NaN
	}
	for _, i := range n.eliminate[6:n.load.n] {
		most = max(most, math.Abs(n.system.residual[i]))
	}
	q := n.coordinates(s)
	for k := range n.turns {
		slot, i := n.system.extras[k].place()
		switch n.touch[slot][i] {
		case AtPlus:
			most = max(most, math.Abs(q[slot][i]-n.room[slot][i]))
		case AtMinus:
			most = max(most, math.Abs(q[slot][i]+n.room[slot][i]))
		default:
			most = max(most, math.Abs(n.system.residual[6+k]))
		}
	}
	return most
}

// atRest tells whether no coordinate lies beyond a wall and no wall pulls.
func (n *resting) atRest(s *Solver) bool {
	tolerance := s.options.Tolerance
	q := n.coordinates(s)
	for k := range n.turns {
		slot, i := n.system.extras[k].place()
		load := n.signed(k, n.system.residual[6+k])
		switch n.touch[slot][i] {
		case AtPlus:
			if load > tolerance {
				return false
			}
		case AtMinus:
			if load < -tolerance {
				return false
			}
		default:
			if math.Abs(q[slot][i]) > n.room[slot][i]+tolerance {
				return false
			}
		}
	}
	return true
}

// signed turns an internal load into that of the slot on the wire.
func (n *resting) signed(k int, load float64) float64 {
	if n.system.extras[k].kind == endTurns {
		return load
	}
	return -load
}

// linearise sets up the tangent and eliminates the load and what slides from it.
func (n *resting) linearise(s *Solver) bool {
	m := &n.system
	if s.lifted.on {
		s.liftedColumns(m, &n.target, &n.view)
		gaps := m.withGaps(s, &n.target)
		m.residual = gaps.residual
	} else {
		s.slotMatrix(m, &n.target, &n.view)
	}
	for i := range n.load.n {
		for j := range n.load.n {
			n.load.a[i][j] = m.matrix[n.eliminate[i]][n.eliminate[j]]
		}
	}
	if !n.load.factor() {
		return false
	}
	for i := range n.load.n {
		copy(n.by[i][:n.turns], m.matrix[n.eliminate[i]][6:])
	}
	n.load.solveAll(&n.by, n.turns)
	for i := range n.turns {
		row := n.quadratic.k[i][:n.turns]
		copy(row, m.matrix[6+i][6:])
		for l := range n.load.n {
			f := m.matrix[6+i][n.eliminate[l]]
			for j, by := range n.by[l][:n.turns] {
				row[j] -= f * by
			}
		}
		for j := range row {
			row[j] = n.signed(i, row[j])
		}
	}
	n.giveWay()
	n.behind = n.quadratic.k
	for i := range n.turns { // what slides makes it unsymmetric
		for j := range i {
			mean := (n.quadratic.k[i][j] + n.quadratic.k[j][i]) / 2
			n.quadratic.k[i][j], n.quadratic.k[j][i] = mean, mean
		}
	}
	return true
}

// leastOver is the share of what holds a coordinate that has to be left against a wire that pushes on
// (choice: less would make long steps of it).
const leastOver = 0.1

// giveWay turns the stiffness against the wire's coordinates into that against what walls stop, which
// lies behind what gives. Where the wire would snap against that, as one drawn tight by slots that tied it
// may, the step is taken as if it did not give; nothing comes to rest there.
func (n *resting) giveWay() {
	n.snaps = false
	for l, give := range n.give[:n.turns] {
		if n.gives[l] = give; !behind(&n.quadratic.k, n.turns, l, give) {
			n.gives[l], n.snaps = 0, true
		}
	}
}

// behind turns the stiffness against n coordinates into that where the one at l gives: 1/K grows by it. It
// reports false, and leaves it, where a wire would snap against that.
func behind(k *[10][10]float64, n, l int, give float64) bool {
	over := 1 + give*k[l][l]
	if give == 0 || !(over > leastOver) {
		return give == 0
	}
	row := k[l]
	for i := range n {
		by := k[i][l] * give / over
		for j := range n {
			k[i][j] -= by * row[j]
		}
	}
	return true
}

// reduce fills in the slope of the energy and the walls.
func (n *resting) reduce(s *Solver) {
	m, b := &n.system, &n.quadratic
	for i := range n.load.n {
		n.residue[i] = m.residual[n.eliminate[i]]
	}
	n.load.solve(&n.residue)
	q := n.coordinates(s)
	b.n = n.turns
	for i := range n.turns {
		sum := m.residual[6+i]
		for l := range n.load.n {
			sum -= m.matrix[6+i][n.eliminate[l]] * n.residue[l]
		}
		b.g[i] = n.signed(i, sum)
		slot, c := m.extras[i].place()
		b.low[i], b.high[i] = -n.room[slot][c]-q[slot][c], n.room[slot][c]-q[slot][c]
		b.touch[i] = n.touch[slot][c]
		b.longest[i] = math.Inf(1)
		if n.room[slot][c] > longestRestRad {
			b.longest[i] = longestRestRad
		}
	}
}

// step takes the step of the coordinates and what comes with it into delta, to be subtracted, and
// returns its size.
func (n *resting) step(s *Solver) float64 {
	m := &n.system
	n.delta = slotVector{}
	x := n.quadratic.x
	for i, give := range n.gives[:n.turns] {
		for j := range n.turns {
			x[i] -= give * n.behind[i][j] * n.quadratic.x[j]
		}
	}
	for l := range n.load.n {
		sum := n.residue[l]
		for j, by := range n.by[l][:n.turns] {
			sum += by * x[j]
		}
		n.delta[n.eliminate[l]] = sum
	}
	for j := range n.turns {
		n.delta[6+j] = -x[j]
		slot, c := m.extras[j].place()
		n.touch[slot][c] = n.quadratic.touch[j]
	}
	return n.delta.size()
}

// Stiffness, as a share of the largest, below which the tangent of approximate is not trusted: on
// the way, and where a wire has come to rest. In random springs that surelyStable takes for stable its
// errors are within 2.3e-3 of the largest, 1e-4 in all but one of ten, 1.3e-5 in a loop; with
// more what is nearly or wholly neutral would be told from them.
const (
	doubtfulStiffness = 2e-4
	settledStiffness  = 1e-2
)

// tangent sets up the tangent where it is not that of the present state.
func (n *resting) tangent(s *Solver) bool {
	if n.exact {
		s.exactTangent()
	} else {
		s.freshTangent()
	}
	return n.linearise(s)
}

// exactly goes on with exact tangents in this seat, from the present one on. It reports false where
// they are so already, or there are none.
func (n *resting) exactly(s *Solver) bool {
	if !s.rough || s.points != nil { // which has no other
		return false
	}
	n.exact = true
	return n.tangent(s)
}

// settled tells whether the wire, which fulfils its contacts, has nowhere to go with the tangent
// that it has there: the one by which it came may hide that it has lost its stiffness on the way.
func (n *resting) settled(s *Solver) bool {
	n.exact = n.exact || !s.options.RoughTangent && n.quadratic.least < settledStiffness
	s.stale = true
	if !n.tangent(s) {
		return false
	}
	n.reduce(s)
	n.quadratic.solve() // a wall that the wire just touches may change without a step
	if n.quadratic.limited || n.snaps {
		return false
	}
	for _, x := range n.quadratic.x[:n.turns] {
		if !(math.Abs(x) <= settledRad) {
			return false
		}
	}
	return true
}

// hold leaves the slots as they hold the wire now.
func (n *resting) hold(s *Solver) {
	for k, slot := range [...]*Slot{&s.inSlots.base, &s.inSlots.end} {
		at := SlotCoordinates{}
		for i, touch := range n.touch[k] {
			free := touch == Between
			switch touch {
			case AtPlus:
				at[i] = n.room[k][i]
			case AtMinus:
				at[i] = -n.room[k][i]
			}
			if i < 3 {
				slot.FreeTurn[i] = free
			} else {
				slot.FreeEdge[i-3] = free
			}
		}
		slot.TurnRad, slot.EdgeRad = r3.Vec{X: at[0], Y: at[1], Z: at[2]}, [2]float64{at[3], at[4]}
	}
}
