package casefile

import (
	"fmt"
	"math"

	"springwright/design/quantity"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// What still makes sense in a spring file.
const (
	longestTitle   = 120
	longestWireMM  = 500
	mostSteps      = 1000
	mostPositions  = 1000
	usualPositions = 7
	// closestSlotsMM is how near two slots may come before they count as one.
	closestSlotsMM = 0.1
)

var (
	lengthSpan   = span{unit: quantity.Millimetre, high: longestWireMM}
	overSpan     = span{unit: quantity.Millimetre, low: 0.01, high: longestWireMM}
	radiusSpan   = span{unit: quantity.Millimetre, high: 100, above: true}
	bendSpan     = span{unit: quantity.Degree, low: -360, high: 360}
	rotationSpan = span{unit: quantity.Degree, low: -180, high: 180}
	slotSpan     = span{unit: quantity.Millimetre, high: 30}
	placeSpan    = span{unit: quantity.Millimetre, low: -200, high: 200}
)

// ReadSpring reads a spring file. name is the file's name for messages. The error is a
// fault.List with everything that is wrong.
//
// Left out: title "", teeth not known, slot lengths 0, positions 7, angles of start and end 0 each (those
// of end are not taken from start), end as start where positions is 1, hold "tied", slide
// "none". Steps that do nothing are left out of the path. met = false with misses and exceeded becomes the Shortfall.
func ReadSpring(name string, data []byte) (spring.Spring, error) {
	r, root := open(name, data)
	if root.peek("target") != nil && root.peek("path") == nil {
		r.report(place{1, 1}, "", "is a case file, not a spring file", "\"springwright design\" makes its spring: give the spring.toml that it writes")
		return spring.Spring{}, r.faults.Err()
	}
	var s spring.Spring
	s.Title = root.title()
	s.Slide = root.slide()
	s.Shortfall = root.shortfall()
	if root.has("teeth") {
		s.Teeth, _ = root.pair()
	}
	s.Wire = root.wire()
	s.Path = spring.PathOf(root.bentPath(s)...)
	anchor := root.table("anchor")
	s.AnchorSlotLengthMM = anchor.optional("slot_length_mm", slotSpan, 0)
	var seatedAnchor, seatedActive spring.Seating
	s.AnchorHold, seatedAnchor = anchor.slotHold(s.Wire, s.AnchorSlotLengthMM, false)
	anchor.close()
	seatedActive = root.active(&s)
	root.blameSeating("anchor", "active", seatedAnchor, seatedActive, s.ActiveHold.Hook, s.Slide)
	s = s.SeatedAs(seatedAnchor, seatedActive)
	root.slidesOnStraight(s)
	root.close()
	if err := r.faults.Err(); err != nil {
		return spring.Spring{}, err
	}
	return s, nil
}

// bentPath reads the steps of the wire; s has the wire already.
func (s *section) bentPath(made spring.Spring) spring.Steps {
	const hint = "write path = [ { straight_mm = 2.0 }, { bend_deg = 90, radius_mm = 0.6 }, … ], before the first [table]"
	e := s.ask("path")
	if e == nil {
		s.missing("path", hint)
		return nil
	}
	switch n := e.value; {
	case n.kind != array:
		s.wrongKind(n, "path", "an array", hint)
		return nil
	case len(n.items) == 0:
		s.blame("path", "is empty", hint)
		return nil
	case len(n.items) > mostSteps:
		s.blame("path", fmt.Sprintf("has %d steps, more than the allowed %d", len(n.items), mostSteps), "describe one spring only")
		return nil
	}
	path := make(spring.Steps, len(e.value.items))
	for i, item := range e.value.items {
		step := &section{reader: s.reader, path: fmt.Sprintf("path[%d]", i+1), at: item.at, node: item}
		if item.kind != table {
			s.wrongKind(item, step.path, "a step in braces", "write { straight_mm = 2.0 }")
			path[i].LengthMM = math.NaN()
			continue
		}
		if s.open != nil {
			s.open.step = i
		}
		path[i] = step.step(made)
	}
	// NaN from a faulty step makes the sum NaN and the check silent.
	switch length := path.WireLengthMM(); {
	case length > longestWireMM:
		s.blame("path", fmt.Sprintf("is %.1f mm long, more than the allowed %d mm", length, longestWireMM), "are all lengths in mm?")
	case length == 0:
		s.blame("path", "has no length", "give at least one straight_mm above 0")
	}
	return path
}

// step reads one step of a path.
func (s *section) step(made spring.Spring) spring.Step {
	defer s.close()
	var kinds []string
	for _, key := range []string{"straight_mm", "bend_deg", "twist_deg"} {
		if s.has(key) {
			kinds = append(kinds, key)
		}
	}
	if len(kinds) != 1 {
		if len(kinds) == 0 {
			s.report(s.at, s.path, "is no straight, bend or twist", "give one of straight_mm, bend_deg, twist_deg")
		} else {
			s.blame(kinds[1], "is given beside "+kinds[0], "a step is one straight, bend or twist: write two steps")
		}
		for _, key := range []string{"radius_mm", "order", "over_mm"} {
			s.ask(key)
		}
		return spring.Step{LengthMM: math.NaN()}
	}
	switch kinds[0] {
	case "straight_mm":
		return spring.StraightStep(s.number("straight_mm", lengthSpan, "", spring.Freedom{Name: "length"}))
	case "twist_deg":
		return spring.Step{
			Kind:     spring.Twist,
			AngleRad: s.number("twist_deg", bendSpan, "", spring.Freedom{Name: "twist", Angle: true}),
			LengthMM: s.number("over_mm", overSpan, "say over which length of wire it is twisted", spring.Freedom{Name: "length of the twist"}),
		}
	}
	step := spring.BendStep(
		s.number("bend_deg", bendSpan, "", spring.Freedom{Name: "bend", Angle: true}),
		s.number("radius_mm", radiusSpan, "say the bend's radius to the wire's centreline", spring.Freedom{Name: "radius", Radius: true}),
	)
	step.Order = s.whole("order", 1, 2, 2)
	side, extentMM := "thickness", made.Wire.HeightMM()
	if step.Order == 1 {
		side, extentMM = "width", made.Wire.DepthMM()
	}
	if made.Wire.Round() {
		side = "diameter"
	}
	if half := extentMM / 2; step.RadiusMM < half {
		s.blame("radius_mm", fmt.Sprintf("%s is less than half the wire's %s, %s", millimetres(step.RadiusMM), side, millimetres(half)),
			"give the radius to the wire's centreline: the pliers' radius plus half the wire")
	}
	return step
}

// active reads the active slot and its travel.
func (s *section) active(made *spring.Spring) (seating spring.Seating) {
	t := s.required("active", "add [active] with heading, start and end")
	defer t.close()
	made.ActiveSlotLengthMM = t.optional("slot_length_mm", slotSpan, 0)
	made.ActiveHold, seating = t.slotHold(made.Wire, made.ActiveSlotLengthMM, true)
	if word, ok := t.word("heading", spring.On.String(), spring.Back.String()); ok && word == spring.Back.String() {
		made.Heading = spring.Back
	}
	made.Positions = t.whole("positions", 1, mostPositions, usualPositions)
	const example = "write { at_mm = [8.0, 0.0, -3.0] }"
	made.Start = t.seat("start", example)
	made.End = made.Start
	if t.has("end") || made.Positions > 1 {
		made.End = t.seat("end", example+", or positions = 1 for a single seat")
		if made.Positions > 1 && made.End == made.Start {
			t.blame("end", "is the same as start: the travel is 0", "let the slot move or turn, or write positions = 1 for a single seat")
		}
	}
	return seating
}

// seat reads where the active slot is.
func (s *section) seat(key, hint string) spring.Seat {
	t := s.required(key, hint)
	defer t.close()
	seat := spring.Seat{
		AtMM: t.point("at_mm"),
		Rotation: r3.Vec{
			X: t.optional("torque_deg", rotationSpan, 0),
			Y: t.optional("tip_deg", rotationSpan, 0),
			Z: t.optional("rotation_deg", rotationSpan, 0),
		},
	}
	if r3.Norm(seat.AtMM) < closestSlotsMM {
		t.blame("at_mm", "the active slot lies at the anchor slot, the origin", "at_mm is counted from where the wire leaves the anchor slot")
	}
	if s := r3.Norm(seat.Rotation); s > math.Pi*(1+1e-12) {
		t.report(t.at, t.path, fmt.Sprintf("turns by %.1f°, more than the allowed 180°", quantity.Degree.Outside(s)),
			"torque_deg, tip_deg and rotation_deg are one rotation vector: give the shorter turn")
	}
	return seat
}

// point reads [x, y, z].
func (s *section) point(key string) r3.Vec {
	const hint = "write three numbers: [x, y, z]"
	faulty := r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
	e := s.ask(key)
	if e == nil {
		s.missing(key, hint)
		return faulty
	}
	path, n := join(s.path, key), e.value
	switch {
	case n.kind != array:
		s.wrongKind(n, path, "an array", hint)
		return faulty
	case len(n.items) != 3:
		s.blame(key, fmt.Sprintf("has %d numbers, not 3", len(n.items)), hint)
		return faulty
	}
	return r3.Vec{
		X: s.quantity(n.items[0], path+"[1]", placeSpan),
		Y: s.quantity(n.items[1], path+"[2]", placeSpan),
		Z: s.quantity(n.items[2], path+"[3]", placeSpan),
	}
}
