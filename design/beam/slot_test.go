package beam_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// slotSeat is a seat for the end of a straight wire.
func slotSeat(at, turn r3.Vec) beam.Pose {
	seat := beam.Origin().Turned(turn)
	seat.At = at
	return seat
}

// mustFollowSlots follows and stops the test if that fails.
func mustFollowSlots(t testing.TB, s *beam.Solver, seat beam.Pose, base, end beam.Slot) {
	t.Helper()
	if err := s.FollowSlots(seat, base, end); err != nil {
		t.Fatalf("FollowSlots: %v", err)
	}
}

// The three angles and the pose they make belong together, however far the wire rolled.
func TestTurnInSlot(t *testing.T) {
	t.Parallel()
	slot := beam.Origin().Turned(r3.Vec{X: 0.4, Y: -1.1, Z: 2})
	for _, turn := range []r3.Vec{{}, {X: 0.3, Y: 0.04, Z: -0.02}, {X: -2.9, Y: 0.2, Z: 0.1}, {Y: -0.5}, {X: 1e-9, Z: 1e-10}} {
		swing := r3.Add(r3.Scale(turn.Y, slot.D2), r3.Scale(turn.Z, slot.D3))
		wire := slot.Turned(r3.Scale(turn.X, slot.D1)).Turned(swing)
		nearVec(t, "angles", beam.TurnInSlot(slot, wire), turn, 1e-14)
	}
}

// Held without play, a wire carries what a clamp puts on it.
func TestSlotWithoutPlayIsAClamp(t *testing.T) {
	t.Parallel()
	rod := boxLoop(titaniumWire())
	hold := boxHold(rod, 1)
	for _, options := range []beam.Options{{}, {RoughTangent: true}} {
		clamped := beam.NewSolver(rod, beam.Origin(), options)
		mustFollow(t, clamped, hold)
		slots := beam.NewSolver(rod, beam.Origin(), options)
		mustFollowSlots(t, slots, hold.Pose, beam.Slot{LeverMM: 2}, beam.Slot{LeverMM: 1.5})
		nearWrench(t, "end load", slots.EndLoad(), clamped.EndLoad(), 1e-8)
		nearWrench(t, "base load", slots.BaseLoad(), clamped.BaseLoad(), 1e-8)
	}
}

// A wire that is held turned in both slots is that wire clamped in turned poses.
func TestWireTurnedInSlotsIsAClampThere(t *testing.T) {
	t.Parallel()
	rod := boxLoop(titaniumWire())
	const baseLever, endLever = 2.0, 1.5
	seat := boxHold(rod, 1).Pose
	base, end := r3.Vec{X: 0.2, Y: 0.04, Z: -0.05}, r3.Vec{X: -0.25, Y: -0.03, Z: 0.06}
	s := beam.NewSolver(rod, beam.Origin(), fine())
	mustFollowSlots(t, s, seat, beam.Slot{LeverMM: baseLever, TurnRad: base}, beam.Slot{LeverMM: endLever, TurnRad: end})
	baseTurn, _, endTurn, _ := s.PlacesInSlots()
	nearVec(t, "base turn", baseTurn, base, 0)
	nearVec(t, "end turn", endTurn, end, 1e-11)

	turned := func(p beam.Pose, turn r3.Vec, lever float64) beam.Pose {
		centre := p.Along(lever).At
		swing := r3.Add(r3.Scale(turn.Y, p.D2), r3.Scale(turn.Z, p.D3))
		p = p.Turned(r3.Scale(turn.X, p.D1)).Turned(swing)
		p.At = centre
		return p.Along(-lever)
	}
	start := turned(beam.Origin(), base, -baseLever)
	clamped := beam.NewSolver(rod, start, fine())
	mustFollow(t, clamped, beam.Clamp(turned(seat, end, endLever)))
	nearVec(t, "end", s.End().At, clamped.End().At, 1e-9)
	nearWrench(t, "end load", s.EndLoad(), clamped.EndLoad(), 1e-7)
	nearWrench(t, "base load", s.BaseLoad().About(r3.Vec{}, start.At), clamped.BaseLoad(), 1e-7)
}

