package casefile

import (
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// What still makes sense in a case file, and what holds where a key is left out.
const (
	longestCode      = 32
	fromAnchor       = "from the anchor"
	fromBehind       = "from behind"
	leastCasePlaces  = 2
	usualLengthStep  = 0.5 // mm; a skilled hand bends to ±0.25–0.5 mm, common practice
	usualAngleStep   = 1   // deg; a skilled hand bends to ±2–3°, common practice
	usualSeed        = 1
	mostStarts       = 100000
	leastMovementMM  = 0.01
	leastMovementRad = 0.01 * math.Pi / 180
)

var (
	slotHeightSpan = span{unit: quantity.Millimetre, low: 0.3, high: 1.5}
	alongSpan      = span{unit: quantity.Millimetre, low: 0.5, high: 60}
	acrossSpan     = span{unit: quantity.Millimetre, low: -20, high: 20}
	turnSpan       = span{unit: quantity.Degree, low: -90, high: 90}
	lengthStepSpan = span{unit: quantity.Millimetre, low: 0.01, high: 5}
	angleStepSpan  = span{unit: quantity.Degree, low: 0.01, high: 15}
)

// caseReader reads the tables of a case that need the teeth or the wire.
type caseReader struct {
	*section
	teeth      tooth.Pair
	teethKnown bool
	// A free path is drawn for one way into the active slot, which has to be told. A kind of spring
	// that may enter from either side, or is still to be chosen, may be tried both ways.
	entryNeeded, entryOpen bool
	kindOpen               bool // the kind of spring is to be chosen
	usualWires             bool // the wires to choose from are those of most drawers
	wirePlaces             map[string]place
}

// ReadCase reads a case file, the prescription. name is the file's name for messages. The
// error is a fault.List with everything that is wrong.
//
// Placements and loads are written in the words of the clinic (apical, buccal, mesial);
// the tooth numbers turn them into the axes of package design. Left out: title "",
// goal as now key by key, positions 7, spring what design.Case.WithSuitedKind says, enter either
// way, hold "tied" ("hook" for
// springs that end in one), an anchor tooth that stands alone, and slide "none" (play and slide are for the finished spring
// only: the search takes what is not hooked as clamped), and in limits and search what
// readLimits and readSearch say. A load component that the target does not name has the limit
// of design.Target.WithUsualLimits.
func ReadCase(name string, data []byte) (design.Case, error) {
	r, root := open(name, data)
	r.named = true
	if root.peek("path") != nil && root.peek("target") == nil && root.peek("now") == nil {
		r.report(place{1, 1}, "", "is a spring file, not a case file", "give the case file that the spring was made for")
		return design.Case{}, r.faults.Err()
	}
	var c design.Case
	c.Code = root.code()
	c.Title = root.title()
	c.Slide = root.slide()
	in := caseReader{section: root}
	in.readTeeth()
	c.Teeth = in.teeth
	c.Wire, c.Choice.OtherWires = in.readWires()
	in.readFamily(&c)
	c.AnchorSlot, _ = in.readSlot("anchor_slot", c.Wire, false)
	c.ActiveSlot, c.Heading = in.readSlot("active_slot", c.Wire, true)
	c.Choice.EitherEntry = in.entryOpen
	root.blameSeating("anchor_slot", "active_slot", c.AnchorSlot.Seating, c.ActiveSlot.Seating, c.ActiveSlot.Hook, c.Slide)
	in.fitFamily(&c)
	in.readPlacements(&c)
	c.Resistance = in.readResistances()
	c.Anchorage = in.readAnchorage()
	travel := root.table("travel")
	c.Positions = travel.whole("positions", leastCasePlaces, mostPositions, usualPositions)
	travel.close()
	c.Limits = in.readLimits(c.Wire)
	c.Target = in.readTarget(c)
	in.checkTarget(c)
	c.Search = in.readSearch()
	c.Bender = root.readBender()
	in.checkWires(&c)
	if in.kindOpen {
		c = c.WithSuitedKind()
	}
	root.close()
	if err := r.faults.Err(); err != nil {
		return design.Case{}, err
	}
	return c, nil
}

// code reads the case code. It names files and stands on every sheet.
func (s *section) code() string {
	const hint = "write a case code, never a patient's name"
	if !s.has("case") {
		s.missing("case", hint)
		return ""
	}
	code := s.text("case", longestCode)
	plainWord := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9'
	}
	other := func(r rune) bool { return !plainWord(r) && !strings.ContainsRune("-_.", r) }
	if e := s.peek("case"); e != nil && e.value.kind == text &&
		(code == "" || strings.ContainsFunc(code, other) || !plainWord(rune(code[0]))) {
		s.blame("case", fmt.Sprintf("%q is no code: allowed are up to %d of the letters A–Z, digits, - _ and ., a letter or digit first",
			shorten(code), longestCode), hint)
	}
	return code
}

// readTeeth reads the two teeth.
func (c *caseReader) readTeeth() {
	c.teeth, c.teethKnown = c.pair()
}

