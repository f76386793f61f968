package solve

import (
	"context"
	"math"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// FrictionBand is what friction in the slot that a wire slides through leaves open at one position.
type FrictionBand struct {
	Active, Anchor LoadBand
	// AxialN is the largest force along the wire that friction holds there in any of its states.
	AxialN float64
}

// LoadBand is the range of each component of a load, each for itself.
type LoadBand struct{ Lowest, Highest tooth.Load }

const (
	// slipTries bounds the search for where friction lets go; each halves what is left.
	slipTries = 14
	// slipShare is how near it has to come, of the force: far below what a coefficient is known to.
	slipShare = 1e-3
)

// Frictions tells the band of the loads at every position for a wire that slides through a slot,
// with the smallest and the largest coefficient of its alloy: forces along the wire with others lie
// within, and so do other loads but for thousandths of a N. It is nil for a wire that slides
// nowhere. The errors are those of Evaluate.
//
// The force along the wire is at most the coefficient times the sum of the forces on the slot's walls
// (Coulomb): below that the wire sticks as the tooth moves, there it slips. In the first seat it is left
// by the hand with any force that friction bears when nothing pushes along the wire; the two ends of
// that range and its middle are followed over the travel. The smooth wire, to which chewing may bring it at any time, is
// part of the band. A wire that two opposite edges bind may bear more in one direction than it
// could slip at: it sticks.
func Frictions(ctx context.Context, s spring.Spring) ([]FrictionBand, error) {
	if s.Slide == spring.NoSlide || s.ActiveHold.Hook {
		return nil, nil
	}
	type way struct{ share, coefficient float64 }
	ways := []way{{}} // the smooth wire
	friction := s.Wire.FrictionRange()
	for _, coefficient := range [...]float64{friction.Max, friction.Min} {
		for _, share := range [...]float64{-1, 0, 1} {
			ways = append(ways, way{share, coefficient})
		}
	}
	bands := make([]FrictionBand, max(1, s.Positions))
	for k, way := range ways {
		f, err := elasticFollower(s)
		if err != nil {
			return nil, err
		}
		for i := range bands {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			seat := s.SeatAt(i)
			if err := f.leave(seat, way.share, way.coefficient); err != nil {
				return nil, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: explained(s, seat, err)}
			}
			active := s.ActiveLoad(f.solver.EndLoad(), f.solver.End().At, seat.Pose(s.Heading))
			anchor := s.AnchorLoad(f.solver.BaseLoad())
			b := &bands[i]
			if k == 0 {
				b.Active, b.Anchor = LoadBand{active, active}, LoadBand{anchor, anchor}
			}
			b.Active.take(active)
			b.Anchor.take(anchor)
			b.AxialN = math.Max(b.AxialN, math.Abs(f.alongN()))
		}
	}
	return bands, nil
}

// elasticFollower carries the unloaded wire of a spring.
func elasticFollower(s spring.Spring) (*slotFollower, error) {
	solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	f, err := newSlotFollower(s, solver)
	if err != nil {
		return nil, err
	}
	unloaded := solver.Configuration()
	f.unloaded = &unloaded
	return f, nil
}

// slipAt takes the wire to a seat with a force along it where it slides, tension above 0.
func (f *slotFollower) slipAt(seat spring.Seat, axialN float64) error {
	f.cinched, f.axialN = false, axialN
	_, err := f.follow(seat)
	return err
}

// leave takes the wire to its first seat and leaves it there with a share of what friction bears, or
// to another one under friction.
func (f *slotFollower) leave(seat spring.Seat, share, coefficient float64) error {
	if coefficient == 0 {
		return f.slipAt(seat, 0)
	}
	if !f.seated {
		if err := f.slipAt(seat, 0); err != nil || share == 0 {
			return err
		}
		return f.slipAt(seat, share*coefficient*f.wallForceN())
	}
	// Restored anew it would have forgotten where it stuck.
	stuck := f.unloaded.Slid(f.solver.Configuration())
	f.unloaded = &stuck
	f.cinched = true
	_, err := f.follow(seat)
	f.cinched = false
	if err != nil {
		return err
	}
	axialN := f.alongN()
	if math.Abs(axialN) <= coefficient*f.wallForceN() {
		return nil
	}
	way := math.Copysign(1, axialN)
	low, high := 0.0, math.Abs(axialN) // it slips between
	for range slipTries {
		middle := (low + high) / 2
		if err := f.slipAt(seat, way*middle); err != nil {
			return err
		}
		bears := coefficient * f.wallForceN()
		if math.Abs(bears-middle) <= slipShare*middle {
			return nil
		}
		if bears > middle {
			low = middle
		} else {
			high = middle
		}
	}
	return nil
}

// alongN is the force along the wire in the slot that it slides through, tension above 0.
func (f *slotFollower) alongN() float64 {
	if f.spring.Slide == spring.SlideAnchor {
		return -r3.Dot(f.solver.Start().D1, f.solver.BaseLoad().ForceN)
	}
	return r3.Dot(f.solver.End().D1, f.solver.EndLoad().ForceN)
}

// wallForceN is the sum of the forces between the wire and the walls of the slot that it slides
// through.
func (f *slotFollower) wallForceN() float64 {
	_, loads := loadsIn(f.solver)
	slot, lengthMM, k := f.anchor, f.spring.AnchorSlotLengthMM, 0
	if f.spring.Slide == spring.SlideActive {
		slot, lengthMM, k = f.active, f.spring.ActiveSlotLengthMM, perSlot
	}
	w := f.spring.Wire
	sum := 0.0
	if width := math.Max(w.DepthMM(), w.HeightMM()); width > 0 {
		sum += 2 * math.Abs(loads[k]) / width
	}
	across := func(one, other, armMM float64) {
		if armMM > 0 { // forces at the edges
			sum += (math.Abs(one) + math.Abs(other)) / armMM
			return
		}
		// A couple borne by the edges of the slot, and a force shared by them.
		arm := lengthMM / 2
		if !(arm > 0) {
			sum += math.Abs(other)
			return
		}
		sum += math.Max(math.Abs(one)/arm, math.Abs(other))
	}
	height, depth := loads[k+3], loads[k+4]
	across(loads[k+1], height, slot.HeightArmMM)
	across(loads[k+2], depth, slot.DepthArmMM)
	return sum
}

// take widens a band to hold a load.
func (b *LoadBand) take(l tooth.Load) {
	b.Lowest = tooth.Load{ForceN: smaller(b.Lowest.ForceN, l.ForceN), CoupleNMM: smaller(b.Lowest.CoupleNMM, l.CoupleNMM)}
	b.Highest = tooth.Load{
		ForceN:    r3.Scale(-1, smaller(r3.Scale(-1, b.Highest.ForceN), r3.Scale(-1, l.ForceN))),
		CoupleNMM: r3.Scale(-1, smaller(r3.Scale(-1, b.Highest.CoupleNMM), r3.Scale(-1, l.CoupleNMM))),
	}
}

func smaller(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: math.Min(a.X, b.X), Y: math.Min(a.Y, b.Y), Z: math.Min(a.Z, b.Z)}
}
