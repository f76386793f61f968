package family

import (
	"errors"
	"fmt"

	"springwright/design"
	"springwright/design/spring"
)

// ErrUnfit means that a case does not suit the kind of spring that it asks for.
var ErrUnfit = errors.New("the case does not suit this kind of spring")

// patterns build the wire of each kind of spring.
var patterns = map[string]func(design.Case) spring.Pattern{
	design.RectangularLoopName:     RectangularLoop,
	design.TLoopName:               TLoop,
	design.LLoopName:               LLoop,
	design.OpenVerticalLoopName:    OpenVerticalLoop,
	design.ClosedVerticalLoopName:  ClosedVerticalLoop,
	design.CantileverName:          Cantilever,
	design.CantileverWithHelixName: CantileverWithHelix,
	design.UprightingSpringName:    UprightingSpring,
	design.RootSpringName:          RootSpring,
	design.IntrusionArchName:       IntrusionArch,
}

// PatternFor returns the pattern that a case asks for: that of its free path, or that of
// its family. The error wraps ErrFamily or ErrUnfit.
func PatternFor(c design.Case) (spring.Pattern, error) {
	if len(c.FreePath.Steps) > 0 || c.SpringFile != "" {
		return freePath(c)
	}
	f, err := design.FamilyOf(c.Family)
	if err != nil {
		return spring.Pattern{}, err
	}
	switch {
	case f.Hooked && !c.ActiveSlot.Hook:
		return spring.Pattern{}, fmt.Errorf("%w: a %s ends in a hook, the active slot has none", ErrUnfit, f.Name)
	case !f.Hooked && c.ActiveSlot.Hook:
		return spring.Pattern{}, fmt.Errorf("%w: a %s enters the active slot and is not hooked", ErrUnfit, f.Name)
	case c.Heading == spring.Back && !f.FromBehind:
		return spring.Pattern{}, fmt.Errorf("%w: a %s enters the active slot from the anchor", ErrUnfit, f.Name)
	}
	return patterns[f.Name](c), nil
}

// freePath returns the pattern of the case's free path.
func freePath(c design.Case) (spring.Pattern, error) {
	if len(c.FreePath.Steps) == 0 {
		return spring.Pattern{}, fmt.Errorf("%w: its spring file %q has not been read", ErrUnfit, c.SpringFile)
	}
	for i, step := range c.FreePath.Steps {
		half := c.Wire.HeightMM() / 2
		if step.Order == 1 {
			half = c.Wire.DepthMM() / 2
		}
		if step.Kind == spring.Bend && step.RadiusMM < half {
			return spring.Pattern{}, fmt.Errorf("%w: the radius %.3g mm of step %d is less than half the wire, %.3g mm", ErrUnfit, step.RadiusMM, i+1, half)
		}
	}
	return onGridOf(c.FreePath, c.Search), nil
}

// onGridOf fills in the steps of freedoms that have none of their own.
func onGridOf(p spring.Pattern, s design.Search) spring.Pattern {
	p.Freedoms = append([]spring.Freedom(nil), p.Freedoms...)
	for i := range p.Freedoms {
		switch f := &p.Freedoms[i]; {
		case f.Grid > 0:
		case f.Angle:
			f.Grid = s.AngleStepRad
		default:
			f.Grid = s.LengthStepMM
		}
	}
	return p
}
