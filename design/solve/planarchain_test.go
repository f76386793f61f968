package solve

import (
	"fmt"
	"math"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A check of the contacts in slots by other means: the wire as a plane chain of rigid links with
// springs between them (Hencky, Über die angenäherte Lösung von Stabilitätsproblemen im Raum
// mittels der elastischen Gelenkkette, Der Eisenbau 11 (1920) 437), its links' directions all unknowns, closed between the
// slots by Lagrange multipliers, and every state of the four pairs of edges solved for itself. It
// shares no code and no method with the rod of package beam: no shooting, no sections' frames, no
// search for walls.

// planarChain is a chain between two slots. Angles are those of the running direction, from x
// towards z.
type planarChain struct {
	lengthMM    []float64  // of the links
	restRad     []float64  // directions of the unloaded links
	stiffness   float64    // EI
	mouth       [2]float64 // of the joints between the slots and the chain
	leverMM     [2]float64
	armMM, play [2]float64 // of the edges in height
	seat        spring.Seat
	heading     float64 // of the active slot
	slides      bool    // through the active slot
}

// newPlanarChain cuts a plane spring into links of at most linkMM.
func newPlanarChain(t *testing.T, s spring.Spring, linkMM float64) planarChain {
	t.Helper()
	c := planarChain{stiffness: s.Wire.Section().EI2, leverMM: [2]float64{s.AnchorSlotLengthMM / 2, s.ActiveSlotLengthMM / 2}}
	at := 0.0
	for _, step := range s.Path.Steps() {
		length, turn := step.LengthMM, 0.0
		if step.Kind == spring.Bend {
			length, turn = math.Abs(step.AngleRad)*step.RadiusMM, step.AngleRad
		}
		n := int(math.Ceil(length / linkMM))
		for k := range n {
			part := turn / float64(n)
			link := length / float64(n)
			if part != 0 { // the chord
				link *= math.Sin(part/2) / (part / 2)
			}
			c.lengthMM = append(c.lengthMM, link)
			c.restRad = append(c.restRad, at+(float64(k)+0.5)*part)
		}
		at += turn
	}
	if s.Heading == spring.Back {
		c.heading = math.Copysign(math.Pi, at)
	}
	for k, hold := range []spring.SlotHold{s.AnchorHold, s.ActiveHold} {
		play, err := hold.PlayOf(s.Wire, 2*c.leverMM[k])
		if err != nil {
			t.Fatal(err)
		}
		c.play[k] = play.SecondOrder
		c.armMM[k], _ = armsMM(hold, s.Wire, play)
	}
	// From the line between its edges the wire turns over half a link and, as a beam on two supports with
	// a moment at one of them, by that times 2a/(3EI).
	for k, link := range []float64{c.lengthMM[0], c.lengthMM[len(c.lengthMM)-1]} {
		c.mouth[k] = c.stiffness / (link/2 + 2*c.leverMM[k]/3)
	}
	c.slides = s.Slide == spring.SlideActive
	return c
}

// unknowns: the four edges' coordinates, the links' directions, the length let out, and the
// force that closes the chain.
func (c *planarChain) size() (links, n int) { return len(c.lengthMM), 4 + len(c.lengthMM) + 1 + 2 }

// solve finds the chain with some edges' coordinates held, from a state on. held is NaN where the
// wire does not touch.
func (c *planarChain) solve(x []float64, held [4]float64) bool {
	links, n := c.size()
	for range 60 {
		g := mat.NewVecDense(n, nil)
		h := mat.NewDense(n, n, nil)
		turn := [2]float64{(x[0] + x[1]) / 2, (x[2] + x[3]) / 2}                            // about y: down
		shift := [2]float64{c.armMM[0] * (x[0] - x[1]) / 2, c.armMM[1] * (x[2] - x[3]) / 2} // along the slots' z
		directions := [2]float64{-turn[0], c.heading - c.seat.Rotation.Y - turn[1]}         // of the wire in the slots
		slots := [2]float64{0, c.heading - c.seat.Rotation.Y}                               // of the slots
		fx, fz := x[n-2], x[n-1]                                                            // closing force
		out := x[n-3]
		// Joints: the first and the last between a slot and a link, over half a link.
		spring := func(angle, stiffness float64, di, dj []entry) {
			for _, a := range append(di, dj...) {
				g.SetVec(a.at, g.AtVec(a.at)+stiffness*angle*a.by)
				for _, b := range append(di, dj...) {
					h.Set(a.at, b.at, h.At(a.at, b.at)+stiffness*a.by*b.by)
				}
			}
		}
		slotEntry := func(k int, sign float64) []entry { // direction of the wire in slot k by its coordinates
			return []entry{{2 * k, -sign / 2}, {2*k + 1, -sign / 2}}
		}
		spring(x[4]-directions[0]-c.restRad[0], c.mouth[0], []entry{{4, 1}}, slotEntry(0, -1))
		for i := 1; i < links; i++ {
			k := 2 * c.stiffness / (c.lengthMM[i-1] + c.lengthMM[i])
			spring(x[4+i]-x[3+i]-(c.restRad[i]-c.restRad[i-1]), k, []entry{{4 + i, 1}}, []entry{{3 + i, -1}})
		}
		last := 3 + links
		spring(directions[1]-x[last]-(c.endRest()-c.restRad[links-1]), c.mouth[1], slotEntry(1, 1), []entry{{last, -1}})
		// Closure: from the anchor slot's centre to the active one's.
		point := [2]float64{-c.leverMM[0], 0}
		add := func(length, direction float64) {
			point[0] += length * math.Cos(direction)
			point[1] += length * math.Sin(direction)
		}
		across := func(k int, shift float64) { add(shift, slots[k]+math.Pi/2) }
		across(0, shift[0])
		add(c.leverMM[0], directions[0])
		for i := range links {
			add(c.lengthMM[i], x[4+i])
		}
		add(out+c.leverMM[1], directions[1])
		across(1, -shift[1])
		target := [2]float64{
			c.seat.AtMM.X + c.leverMM[1]*math.Cos(slots[1]),
			c.seat.AtMM.Z + c.leverMM[1]*math.Sin(slots[1]),
		}
		g.SetVec(n-2, point[0]-target[0])
		g.SetVec(n-1, point[1]-target[1])
		// The force's work: derivatives of the closure by all unknowns.
		work := func(at int, dx, dz float64) {
			g.SetVec(at, g.AtVec(at)+fx*dx+fz*dz)
			h.Set(n-2, at, h.At(n-2, at)+dx)
			h.Set(at, n-2, h.At(at, n-2)+dx)
			h.Set(n-1, at, h.At(n-1, at)+dz)
			h.Set(at, n-1, h.At(at, n-1)+dz)
		}
		turning := func(entries []entry, length, direction float64) {
			dx, dz := -length*math.Sin(direction), length*math.Cos(direction)
			for _, a := range entries {
				work(a.at, dx*a.by, dz*a.by)
				for _, b := range entries {
					h.Set(a.at, b.at, h.At(a.at, b.at)-(fx*length*math.Cos(direction)+fz*length*math.Sin(direction))*a.by*b.by)
				}
			}
		}
		turning(slotEntry(0, 1), c.leverMM[0], directions[0])
		for i := range links {
			turning([]entry{{4 + i, 1}}, c.lengthMM[i], x[4+i])
		}
		turning(slotEntry(1, 1), out+c.leverMM[1], directions[1])
		for k := range 2 {
			way := 1.0
			if k == 1 {
				way = -1
			}
			for j, by := range []float64{c.armMM[k] / 2, -c.armMM[k] / 2} {
				work(2*k+j, way*by*math.Cos(slots[k]+math.Pi/2), way*by*math.Sin(slots[k]+math.Pi/2))
			}
		}
		// Wire let out.
		letOut := n - 3
		work(letOut, math.Cos(directions[1]), math.Sin(directions[1]))
		for _, a := range slotEntry(1, 1) {
			cross := (-fx*math.Sin(directions[1]) + fz*math.Cos(directions[1])) * a.by
			h.Set(letOut, a.at, h.At(letOut, a.at)+cross)
			h.Set(a.at, letOut, h.At(a.at, letOut)+cross)
		}
		fix := func(at int, value float64) {
			for j := range n {
				h.Set(at, j, 0)
			}
			h.Set(at, at, 1)
			g.SetVec(at, x[at]-value)
		}
		for k, value := range held {
			if !math.IsNaN(value) {
				fix(k, value)
			}
		}
		if !c.slides {
			fix(letOut, x[letOut])
		}
		var step mat.VecDense
		if err := step.SolveVec(h, g); err != nil {
			return false
		}
		worst := 0.0
		for i := range n {
			worst = math.Max(worst, math.Abs(step.AtVec(i)))
		}
		if math.IsNaN(worst) || worst > 1e3 {
			return false
		}
		damp := math.Min(1, 0.5/worst)
		for i := range n {
			by := step.AtVec(i)
			x[i] -= damp * by
		}
		if worst < 1e-11 {
			return true
		}
	}
	return false
}

type entry struct {
	at int
	by float64
}

// endRest is the direction in which the unloaded wire ends.
func (c *planarChain) endRest() float64 {
	return c.restRad[len(c.restRad)-1]
}

// edgeLoads are the loads along the four coordinates that the slots put on the wire: the slope of
// the energy.
func (c *planarChain) edgeLoads(x []float64) (loads [4]float64) {
	links, n := c.size()
	fx, fz := x[n-2], x[n-1]
	turn := [2]float64{(x[0] + x[1]) / 2, (x[2] + x[3]) / 2}
	directions := [2]float64{-turn[0], c.heading - c.seat.Rotation.Y - turn[1]}
	slots := [2]float64{0, c.heading - c.seat.Rotation.Y}
	first := c.mouth[0] * (x[4] - directions[0] - c.restRad[0])
	last := c.mouth[1] * (directions[1] - x[3+links] - (c.endRest() - c.restRad[links-1]))
	lever := [2]float64{c.leverMM[0], c.leverMM[1] + x[n-3]}
	for k := range 2 {
		joint, way := -first, 1.0
		if k == 1 {
			joint, way = last, -1
		}
		byDirection := joint + lever[k]*(-fx*math.Sin(directions[k])+fz*math.Cos(directions[k]))
		byShift := way * (fx*math.Cos(slots[k]+math.Pi/2) + fz*math.Sin(slots[k]+math.Pi/2))
		for j, sign := range []float64{1, -1} {
			loads[2*k+j] = -byDirection/2 + sign*c.armMM[k]/2*byShift
		}
	}
	return loads
}

// TestContactsAgainstEnumeration holds a plane loop in slots with play in height against the
// chain: of its 81 states of contact one is admissible, and it has the contacts and the loads that the
// spring was found with.
func TestContactsAgainstEnumeration(t *testing.T) {
	t.Parallel()
	loop := intrudingLoop()
	loop.Positions = 4
	small := spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(4), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(5), spring.BendStep(-math.Pi/2, 0.97), spring.StraightStep(3),
			spring.BendStep(-math.Pi/2+0.1, 0.97), spring.StraightStep(5), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(4),
		),
		Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, Positions: 4,
		Start: spring.Seat{AtMM: r3.Vec{X: 15.5, Z: 0.9}}, End: spring.Seat{AtMM: r3.Vec{X: 15.5, Z: -0.5}, Rotation: r3.Vec{Y: 0.05}},
	}
	// So thin that shear and stretch, which the chain has not, go with the square of a thousandth.
	thin := wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.1, WidthMM: 0.15}
	compared := 0
	for name, s := range map[string]spring.Spring{"intruding loop": loop, "vertical loop": small} {
		for _, slide := range []spring.Slide{spring.NoSlide, spring.SlideActive} {
			for _, clearMM := range []float64{0.0254, 0.127} {
				s := s
				s.Wire = thin
				heightMM := thin.ThicknessMM + clearMM
				s.AnchorHold = spring.SlotHold{Play: true, Shifts: true, HeightMM: heightMM}
				s.ActiveHold, s.Slide = s.AnchorHold, slide
				for i, p := range evaluated(t, s).Record.Positions {
					what := fmt.Sprintf("%s, %v, %g mm clear, position %d", name, slide, clearMM, i+1)
					if math.Abs(p.Play.Anchor.TurnRad.X) > 1e-6 || math.Abs(p.Play.Active.TurnRad.X) > 1e-6 {
						continue // fallen out of its plane
					}
					compared++
					checkAgainstChain(t, what, s, s.SeatAt(i), p)
				}
			}
		}
	}
	if compared < 8 {
		t.Errorf("only %d positions lie in their plane", compared)
	}
	t.Logf("%d positions compared", compared)
}

