package solve

import (
	"errors"

	"springwright/design/beam"
	"springwright/design/spring"
)

// rest takes the wire to a seat and lets it come to rest in its slots, its contacts found
// together with its shape. After an error the wire is back where it was, and the slower ways of
// slotFollower may have to be gone.
func (f *slotFollower) rest(seat spring.Seat) error {
	if f.unloaded == nil {
		return beam.ErrNoConvergence
	}
	return f.restInSlots(seat)
}

// restInSlots is rest for a wire that remembers, too, which tells what is all but neutral from stable so badly
// that its contacts are looked for by other ways first.
func (f *slotFollower) restInSlots(seat spring.Seat) error {
	anchor, active := f.anchor, f.active
	f.let(&anchor, &active)
	var room [2]beam.SlotCoordinates
	var touch [2]beam.Touches
	for i, play := range f.problem.play {
		if play > tightRad {
			room[i/perSlot][i%perSlot] = play
		}
		touch[i/perSlot][i%perSlot] = touches[f.contacts[i]]
	}
	if err := f.solver.RestInSlots(seat.Pose(f.spring.Heading), anchor, active, &room, &touch); err != nil {
		return err
	}
	for i := range f.contacts {
		f.contacts[i] = contactAt[touch[i/perSlot][i%perSlot]]
	}
	return nil
}

// followQuickly is follow without the slower ways.
func (f *slotFollower) followQuickly(seat spring.Seat) error {
	way := f.rest
	if !f.seated {
		way = f.restAnew
	}
	if err := way(seat); err != nil {
		return err
	}
	f.arrived(seat)
	return nil
}

// restAnew takes the unloaded wire to a seat as tied, and lets it come to rest there: where it would
// not come to rest sliding, first as it was put in.
func (f *slotFollower) restAnew(seat spring.Seat) error {
	if f.unloaded == nil {
		return beam.ErrNoConvergence // a wire that remembers would remember the way
	}
	before := f.solver.Configuration()
	f.contacts = contacts{}
	err := f.solver.FollowTied(f.spring.HoldAt(seat), f.anchor, f.active)
	if err == nil {
		if err = f.rest(seat); err != nil && (f.slides(spring.SlideAnchor) || f.slides(spring.SlideActive)) {
			f.cinched = true
			rests := f.rest(seat)
			f.cinched = false
			if rests == nil {
				err = f.rest(seat)
			}
		}
	}
	if err != nil {
		f.solver.Restore(before)
	}
	return err
}

// usedUp tells whether an error means that a straight is known to be too short for what would slide in.
func usedUp(err error) bool {
	var straight *beam.StraightError
	return errors.As(err, &straight) && straight.MissingMM > 0
}

var (
	touches   = [...]beam.Touch{spring.Tied: beam.NoRoom, spring.Free: beam.Between, spring.PlusWall: beam.AtPlus, spring.MinusWall: beam.AtMinus}
	contactAt = [...]spring.Contact{beam.NoRoom: spring.Tied, beam.Between: spring.Free, beam.AtPlus: spring.PlusWall, beam.AtMinus: spring.MinusWall}
)
