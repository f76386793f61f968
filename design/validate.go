package design

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"springwright/design/fault"
	"springwright/design/quantity"
	"springwright/design/spelling"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Validate tells everything that is wrong with a case at once: numbers that are not finite,
// teeth or a travel that are missing, windows that nothing can meet, steps of the search that
// are not set, a wire that does not go into its slots, loads against the travel or against
// statics. The error is a fault.List, in the words and under the keys of a case file, without
// a place in one; a number that is not finite stands under its field.
//
// It needs no case code, and looks neither at a free path nor at whether its kind of spring
// can be built: PatternFor does.
func (c Case) Validate() error {
	v := &validation{Case: c}
	v.finite("Case", reflect.ValueOf(c))
	v.checkTeeth()
	v.checkFamily()
	v.checkWire()
	v.checkSlot("anchor_slot", c.AnchorSlot, holdWords[:2])
	v.checkSlot("active_slot", c.ActiveSlot, holdWords[:])
	for _, f := range spring.SeatingFaults(c.AnchorSlot.Seating, c.ActiveSlot.Seating, c.ActiveSlot.Hook, c.Slide) {
		key := "anchor_slot."
		if f.Active {
			key = "active_slot."
		}
		v.blame(key+f.Key, f.Problem, f.Hint)
	}
	v.checkPlacements()
	v.checkAnchorage()
	v.whole("travel.positions", c.Positions, 2, mostPositions)
	v.checkLimits()
	v.checkTarget()
	v.between("search.length_step_mm", c.Search.LengthStepMM, quantity.Millimetre, 0.01, 5)
	v.between("search.angle_step_deg", c.Search.AngleStepRad, quantity.Degree, 0.01, 15)
	v.whole("search.starts", c.Search.Starts, 0, mostStarts)
	v.checkBender()
	v.faults = append(v.faults, c.OtherWireFaults()...)
	if v.teethKnown && !v.impossible {
		v.faults = append(v.faults, c.OverlapFaults()...)
		v.faults = append(v.faults, c.SlidingFaults()...)
	}
	if len(v.faults) == 0 {
		v.faults = c.SenseFaults()
	}
	return v.faults.Err()
}

// What a case file allows, too.
const (
	mostPositions    = 1000
	mostStarts       = 100000
	mostMostBends    = 1000
	lowestLoopMM     = 2
	leastMovementMM  = 0.01
	leastMovementRad = 0.01 * math.Pi / 180
)

var (
	plain     = quantity.Unit{Size: 1} // a number without a unit
	holdWords = [...]string{"tied", "play", "hook"}
)

// validation collects the faults of a case. Its checks are written so that a number that is
// not finite, which finite has told already, is no second fault.
type validation struct {
	Case
	faults     fault.List
	teethKnown bool
	impossible bool // a window is
}

func (v *validation) blame(key, text, hint string) {
	v.faults = append(v.faults, fault.Fault{Key: key, Text: text, Hint: hint})
}

// finite finds numbers that are not finite, wherever they stand; a window may lack an end.
func (v *validation) finite(field string, value reflect.Value) {
	switch value.Kind() {
	case reflect.Float64:
		if x := value.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			v.blame(field, strings.ToLower(fmt.Sprint(x))+" is not a finite number", "write a plain decimal number")
		}
	case reflect.Struct:
		endless := value.Type() == reflect.TypeFor[target.Window]()
		for i := range value.NumField() {
			part := value.Field(i)
			if endless && part.Kind() == reflect.Float64 && math.IsInf(part.Float(), 0) && value.Type().Field(i).Name != "Weight" {
				continue
			}
			v.finite(field+"."+value.Type().Field(i).Name, part)
		}
	case reflect.Array, reflect.Slice:
		for i := range value.Len() {
			v.finite(fmt.Sprintf("%s[%d]", field, i), value.Index(i))
		}
	}
}

