package casefile

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"springwright/design/quantity"
	"springwright/design/wire"
)

func alloyNames() string {
	var names []string
	for _, a := range wire.Alloys() {
		names = append(names, a.Name)
	}
	return strings.Join(names, ", ")
}

// alloy reads what the wire is made of; a constant given beside the alloy's name replaces
// the alloy's own. The plateaus of a superelastic alloy all move with the start of the
// upper one, which stands in yield_mpa.
func (s *section) alloy() wire.Wire {
	w := wire.Wire{EMPa: math.NaN(), Poisson: math.NaN(), YieldMPa: math.NaN()}
	if s.has("alloy") {
		w = s.namedAlloy(w)
	} else {
		for _, key := range []string{"e_gpa", "poisson", "yield_mpa"} {
			if !s.has(key) {
				s.missing(key, "name an alloy ("+alloyNames()+") or give e_gpa, poisson and yield_mpa")
			}
		}
	}
	w.EMPa = s.optional("e_gpa", modulusSpan, quantity.Gigapascal.Outside(w.EMPa))
	w.Poisson = s.optional("poisson", poissonSpan, w.Poisson)
	w.YieldMPa = s.optional("yield_mpa", yieldSpan, w.YieldMPa)
	if w.IsSuperelastic() && !math.IsNaN(w.YieldMPa) && w.YieldMPa != w.Superelastic.LoadStartMPa {
		down := w.Superelastic.LoadStartMPa - w.Superelastic.UnloadEndMPa
		shifted, ok := w.Superelastic.StartingAt(w.YieldMPa)
		if !ok {
			s.blame("yield_mpa", fmt.Sprintf("%s MPa is too low for a superelastic wire, allowed is above %s MPa", quantity.Format(w.YieldMPa), quantity.Format(down)),
				"it is the start of the plateau; below that the wire would not turn back by itself")
		}
		w.Superelastic = shifted
	}
	return w
}

// longestAlloy bounds the name of an alloy, in characters.
const longestAlloy = 80

// namedAlloy returns the alloy that is named, or w.
func (s *section) namedAlloy(w wire.Wire) wire.Wire {
	name := s.text("alloy", longestAlloy)
	if s.peek("alloy").value.kind != text {
		return w
	}
	alloy, err := wire.LookUp(name)
	var unknown *wire.UnknownAlloyError
	if !errors.As(err, &unknown) {
		return alloy.Material()
	}
	hint := "known are " + alloyNames()
	if unknown.Nearest != "" {
		hint = fmt.Sprintf("did you mean %q? %s", unknown.Nearest, hint)
	}
	s.blame("alloy", err.Error(), hint)
	return w
}