// Free in both slots, no couple is left about either centre, and the wire lies where the
// same centres with hinges would hold it, whichever way the solver came.
func TestFreeTurnsLeaveNoCouple(t *testing.T) {
	t.Parallel()
	rod := boxLoop(titaniumWire())
	seat := boxHold(rod, 1).Pose
	free := [3]bool{true, true, true}
	base, end := beam.Slot{LeverMM: 2, FreeTurn: free}, beam.Slot{LeverMM: 1.5, FreeTurn: free}
	var loads []beam.Wrench
	for _, first := range []beam.Slot{{LeverMM: 1.5}, end, {LeverMM: 1.5, TurnRad: r3.Vec{X: 0.1, Y: -0.1, Z: 0.1}}} {
		s := beam.NewSolver(rod, beam.Origin(), fine())
		mustFollowSlots(t, s, seat, beam.Slot{LeverMM: 2}, first)
		// All of both free leaves the wire free to roll about the line of the centres.
		partly := base
		partly.FreeTurn[0] = false
		mustFollowSlots(t, s, seat, partly, end)
		_, _, baseCouple, endCouple := s.InSlots()
		nearVec(t, "end couple", r3.Vec{X: endCouple[0], Y: endCouple[1], Z: endCouple[2]}, r3.Vec{}, 1e-9)
		near(t, "base second order", baseCouple[1], 0, 1e-9)
		near(t, "base first order", baseCouple[2], 0, 1e-9)
		centre := s.End().Along(1.5).At
		nearVec(t, "centre", centre, seat.Along(1.5).At, 1e-10)
		nearVec(t, "moment about the centre", s.EndLoad().About(s.End().At, centre).MomentNMM, r3.Vec{}, 1e-9)
		loads = append(loads, s.EndLoad())
	}
	nearWrench(t, "load by another way", loads[1], loads[0], 1e-7)
	nearWrench(t, "load by a third way", loads[2], loads[0], 1e-7)
}

// A wire that slides through a slot is as long as a wire of fixed length must be for its
// guided end to come to lie at the slot's entry.
func TestSlidingWireHasTheLengthItNeeds(t *testing.T) {
	t.Parallel()
	const entryMM, sideMM, lever = 8.0, 1.0, 1.5
	section := titaniumWire()
	for _, end := range []bool{true, false} {
		s := beam.NewSolver(beam.Rod{Section: section, Pieces: []beam.Piece{line(entryMM)}}, beam.Origin(), fine())
		seat := slotSeat(r3.Vec{X: entryMM, Y: sideMM}, r3.Vec{})
		mustFollowSlots(t, s, seat, beam.Slot{LeverMM: lever, Slides: !end}, beam.Slot{LeverMM: lever, Slides: end})
		baseMM, endMM := s.SlidMM()
		nearVec(t, "end", s.End().At, seat.At, 1e-10)
		near(t, "axial force", s.EndLoad().ForceN.X, 0, 1e-8)

		// Outside: a wire of fixed length that is guided in the slot; its length found by
		// bisection so that its end comes to lie at the entry.
		guide := func(lengthMM float64) *beam.Solver {
			g := beam.NewSolver(beam.Rod{Section: section, Pieces: []beam.Piece{line(lengthMM)}}, beam.Origin(), fine())
			if err := guided(g, entryMM, sideMM); err != nil {
				t.Fatal(err)
			}
			return g
		}
		low, high := entryMM, entryMM+0.2
		for range 45 {
			if middle := (low + high) / 2; guide(middle).End().At.X < entryMM {
				low = middle
			} else {
				high = middle
			}
		}
		near(t, "length", entryMM+baseMM+endMM, low, 1e-9)
		nearWrench(t, "end load", s.EndLoad(), guide(low).EndLoad(), 1e-6)
	}
}