// readSlot reads a slot; the active one also says how the wire enters it.
func (c *caseReader) readSlot(key string, w wire.Wire, entered bool) (spring.Slot, spring.Heading) {
	keys := "height_mm and length_mm"
	if entered && c.entryNeeded {
		keys = "height_mm, length_mm and enter"
	}
	t := c.required(key, "add ["+key+"] with "+keys)
	defer t.close()
	slot := spring.Slot{
		HeightMM: t.needed("height_mm", slotHeightSpan, `write the slot's height, such as "0.022in"`),
		LengthMM: t.needed("length_mm", slotSpan, "write the slot's length along the wire; 0 for a point"),
	}
	slot.HeightMM = t.slotHeight(slot.HeightMM)
	t.holdsWire("height_mm", "height", slot.HeightMM, "thickness", w.HeightMM())
	slot.DepthMM = t.depth(w)
	words := []string{holdTied, holdPlay}
	if entered {
		words = append(words, holdHook)
	}
	word := t.hold(words...)
	slot.Play, slot.Hook = word == holdPlay, word == holdHook
	slot.Fast = word == holdTied && t.has("hold")
	slot.Seating = t.seating()
	switch {
	case slot.LengthMM > 0:
	case slot.Play:
		t.playNeedsLength("length_mm")
	case slot.Seating.Kind != spring.UntoldKind:
		t.seatNeedsLength("length_mm", slot.Seating.Kind)
	}
	heading := spring.On
	if entered && (t.has("enter") || c.entryNeeded) {
		c.entryOpen = false
		if word, ok := t.word("enter", fromAnchor, fromBehind); ok && word == fromBehind {
			heading = spring.Back
		}
	}
	return slot, heading
}

// readPlacements reads where the active slot is and where it should go.
func (c *caseReader) readPlacements(to *design.Case) {
	now := c.required("now", "add [now] with along_mm and what else is off")
	goal := c.required("goal", "add [goal] with what should be different from [now]")
	defer now.close()
	defer goal.close()
	from := c.placement(now, clinical{along: now.needed("along_mm", alongSpan, "write the distance of the slots' centres along the arch")})
	until := from
	until.along = goal.optional("along_mm", alongSpan, from.along)
	until = c.placement(goal, until)

	to.Now, to.Goal = from.onAxes(c.teeth), until.onAxes(c.teeth)
	half := (to.AnchorSlot.LengthMM + to.ActiveSlot.LengthMM) / 2
	for _, p := range []struct {
		table *section
		where clinical
	}{{now, from}, {goal, until}} {
		if p.where.along <= half && p.table.has("along_mm") {
			p.table.blame("along_mm", fmt.Sprintf("%s leaves no wire between the slots: half the lengths of both are %s", millimetres(p.where.along), millimetres(half)),
				"along_mm is counted from the centre of one slot to the centre of the other")
		}
		if turn := quantity.Degree.Outside(r3.Norm(p.where.onAxes(c.teeth).Rotation)); turn > 180 {
			p.table.report(p.table.at, p.table.path, fmt.Sprintf("turns by %.1f°, more than the allowed 180°", turn), "give the shorter turn")
		}
	}
	if !moves(*to) {
		goal.report(goal.at, goal.path, fmt.Sprintf("is the same as now: the travel is 0, at least %g mm or %g° are needed",
			leastMovementMM, quantity.Degree.Outside(leastMovementRad)), "write what the tooth should do")
	}
}

// travel is how far the slot's centre moves (mm) and how far its rotation vector (rad).
func travel(c design.Case) (movedMM, turnedRad float64) {
	return r3.Norm(r3.Sub(c.Goal.CentreMM, c.Now.CentreMM)), r3.Norm(r3.Sub(c.Goal.Rotation, c.Now.Rotation))
}

// moves tells whether a case asks for any movement; a faulty value, NaN, counts as one.
func moves(c design.Case) bool {
	moved, turned := travel(c)
	return !(moved < leastMovementMM && turned < leastMovementRad)
}

// clinical is a placement in the words of the clinic, mm and rad: what ClinicalSign counts as
// above 0 is above 0 here.
type clinical struct {
	along  float64
	beside [tooth.Components]float64 // a place by the force that pushes there, a turn by its couple; X is along's
}

// placement reads all but along; what is left out stays as in p.
func (c *caseReader) placement(s *section, p clinical) clinical {
	for _, n := range placeSenses {
		unit, allowed := "_mm", acrossSpan
		if n.component.Couple() {
			unit, allowed = "_deg", turnSpan
		}
		key, way := s.sensed(n, unit, c.teeth.Active)
		if key == "" { // those that stand beside each other may have faults of their own
			for _, key := range n.keys(unit) {
				s.optional(key, allowed, 0)
			}
		} else {
			p.beside[n.component] = way * s.optional(key, allowed, 0)
		}
	}
	return p
}

// onAxes turns the words into axes.
func (p clinical) onAxes(pair tooth.Pair) design.Placement {
	at := func(k tooth.Component) float64 { return pair.ClinicalSign(k) * p.beside[k] }
	return design.Placement{
		CentreMM: r3.Vec{X: p.along, Y: at(tooth.ForceY), Z: at(tooth.ForceZ)},
		Rotation: r3.Vec{X: at(tooth.CoupleX), Y: at(tooth.CoupleY), Z: at(tooth.CoupleZ)},
	}
}

// readSearch reads on which numbers a design may end. Left out: steps of 0.5 mm and 1°,
// seed 1, starts 0 (as many as the search likes).
func (c *caseReader) readSearch() design.Search {
	t := c.table("search")
	defer t.close()
	return design.Search{
		LengthStepMM: t.optional("length_step_mm", lengthStepSpan, usualLengthStep),
		AngleStepRad: t.optional("angle_step_deg", angleStepSpan, usualAngleStep),
		Seed:         uint64(t.whole("seed", 0, math.MaxInt32, usualSeed)),
		Starts:       t.whole("starts", 0, mostStarts, 0),
	}
}
