package casefile

import (
	"bytes"
	"fmt"
	"strings"

	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// WriteSpring writes a spring file that stands alone: with the alloy's constants, and
// with quantity.Digits digits, so that ReadSpring returns s to within a relative 1e-13.
// s must be a spring that ReadSpring would accept, all its numbers finite.
func WriteSpring(s spring.Spring) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "title = %s\n", tomlText(s.Title))
	anchor, active := s.Seatings()
	if s.Slide != spring.NoSlide && anchor.Tie != spring.LeftToSlide && active.Tie != spring.LeftToSlide {
		fmt.Fprintf(&b, "slide = %q # the slot that the wire slides through\n", s.Slide)
	}
	writeShortfall(&b, s.Shortfall)
	b.WriteString("\n# From the anchor slot to the active slot, in the order a hand meets them.\npath = [\n")
	for _, step := range s.Path.Steps() {
		fmt.Fprintf(&b, "  { %s },\n", tomlStep(step))
	}
	b.WriteString("]\n")
	if s.Teeth != (tooth.Pair{}) {
		b.WriteString("\n# The teeth that it is made for, by ISO 3950. Others need another spring: \"sheet --twins\" draws the mirrored one.\n")
		fmt.Fprintf(&b, "[teeth]\nactive = %d\nanchor = %d\n", s.Teeth.Active, s.Teeth.Anchor)
	}
	b.WriteString("\n[wire]\n")
	writeWire(&b, s.Wire)
	fmt.Fprintf(&b, "\n[anchor]\nslot_length_mm = %s\n", quantity.Format(s.AnchorSlotLengthMM))
	writeHold(&b, s.AnchorHold)
	writeSeating(&b, anchor)
	fmt.Fprintf(&b, "\n[active]\nslot_length_mm = %s\n", quantity.Format(s.ActiveSlotLengthMM))
	writeHold(&b, s.ActiveHold)
	writeSeating(&b, active)
	fmt.Fprintf(&b, "heading = %q\n", s.Heading)
	fmt.Fprintf(&b, "start = %s\n", tomlSeat(s.Start))
	fmt.Fprintf(&b, "end = %s\n", tomlSeat(s.End))
	fmt.Fprintf(&b, "positions = %d\n", s.Positions)
	return b.Bytes()
}

func writeWire(b *bytes.Buffer, w wire.Wire) {
	number := func(_ string, u quantity.Unit, inside float64) string { return u.FormatInside(inside) }
	for _, p := range wirePairs(w, tomlText, number) {
		fmt.Fprintf(b, "%s = %s\n", p.key, p.value)
	}
}

func tomlStep(s spring.Step) string {
	angle := quantity.Degree.FormatInside(s.AngleRad)
	switch {
	case s.Kind == spring.Straight:
		return "straight_mm = " + quantity.Format(s.LengthMM)
	case s.Kind == spring.Twist:
		return fmt.Sprintf("twist_deg = %s, over_mm = %s", angle, quantity.Format(s.LengthMM))
	case s.Order == 1:
		return fmt.Sprintf("bend_deg = %s, radius_mm = %s, order = 1", angle, quantity.Format(s.RadiusMM))
	default:
		return fmt.Sprintf("bend_deg = %s, radius_mm = %s", angle, quantity.Format(s.RadiusMM))
	}
}

func tomlSeat(s spring.Seat) string {
	point := func(v r3.Vec) string {
		return fmt.Sprintf("[%s, %s, %s]", quantity.Format(v.X), quantity.Format(v.Y), quantity.Format(v.Z))
	}
	return fmt.Sprintf("{ at_mm = %s, tip_deg = %s, torque_deg = %s, rotation_deg = %s }", point(s.AtMM),
		quantity.Degree.FormatInside(s.Rotation.Y), quantity.Degree.FormatInside(s.Rotation.X), quantity.Degree.FormatInside(s.Rotation.Z))
}

// tomlText quotes a text of printable characters.
func tomlText(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