// A wire of one length, its seat moved to where its end comes to lie: guided beam, EI = L =
// 1, and the wire of TestStraightWireFreeToSlide. There, nothing has slid.
func TestSlidingWireThatFits(t *testing.T) {
	t.Parallel()
	stiff := planar(1)
	stiff.EA = 1e8 // so stiff that the shortening stays below the tolerance
	for _, row := range []struct {
		section                                    beam.Section
		lengthMM, sideMM, forceN, momentNMM, endMM float64
		tolerance                                  float64
	}{
		{stiff, 1, 0.3, 3.97239122, -1.87542604, 1 - 0.05576972, 1e-6},
		{stiff, 1, 0.6, 11.84578892, -4.43523373, 1 - 0.25117124, 1e-6},
		{titaniumWire(), 8, 0.5, 3.22873423, -12.88486536, 7.98137255, 1e-6},
		{titaniumWire(), 8, 2, 13.74286237, -52.88204283, 7.69592846, 1e-6},
	} {
		s := beam.NewSolver(beam.Rod{Section: row.section, Pieces: []beam.Piece{line(row.lengthMM)}}, beam.Origin(), parts(row.lengthMM, 150))
		mustFollowSlots(t, s, slotSeat(r3.Vec{X: row.endMM, Y: row.sideMM}, r3.Vec{}), beam.Slot{}, beam.Slot{Slides: true})
		_, slid := s.SlidMM()
		near(t, "slid", slid, 0, 1e-7*row.lengthMM)
		near(t, "force", s.EndLoad().ForceN.Y, row.forceN, row.tolerance*row.forceN)
		near(t, "moment", s.EndLoad().MomentNMM.Z, row.momentNMM, -row.tolerance*row.momentNMM)
	}
}

// A bend next to the slot cannot slide in, and neither can more than there is.
func TestSlidingNeedsAStraight(t *testing.T) {
	t.Parallel()
	bent := beam.NewSolver(beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(3), arc(1, 90)}}, beam.Origin(), beam.Options{})
	if err := bent.FollowSlots(bent.End(), beam.Slot{}, beam.Slot{Slides: true}); !errors.Is(err, beam.ErrNoStraight) {
		t.Errorf("a bend slides: %v", err)
	}
	straight := beam.NewSolver(beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(3), arc(1, 180), line(0.5)}}, beam.Origin(), beam.Options{})
	seat := straight.End()
	seat.At.X++
	err := straight.FollowSlots(seat, beam.Slot{}, beam.Slot{Slides: true})
	if !errors.Is(err, beam.ErrNoStraight) {
		t.Errorf("more slides in than there is: %v", err)
	}
	var stall *beam.StallError
	if !errors.As(err, &stall) || !(math.Abs(stall.Reached-0.5) < 0.1) {
		t.Errorf("it stops elsewhere than half-way: %v", err)
	}
}

// A state that was kept comes back.
func TestRestore(t *testing.T) {
	t.Parallel()
	rod := boxLoop(titaniumWire())
	s := beam.NewSolver(rod, beam.Origin(), beam.Options{})
	seat := boxHold(rod, 1).Pose
	base := beam.Slot{LeverMM: 2, FreeTurn: [3]bool{false, true, false}}
	end := beam.Slot{LeverMM: 1, Slides: true}
	mustFollowSlots(t, s, seat, base, end)
	load, at, kept := s.EndLoad(), s.End(), s.Configuration()
	mustFollowSlots(t, s, boxHold(rod, 0.3).Pose, beam.Slot{LeverMM: 2}, beam.Slot{LeverMM: 1})
	s.Restore(kept)
	nearWrench(t, "end load", s.EndLoad(), load, 0)
	nearVec(t, "end", s.End().At, at.At, 1e-13) // lengths there and back round off
}

// A straight wire rolls freely when both slots let it: it stays as it is. A force across
// the side that it bends over the hard way would tip it over: that is unstable.
func TestNeutralRoll(t *testing.T) {
	t.Parallel()
	roll := beam.Slot{FreeTurn: [3]bool{true, false, false}}
	soft := titaniumWire() // bends easily about d3
	follow := func(section beam.Section, shift r3.Vec) (*beam.Solver, error) {
		s := beam.NewSolver(beam.Rod{Section: section, Pieces: []beam.Piece{line(8)}}, beam.Origin(), beam.Options{})
		end := roll
		end.Slides = true
		return s, s.FollowSlots(slotSeat(r3.Add(r3.Vec{X: 8}, shift), r3.Vec{}), roll, end)
	}
	for _, shift := range []r3.Vec{{}, {Y: 0.5}} {
		s, err := follow(soft, shift)
		if err != nil {
			t.Fatalf("shift %v: %v", shift, err)
		}
		_, _, turn, _ := s.PlacesInSlots()
		near(t, "roll", turn.X, 0, 1e-9)
	}
	if _, err := follow(soft, r3.Vec{Z: 0.5}); !errors.Is(err, beam.ErrUnstable) {
		t.Errorf("bent the hard way, free to roll: %v, want ErrUnstable", err)
	}
	round := soft
	round.EI2, round.EI3 = 200, 200
	if _, err := follow(round, r3.Vec{Y: 0.3, Z: 0.4}); err != nil {
		t.Errorf("round: %v", err)
	}
}