func checkAgainstChain(t *testing.T, what string, s spring.Spring, seat spring.Seat, p spring.Position) {
	t.Helper()
	type found struct {
		held  [4]float64
		force r3.Vec
	}
	var admissible [2][]found
	for k, linkMM := range []float64{0.8, 0.4} {
		c := newPlanarChain(t, s, linkMM)
		links, n := c.size()
		passive := passiveSeat(s)
		for state := range 81 {
			var held [4]float64
			for e, rest := 0, state; e < 4; e, rest = e+1, rest/3 {
				held[e] = []float64{math.NaN(), c.play[e/2], -c.play[e/2]}[rest%3]
			}
			x := make([]float64, n)
			copy(x[4:4+links], c.restRad)
			ok := true
			const parts = 4
			for part := 1.0; part <= parts && ok; part++ {
				c.seat = passive.Towards(seat, part/parts)
				ok = c.solve(x, held)
			}
			if !ok {
				continue
			}
			loads := c.edgeLoads(x)
			for e := range held {
				switch {
				case math.IsNaN(held[e]):
					ok = ok && math.Abs(x[e]) <= c.play[e/2]+1e-9
				case held[e] > 0:
					ok = ok && loads[e] <= 1e-9
				default:
					ok = ok && loads[e] >= -1e-9
				}
			}
			if ok {
				admissible[k] = append(admissible[k], found{held, r3.Vec{X: x[n-2], Z: x[n-1]}})
			}
		}
	}
	if len(admissible[0]) == 0 || len(admissible[1]) == 0 {
		t.Errorf("%s: no state is admissible", what)
		return
	}
	coarse, fine := admissible[0][0], admissible[1][0]
	// A wire that rattles may lie in several ways, with one and the same load.
	for _, other := range admissible[1][1:] {
		if r3.Norm(r3.Sub(other.force, fine.force)) > 1e-9 {
			t.Errorf("%s: two states are admissible: %v and %v", what, fine, other)
		}
	}
	// The chain's error falls with the square of its links.
	force := r3.Add(fine.force, r3.Scale(1.0/3, r3.Sub(fine.force, coarse.force)))
	got := p.Active.ForceN
	// Shear and stretch, which the chain has not, and what is left of its own error.
	// What is left of shear, and of the chain's own error; a thousandth of the force that would bend
	// the wire by a tenth of a mm.
	least := 1e-3 * 0.1 * s.Wire.Section().EI2 / 100
	// The rod begins where its line, gone on straight from the mouth, passes the slot's centre, the chain
	// where the line between the edges does: along the slot they differ by the lever times half of what the
	// square of the angle grows by as the wire bends inside. And the force along the slot has a moment about
	// the mouth that bends the chain's wire there, but not the rod's: a share of what bending inside takes of
	// the force, which is a fifth at most.
	var alongMM, bending float64
	for _, side := range []struct {
		load  tooth.Load
		state spring.SlotState
		lever float64
	}{{p.Anchor, p.Play.Anchor, s.AnchorSlotLengthMM / 2}, {p.Active, p.Play.Active, s.ActiveSlotLengthMM / 2}} {
		moment := math.Abs(side.load.CoupleNMM.Y) + side.lever*r3.Norm(side.load.ForceN) // at the mouth, no more
		line, bent := math.Abs(side.state.TurnRad.Y), moment*2*side.lever/(3*s.Wire.Section().EI2)
		bending = math.Max(bending, 0.2*side.lever*math.Abs(side.load.ForceN.X)*(line+bent)/moment)
		alongMM += side.lever * ((line+bent)*(line+bent) - line*line) / 2
	}
	share := 0.003 + bending + alongMM/r3.Norm(r3.Sub(seat.AtMM, passiveSeat(s).AtMM))
	if miss := math.Min(r3.Norm(r3.Sub(got, force)), r3.Norm(r3.Add(got, force))); !(miss <= share*r3.Norm(force)+least) {
		t.Errorf("%s: force %v, by the chain %v, held %v", what, got, force, fine.held)
	}
	if r3.Norm(force) > 100*least {
		compareContacts(t, what, p, fine.held)
	}
}

// compareContacts holds the contacts in height against those of the chain.
func compareContacts(t *testing.T, what string, p spring.Position, held [4]float64) {
	t.Helper()
	for k, slot := range []spring.SlotState{p.Play.Anchor, p.Play.Active} {
		var edges [2]spring.Contact
		for e := range edges {
			switch value := held[2*k+e]; {
			case math.IsNaN(value):
				edges[e] = spring.Free
			case value > 0:
				edges[e] = spring.PlusWall
			default:
				edges[e] = spring.MinusWall
			}
		}
		if want := atEdges(edges[0], edges[1]); slot.SecondOrder != want {
			t.Errorf("%s, slot %d: %v, by the chain %v", what, k, slot.SecondOrder, want)
		}
	}
}
