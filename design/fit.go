package design

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/quantity"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// What the numbers of a spring file may be rounded to by a hand and still be those of a case
// (choice): a hundredth of a millimetre, and about a twentieth of a degree.
const (
	fitSlackMM  = 0.01
	fitSlackRad = 1e-3
)

// Misfits are the quantities in which a spring differs from one for this case, each with both
// values, such as "torque at the start is 8.00°, that of the case −8.00°"; none where it fits.
// Teeth are not looked at: not every spring knows its own. Of the wire, the path, the heading and the slide a case says nothing that a spring of
// another kind could not answer otherwise: they are taken as the spring has them.
func (c Case) Misfits(s spring.Spring) []string {
	c.Heading = s.Heading
	wanted := c.SpringFor(spring.Path{})
	var found []string
	add := func(name string, own, of, slack float64, unit quantity.Unit, symbol string) {
		if math.Abs(own-of) > slack {
			text := fmt.Sprintf("%s is %.2f%s, that of the case %.2f%s", name, hundredths(unit.Outside(own)), symbol, hundredths(unit.Outside(of)), symbol)
			found = append(found, strings.ReplaceAll(text, "-", "−"))
		}
	}
	mm := func(name string, own, of float64) { add(name, own, of, fitSlackMM, quantity.Millimetre, " mm") }
	mm("length of the anchor slot", s.AnchorSlotLengthMM, wanted.AnchorSlotLengthMM)
	mm("length of the active slot", s.ActiveSlotLengthMM, wanted.ActiveSlotLengthMM)
	for _, seat := range [...]struct {
		when    string
		own, of spring.Seat
	}{{"at the start", s.Start, wanted.Start}, {"at the end", s.End, wanted.End}} {
		axes := func(v r3.Vec) [3]float64 { return [...]float64{v.X, v.Y, v.Z} }
		own, of := axes(seat.own.AtMM), axes(seat.of.AtMM)
		for i, axis := range [...]string{"along the arch (x)", "across the arch (y)", "in height (z)"} {
			mm("entry into the active slot "+axis+" "+seat.when, own[i], of[i])
		}
		own, of = axes(seat.own.Rotation), axes(seat.of.Rotation)
		for i, turn := range [...]string{"torque", "tip", "rotation"} {
			add(turn+" "+seat.when, own[i], of[i], fitSlackRad, quantity.Degree, "°")
		}
	}
	return found
}

// hundredths rounds for the eye, and leaves no minus before a zero.
func hundredths(v float64) float64 { return math.Round(100*v)/100 + 0 }
