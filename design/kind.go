package design

import (
	"errors"
	"fmt"
	"strings"

	"springwright/design/spelling"
)

// Family is a kind of spring that a case can ask for by name; package family builds its wire.
type Family struct {
	Name string // as in case files
	// Hooked tells that the active end is tied or hooked to the tooth as a point and enters
	// no slot: the case's active slot must have Hook.
	Hooked bool
	// FromBehind tells that the wire may also enter the active slot from the far side.
	FromBehind bool
	// OffsetToTongue tells that the wire is laid beside itself on the tongue's side (choice).
	OffsetToTongue bool
	// MovesAnchor tells that the anchor is the tooth that the spring is to move.
	MovesAnchor bool
}

// The names of the kinds of springs; the first is taken where a case names none.
const (
	RectangularLoopName     = "rectangular loop"
	TLoopName               = "T-loop"
	LLoopName               = "L-loop"
	OpenVerticalLoopName    = "open vertical loop"
	ClosedVerticalLoopName  = "closed vertical loop"
	CantileverName          = "cantilever"
	CantileverWithHelixName = "cantilever with helix"
	UprightingSpringName    = "uprighting spring"
	RootSpringName          = "root spring"
	IntrusionArchName       = "intrusion arch"
)

// Families lists the kinds of springs, the usual one first.
func Families() []Family {
	return []Family{
		{Name: RectangularLoopName, FromBehind: true},
		{Name: TLoopName},
		{Name: LLoopName},
		{Name: OpenVerticalLoopName},
		{Name: ClosedVerticalLoopName, OffsetToTongue: true},
		{Name: CantileverName, Hooked: true},
		{Name: CantileverWithHelixName, Hooked: true, OffsetToTongue: true},
		{Name: UprightingSpringName, Hooked: true, MovesAnchor: true},
		{Name: RootSpringName},
		{Name: IntrusionArchName, Hooked: true},
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

// ErrFamily means that no kind of spring has this name.
var ErrFamily = errors.New("no such kind of spring")

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

// Hand is the sense along y of the side of the arch to which the case's family first lays its
// wire beside itself: the cheek's, but for families that choose the tongue's. It is the other
// one on the other side of the mouth, so that the spring there is the mirror image: which
// way round a wire passes itself weighs with torque and rotation.
func (c Case) Hand() float64 {
	hand := c.Teeth.BuccalSign()
	if f, err := FamilyOf(c.Family); err == nil && f.OffsetToTongue {
		hand = -hand
	}
	return hand
}
