package design

import (
	"fmt"
	"math"
	"slices"

	"springwright/design/fault"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Choice is what may be chosen for a case beside the numbers of its spring. The zero value leaves
// nothing to choose.
type Choice struct {
	OtherWires []wire.Wire // to be tried beside the case's own
	// Task is why the case's kind of spring was taken; notice.NoTask where the prescriber has named it.
	Task          notice.Task
	OtherFamilies []string // to be tried beside the case's own, which are all hooked or all not
	// EitherEntry tells that the wire may enter the active slot from the other side, too, where its
	// kind of spring allows it.
	EitherEntry bool
}

// MostWires bounds the wires to choose from: no drawer holds more (choice).
const MostWires = 12

// restMM is a shift that counts as none, what is left of measuring with a calliper (choice).
const restMM = 0.1

// WithSuitedKind is the case with the kinds of springs that suit its task, from the planned movement
// and the wanted loads: the first one its own, the others to be tried beside it. The slots, the
// placements and the target have to be those that hold. What suits what is common practice.
func (c Case) WithSuitedKind() Case {
	if c.ActiveSlot.LengthMM == 0 && !c.ActiveSlot.Hook { // a point holds no wire but by a hook, which slides on it
		c.ActiveSlot.Hook, c.Slide = true, spring.SlideActive
	}
	task, names := c.suitedKinds()
	c.Choice.Task, c.Family, c.Choice.OtherFamilies = task, names[0], append([]string(nil), names[1:]...)
	c.Choice.EitherEntry = c.Choice.EitherEntry && slices.ContainsFunc(names, func(name string) bool {
		f, err := FamilyOf(name)
		return err == nil && f.FromBehind
	})
	return c
}

func (c Case) suitedKinds() (task notice.Task, names []string) {
	shift, turn := r3.Sub(c.Goal.CentreMM, c.Now.CentreMM), r3.Sub(c.Goal.Rotation, c.Now.Rotation)
	along, across, up := math.Abs(shift.X), math.Abs(shift.Y), math.Abs(shift.Z)
	switch {
	case c.ActiveSlot.Hook && c.Teeth.Active.Incisor() && c.Teeth.Anchor.Molar() && shift.Z > max(along, across):
		return notice.IncisorsIntruded, []string{IntrusionArchName, CantileverName}
	case c.ActiveSlot.Hook:
		return notice.PointForce, []string{CantileverName, CantileverWithHelixName}
	case c.Heading == spring.Back && !c.Choice.EitherEntry: // that only a rectangular loop does
	case r3.Norm(shift) < restMM && max(math.Abs(turn.X), math.Abs(turn.Y)) > math.Abs(turn.Z) && !c.asksForForce():
		return notice.RootAlone, []string{RootSpringName}
	case along > max(across, up, restMM) && shift.X < 0:
		return notice.SpaceClosed, []string{TLoopName, ClosedVerticalLoopName}
	case along > max(across, up, restMM):
		return notice.SpaceOpened, []string{OpenVerticalLoopName}
	}
	return notice.OtherTask, []string{RectangularLoopName}
}

// asksForForce tells whether the target asks for a force in one sense.
func (c Case) asksForForce() bool {
	for k := tooth.ForceX; k <= tooth.ForceZ; k++ {
		if c.Target.Sense(target.OfActive(k)) != 0 {
			return true
		}
	}
	return false
}

// WithWire is the case with another wire, bent with the same pliers.
func (c Case) WithWire(w wire.Wire) Case {
	c.Limits.BendRadiusMM += (w.HeightMM() - c.Wire.HeightMM()) / 2
	c.Wire = w
	return c
}

// Variants are the cases without a choice that a case stands for: one for each wire, kind of spring
// and side from which the active slot is entered, the case's own first.
func (c Case) Variants() []Case {
	choice := c.Choice
	c.Choice = Choice{Task: choice.Task}
	cases := []Case{c}
	for _, w := range choice.OtherWires {
		cases = append(cases, c.WithWire(w))
	}
	var all []Case
	for _, one := range cases {
		for _, name := range append([]string{c.Family}, choice.OtherFamilies...) {
			one.Family = name
			one.Heading = c.Heading
			f, err := FamilyOf(name)
			if err == nil && !f.FromBehind {
				one.Heading = spring.On
			}
			all = append(all, one)
			if choice.EitherEntry && err == nil && f.FromBehind {
				one.Heading = spring.Back - c.Heading
				all = append(all, one)
			}
		}
	}
	return all
}

// OtherWireFaults tells what is wrong with the wires of the choice, under the keys of a case file,
// where the case's own wire is the first of the list. Numbers that are not finite are no fault here.
func (c Case) OtherWireFaults() fault.List {
	var list fault.List
	if n := len(c.Choice.OtherWires) + 1; n > MostWires {
		list = append(list, fault.Fault{Key: "wire.choose", Text: fmt.Sprintf("lists %d wires, more than the allowed %d", n, MostWires), Hint: "leave some out"})
	}
	insideMM := c.Limits.BendRadiusMM - c.Wire.HeightMM()/2
	for i, w := range c.Choice.OtherWires {
		if text, hint := c.wireFault(w, insideMM); text != "" {
			list = append(list, fault.Fault{Key: fmt.Sprintf("wire.choose[%d]", i+2), Text: text, Hint: hint})
		}
	}
	return list
}

// wireFault is the first thing that is wrong with another wire of the choice; "" for a sound one.
func (c Case) wireFault(w wire.Wire, insideMM float64) (text, hint string) {
	if w.IsSuperelastic() {
		return "is superelastic", SuperelasticChoiceHint
	}
	for _, slot := range [...]struct {
		name string
		spring.Slot
	}{{"anchor", c.AnchorSlot}, {"active", c.ActiveSlot}} {
		if w.HeightMM() > slot.HeightMM*(1+1e-9) { // of the same nominal size they may differ in the last digit
			return fmt.Sprintf("is %s thick, and the %s slot %s high", millimetres(w.HeightMM()), slot.name, millimetres(slot.HeightMM)), "leave it out, or check the slot's height"
		}
		if slot.DepthMM > 0 && w.DepthMM() > slot.DepthMM*(1+1e-9) {
			return fmt.Sprintf("is %s wide, and the %s slot %s deep", millimetres(w.DepthMM()), slot.name, millimetres(slot.DepthMM)), "leave it out, or check the slot's depth"
		}
	}
	if half := w.HeightMM() / 2; insideMM < half*(1-1e-9) {
		return fmt.Sprintf("would crack: the pliers' radius of %s is less than half its thickness, %s", millimetres(round9(insideMM)), millimetres(half)), "use pliers of a larger radius, or leave it out"
	}
	return "", ""
}

// SuperelasticChoiceHint says what to do with a superelastic wire among those to choose from.
const SuperelasticChoiceHint = "leave it out: such a wire is not bent by hand"

// round9 takes away what adding half a wire and taking it off again leaves.
func round9(mm float64) float64 { return math.Round(mm*1e9) / 1e9 }