func (v *validation) between(key string, value float64, unit quantity.Unit, low, high float64) {
	const rounding = 1e-13 // of a conversion there and back
	outside := unit.Outside(value)
	if slack := rounding * high; !math.IsInf(outside, 0) && (outside < low-slack || outside > high+slack) {
		v.blame(key, fmt.Sprintf("%s is out of range, allowed is %s to %s",
			inUnit(outside, unit), quantity.Format(low), inUnit(high, unit)), "check the value")
	}
}

// unlessZero is between for a number that may be left 0.
func (v *validation) unlessZero(key string, value float64, unit quantity.Unit, low, high float64) {
	if value != 0 {
		v.between(key, value, unit, low, high)
	}
}

func inUnit(outside float64, unit quantity.Unit) string {
	return strings.TrimSpace(quantity.Format(outside) + " " + unit.Symbol)
}

func (v *validation) whole(key string, value, low, high int) {
	if value < low || value > high {
		v.blame(key, fmt.Sprintf("%d is not a whole number from %d to %d", value, low, high), "check the value")
	}
}

// What to say of a number that is no tooth.
const (
	AllowedTeeth = "allowed are 11–18, 21–28, 31–38 and 41–48"
	TeethHint    = "use the two-digit numbers of ISO 3950: quadrant, then place from the midline"
)

func (v *validation) checkTeeth() {
	known := func(key string, n tooth.Number) bool {
		switch {
		case n == 0:
			v.blame(key, "is missing", "give the tooth's two-digit number of ISO 3950; "+AllowedTeeth)
		case !n.Valid():
			v.blame(key, fmt.Sprintf("%d is no permanent tooth, %s", n, AllowedTeeth), TeethHint)
		}
		return n.Valid()
	}
	active, anchor := v.Teeth.Active, v.Teeth.Anchor
	activeKnown, anchorKnown := known("teeth.active", active), known("teeth.anchor", anchor)
	switch {
	case !activeKnown || !anchorKnown:
	case anchor == active:
		v.blame("teeth.anchor", fmt.Sprintf("%d is the active tooth, too", anchor), "name the tooth that the spring is held at")
	case !v.Teeth.SameQuadrant():
		v.blame("teeth.anchor", fmt.Sprintf("%d is %s and the active tooth %d %s", anchor, anchor.QuadrantName(), active, active.QuadrantName()),
			"both teeth must stand in one quadrant")
	default:
		v.teethKnown = true
	}
}

// checkFamily checks that the kind of spring is known and suits the active slot.
func (v *validation) checkFamily() {
	if len(v.FreePath.Steps) > 0 || v.SpringFile != "" {
		return
	}
	family, err := FamilyOf(v.Family)
	switch {
	case err != nil:
		names := FamilyNames()
		hint := "known are " + strings.Join(names, ", ")
		if near := spelling.Nearest(v.Family, names); near != "" {
			hint = fmt.Sprintf("did you mean %q? ", near) + hint
		}
		v.blame("spring", fmt.Sprintf("%q is no kind of spring", v.Family), hint)
		return
	case family.Hooked && !v.ActiveSlot.Hook:
		v.blame("active_slot.hold", fmt.Sprintf("does not suit a %s, which ends in a hook", family.Name), "set ActiveSlot.Hook")
	case !family.Hooked && v.ActiveSlot.Hook:
		v.blame("active_slot.hold", fmt.Sprintf("does not suit a %s, which enters the slot", family.Name),
			`leave hold out, or choose a spring that ends in a hook, such as "cantilever"`)
	}
	for _, name := range v.Choice.OtherFamilies {
		if other, err := FamilyOf(name); err != nil || other.Hooked != family.Hooked {
			v.blame("spring", fmt.Sprintf("%q cannot be tried beside a %s", name, family.Name), "list kinds of springs that all enter the slot, or all end in a hook")
		}
	}
	if v.Heading == spring.Back && !family.FromBehind {
		v.blame("active_slot.enter", fmt.Sprintf("%q does not suit a %s", "from behind", family.Name), "leave enter out: it goes from the anchor")
	}
}

