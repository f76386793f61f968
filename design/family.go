package design

import (
	"errors"
	"fmt"
	"strings"

	"springwright/design/spelling"
)

// Family is a kind of spring that a case can ask for by name.
type Family struct {
	Name    string // as in case files
	Pattern func(Case) Pattern
	// Hooked tells that the active end is tied or hooked to the tooth as a point and enters
	// no slot: the case's active slot must have Hook.
	Hooked bool
	// FromBehind tells that the wire may also enter the active slot from the far side.
	FromBehind bool
	// OffsetToTongue tells that the wire is laid beside itself on the tongue's side (choice).
	OffsetToTongue bool
}

// RectangularLoopName is the family that is taken where a case names none.
const RectangularLoopName = "rectangular loop"

// Families lists the kinds of springs, the usual one first.
func Families() []Family {
	return []Family{
		{Name: RectangularLoopName, Pattern: RectangularLoop, FromBehind: true},
		{Name: "T-loop", Pattern: TLoop},
		{Name: "L-loop", Pattern: LLoop},
		{Name: "open vertical loop", Pattern: OpenVerticalLoop},
		{Name: "closed vertical loop", Pattern: ClosedVerticalLoop, OffsetToTongue: true},
		{Name: "cantilever", Pattern: Cantilever, Hooked: true},
		{Name: "cantilever with helix", Pattern: CantileverWithHelix, Hooked: true, OffsetToTongue: true},
		{Name: "uprighting spring", Pattern: UprightingSpring, Hooked: true},
		{Name: "root spring", Pattern: RootSpring},
		{Name: "intrusion arch", Pattern: IntrusionArch, Hooked: true},
	}
}

// FamilyNames lists the names of Families.
func FamilyNames() []string {
	var names []string
	for _, f := range Families() {
		names = append(names, f.Name)
	}
	return names
}

var (
	// ErrFamily means that no kind of spring has this name.
	ErrFamily = errors.New("no such kind of spring")
	// ErrUnfit means that a case does not suit the kind of spring that it asks for.
	ErrUnfit = errors.New("the case does not suit this kind of spring")
)

// FamilyOf returns the family of a name, "" being the usual one. The error wraps ErrFamily
// and lists the names.
func FamilyOf(name string) (Family, error) {
	if name == "" {
		name = RectangularLoopName
	}
	for _, f := range Families() {
		if f.Name == name {
			return f, nil
		}
	}
	names := FamilyNames()
	text := "known are " + strings.Join(names, ", ")
	if near := spelling.Nearest(name, names); near != "" {
		text = fmt.Sprintf("did you mean %q? %s", near, text)
	}
	return Family{}, fmt.Errorf("%w: %q; %s", ErrFamily, name, text)
}

// PatternFor returns the pattern that a case asks for: that of its free path, or that of
// its family. The error wraps ErrFamily or ErrUnfit.
func PatternFor(c Case) (Pattern, error) {
	if len(c.FreePath.Path) > 0 || c.SpringFile != "" {
		return c.freePath()
	}
	f, err := FamilyOf(c.Family)
	if err != nil {
		return Pattern{}, err
	}
	switch {
	case f.Hooked && !c.ActiveSlot.Hook:
		return Pattern{}, fmt.Errorf("%w: a %s ends in a hook, the active slot has none", ErrUnfit, f.Name)
	case !f.Hooked && c.ActiveSlot.Hook:
		return Pattern{}, fmt.Errorf("%w: a %s enters the active slot and is not hooked", ErrUnfit, f.Name)
	case c.Heading == Back && !f.FromBehind:
		return Pattern{}, fmt.Errorf("%w: a %s enters the active slot from the anchor", ErrUnfit, f.Name)
	}
	return f.Pattern(c), nil
}

// freePath returns the pattern of the case's free path.
func (c Case) freePath() (Pattern, error) {
	if len(c.FreePath.Path) == 0 {
		return Pattern{}, fmt.Errorf("%w: its spring file %q has not been read", ErrUnfit, c.SpringFile)
	}
	for i, step := range c.FreePath.Path {
		half := c.Wire.HeightMM() / 2
		if step.Order == 1 {
			half = c.Wire.DepthMM() / 2
		}
		if step.Kind == Bend && step.RadiusMM < half {
			return Pattern{}, fmt.Errorf("%w: the radius %.3g mm of step %d is less than half the wire, %.3g mm", ErrUnfit, step.RadiusMM, i+1, half)
		}
	}
	return c.FreePath.onGridOf(c.Search), nil
}

// onGridOf fills in the steps of freedoms that have none of their own.
func (p Pattern) onGridOf(s Search) Pattern {
	p.Freedoms = append([]Freedom(nil), p.Freedoms...)
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
