package export

import (
	"math"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// freeEnd is where the free end lies against the active slot at the start, with only the
// anchor end seated: distances without sign, with words for their directions.
type freeEnd struct {
	upMM, alongMM, acrossMM       float64
	upWord, alongWord, acrossWord string
	turnRad                       float64 // between the wire's end and the slot
	// The parts of that turn, anticlockwise: seen from the cheek, from the biting side, and
	// along the arch from the anchor tooth.
	cheekRad, bitingRad, archRad float64
}

func (f *flow) freeEnd() freeEnd {
	end := f.job.Spring.Rod().UnloadedEnd(beam.Origin())
	slot := f.job.Spring.Start.Pose(f.job.Spring.Heading)
	off := r3.Sub(end.At, slot.At)
	turn := beam.RotationBetween(slot, end)
	teeth := f.view.Teeth
	word := func(v float64, plus, minus string) string {
		if v < 0 {
			return f.say(minus)
		}
		return f.say(plus)
	}
	return freeEnd{
		upMM: math.Abs(off.Z), upWord: word(off.Z, "apical", f.view.OcclusalWord()),
		alongMM: math.Abs(off.X), alongWord: word(off.X*teeth.MesialSign(), "mesial", "distal"),
		acrossMM: math.Abs(off.Y), acrossWord: word(off.Y*teeth.BuccalSign(), teeth.Active.OutwardWord(), teeth.Active.InwardWord()),
		turnRad: r3.Norm(turn),
		// A turn is anticlockwise about an axis that points at the viewer. From the cheek that
		// is right × up, from the biting side −z, and for somebody who looks along +x, −x.
		cheekRad: -f.view.XSign * f.view.ZSign * turn.Y, bitingRad: -turn.Z, archRad: -turn.X,
	}
}

// endMark names the wire's last mark on paper: the point that enters the active slot, or
// where the hook is. The cut wire goes on behind it.
const endMark = "E"