func (v *validation) checkWire() {
	w := v.Wire
	size := func(key string, mm float64) {
		if mm == 0 {
			v.blame(key, "is missing", "allowed is 0.05 to 3 mm; a round wire has diameter_mm instead")
			return
		}
		v.between(key, mm, quantity.Millimetre, 0.05, 3)
	}
	switch {
	case w.DiameterMM == 0:
		size("wire.thickness_mm", w.ThicknessMM)
		size("wire.width_mm", w.WidthMM)
	case w.ThicknessMM != 0 || w.WidthMM != 0:
		v.blame("wire.diameter_mm", "is given beside thickness_mm and width_mm", "a round wire has a diameter only; a rectangular one thickness_mm and width_mm")
	default:
		size("wire.diameter_mm", w.DiameterMM)
	}
	v.between("wire.e_gpa", w.EMPa, quantity.Gigapascal, 1, 400)
	v.between("wire.poisson", w.Poisson, plain, 0, 0.49)
	v.between("wire.yield_mpa", w.YieldMPa, quantity.Megapascal, 1, 5000)
	if w.TangentMPa != 0 && w.TangentMPa >= w.EMPa {
		v.blame("wire.tangent_mpa", quantity.Format(w.TangentMPa)+" MPa is not below the modulus "+quantity.Format(w.EMPa)+" MPa", "past yield a wire is softer than before")
	}
}

// checkSlot checks a slot that may hold its wire in the ways of words.
func (v *validation) checkSlot(key string, s spring.Slot, words []string) {
	holdsWire := func(part, of string, slotMM float64, side string, wireMM float64) {
		if wireMM > slotMM*(1+1e-9) { // of the same nominal size they may differ in the last digit
			v.blame(key+"."+part, fmt.Sprintf("%s is less than the wire's %s, %s", millimetres(slotMM), side, millimetres(wireMM)),
				"choose a thinner wire or check the slot's "+of)
		}
	}
	holdsWire("height_mm", "height", s.HeightMM, "thickness", v.Wire.HeightMM())
	if s.DepthMM != 0 {
		holdsWire("depth_mm", "depth", s.DepthMM, "width", v.Wire.DepthMM())
	}
	v.between(key+".length_mm", s.LengthMM, quantity.Millimetre, 0, 30)
	switch {
	case s.Hook && len(words) < len(holdWords):
		v.blame(key+".hold", `"hook" is not a known word here`, `write "tied" or "play"`)
	case s.Hook && s.LengthMM > 0:
		v.blame(key+".length_mm", fmt.Sprintf("is %s, but the wire is hooked there and enters no slot", millimetres(s.LengthMM)),
			"a hook or tie holds the wire at one point and takes no couple: write 0 or leave it out")
	case s.Play && s.LengthMM == 0:
		v.blame(key+".length_mm", "is 0: a point stops no tipping", `with hold = "play", write the slot's length: it tells how far the wire tips in it`)
	case s.Seating.Kind != spring.UntoldKind && s.LengthMM == 0:
		v.blame(key+".length_mm", "is 0: a point stops no tipping", fmt.Sprintf("with kind = %q, write the slot's length: it tells how far the wire tips in it", s.Seating.Kind))
	}
}

func (v *validation) checkPlacements() {
	half := (v.AnchorSlot.LengthMM + v.ActiveSlot.LengthMM) / 2
	for _, p := range [...]struct {
		key   string
		along bool // told of this placement, and not of the one before
		Placement
	}{{"now", true, v.Now}, {"goal", v.Goal.CentreMM.X != v.Now.CentreMM.X, v.Goal}} {
		along := p.CentreMM.X
		if p.along && along <= half {
			v.blame(p.key+".along_mm", fmt.Sprintf("%s leaves no wire between the slots: half the lengths of both are %s", millimetres(along), millimetres(half)),
				"along_mm is counted from the centre of one slot to the centre of the other")
		}
		if turn := quantity.Degree.Outside(r3.Norm(p.Rotation)); turn > 180 && !math.IsInf(turn, 0) {
			v.blame(p.key, fmt.Sprintf("turns by %.1f°, more than the allowed 180°", turn), "give the shorter turn")
		}
	}
	if !v.moves() {
		v.blame("goal", fmt.Sprintf("is the same as now: the travel is 0, at least %g mm or %g° are needed",
			leastMovementMM, quantity.Degree.Outside(leastMovementRad)), "write what the tooth should do")
	}
}