// SlotStiffness is the change of the loads with the coordinates, by differences; it is
// symmetric, for the loads are the slope of the energy. With edges in height, in depth and in both, and with a wire
// that bends between them.
func TestSlotStiffness(t *testing.T) {
	t.Parallel()
	const h = 1e-5
	rod := boxLoop(titaniumWire())
	seat := boxHold(rod, 1).Pose
	base, end := beam.Slot{LeverMM: 2, TurnRad: r3.Vec{X: 0.2, Y: 0.05, Z: -0.1}}, beam.Slot{LeverMM: 1.5, TurnRad: r3.Vec{X: -0.3, Y: 0.1, Z: 0.05}}
	turn := func(s *beam.Slot, i int, by float64) {
		*[]*float64{&s.TurnRad.X, &s.TurnRad.Y, &s.TurnRad.Z, &s.EdgeRad[0], &s.EdgeRad[1]}[i] += by
	}
	for row, arms := range [][4]float64{{}, {1.9, 0, 1.4, 0}, {1.9, 1.8, 1.4, 1.3}, {0, 1.8, 1.4, 1.3}, {1.9, 1.8, 1.4, 1.3}} {
		base.HeightArmMM, base.DepthArmMM, end.HeightArmMM, end.DepthArmMM = arms[0], arms[1], arms[2], arms[3]
		base.EdgeRad, end.EdgeRad = [2]float64{}, [2]float64{}
		base.Give, end.Give = beam.SlotCoordinates{}, beam.SlotCoordinates{}
		if row == 4 {
			base.BendInside(false, rod.Section)
			end.BendInside(true, rod.Section)
		}
		for k, at := range []*float64{&base.EdgeRad[0], &base.EdgeRad[1], &end.EdgeRad[0], &end.EdgeRad[1]} {
			if arms[k] > 0 {
				*at = 0.02 * float64(k-2)
			}
		}
		for _, slides := range []bool{false, true} {
			end.Slides = slides
			s := beam.NewSolver(rod, beam.Origin(), fine())
			mustFollowSlots(t, s, seat, base, end)
			stiffness, ok := s.SlotStiffness()
			if !ok {
				t.Fatal("no stiffness")
			}
			loads := func(column int, by float64) (all [10]float64) {
				a, b := base, end
				if column < 5 {
					turn(&a, column, by)
				} else {
					turn(&b, column-5, by)
				}
				mustFollowSlots(t, s, seat, a, b)
				at, to, x, y := s.InSlots()
				near(t, "held at the base", at[1], a.TurnRad.Y, 1e-14)
				near(t, "held in the far slot", to[3], b.EdgeRad[0], 1e-10)
				copy(all[:5], x[:])
				copy(all[5:], y[:])
				return all
			}
			shift := map[int]bool{3: arms[0] == 0, 4: arms[1] == 0, 8: arms[2] == 0, 9: arms[3] == 0}
			for j := range 10 {
				if shift[j] {
					continue // held at 0
				}
				plus, minus := loads(j, h), loads(j, -h)
				for i := range 10 {
					if shift[i] {
						continue
					}
					near(t, fmt.Sprintf("arms %d, stiffness %d, %d", row, i, j), stiffness[i][j], (plus[i]-minus[i])/(2*h), 1e-2) // of 100: clamped, the wire is softened a little
					if !slides {                                                                                                  // the force along the wire is not the slope of an energy in its length
						near(t, "symmetry", stiffness[i][j], stiffness[j][i], 1e-3)
					}
				}
			}
		}
	}
}