func (v *validation) checkAnchorage() {
	v.unlessZero("anchor.hold_ratio", v.Anchorage.HoldRatio, plain, LeastHoldRatio, MostHoldRatio)
	if _, known := ParseAnchorHold(v.Anchorage.Held.String()); !known && v.Anchorage.Held != NotHeld {
		v.blame("anchor.held", fmt.Sprintf("%d is no hold", int(v.Anchorage.Held)), "use NotHeld, BarHeld or ScrewHeld")
	}
	if v.teethKnown {
		v.faults = append(v.faults, v.Anchorage.Faults(v.Teeth)...)
	}
}

// movedMM is how far the slot's centre is to move.
func (c Case) movedMM() float64 { return r3.Norm(r3.Sub(c.Goal.CentreMM, c.Now.CentreMM)) }

// moves tells whether a case asks for any movement; a number that is not finite counts as one.
func (c Case) moves() bool {
	return !(c.movedMM() < leastMovementMM && r3.Norm(r3.Sub(c.Goal.Rotation, c.Now.Rotation)) < leastMovementRad)
}

func (v *validation) checkLimits() {
	l := v.Limits
	mm := quantity.Millimetre
	v.between("limits.loop_width_mm", l.LoopWidthMM, mm, 2, 40)
	v.between("limits.room_mesial_mm", l.RoomMesialMM, mm, 0, 40)
	v.between("limits.room_distal_mm", l.RoomDistalMM, mm, 0, 40)
	v.between("limits.shortest_straight_mm", l.ShortestStraightMM, mm, 0, 10)
	v.between("limits.largest_pre_bend_deg", l.LargestPreBendRad, quantity.Degree, 0, 90)
	v.unlessZero("limits.biting_clearance_mm", l.BitingReachMM, mm, 0.5, 20)
	v.unlessZero("limits.cheek_bulge_mm", l.CheekBulgeMM, mm, 0.5, 20)
	v.unlessZero("limits.largest_stress_ratio", l.LargestStressRatio, plain, 0.1, 1)
	v.whole("limits.most_bends", l.MostBends, 0, mostMostBends)
	if l.LoopHeightMM < lowestLoopMM {
		v.blame("limits.fold_depth_mm", fmt.Sprintf("leaves %s, less than the %d mm that a loop needs", millimetres(l.LoopHeightMM), lowestLoopMM),
			"measure again, from the slot's goal level to the fold; another kind of spring may suit")
	}
	half := v.Wire.HeightMM() / 2
	if inside := l.BendRadiusMM - half; inside < half {
		v.blame("limits.pliers_radius_mm", fmt.Sprintf("%s is less than half the wire's thickness, %s: the wire would crack", millimetres(inside), millimetres(half)),
			"use pliers of a larger radius or a thinner wire")
	}
}

func (v *validation) checkBender() {
	b := v.Bender
	v.between("bender.angle_sd_deg", b.AngleSDRad, quantity.Degree, 0, 30)
	v.between("bender.length_sd_mm", b.LengthSDMM, quantity.Millimetre, 0, 3)
	v.between("bender.slot_sd_mm", b.SlotSDMM, quantity.Millimetre, 0, 3)
	v.between("bender.slot_sd_deg", b.SlotSDRad, quantity.Degree, 0, 30)
	v.between("bender.stiffness_sd", b.StiffnessSD, plain, 0, 0.5)
	v.between("bender.gauge_sd_n", b.GaugeSDN, quantity.Newton, 0, 1)
	v.between("bender.check_sd_mm", b.CheckSDMM, quantity.Millimetre, 0, 3)
	v.between("bender.check_sd_deg", b.CheckSDRad, quantity.Degree, 0, 30)
	v.whole("bender.springs", b.Springs, 0, MostSprings)
}
