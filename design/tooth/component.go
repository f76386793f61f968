package tooth

import "fmt"

// Component is one component of a load on a tooth, on the global axes.
type Component int

const (
	ForceX Component = iota
	ForceY
	ForceZ
	CoupleX
	CoupleY
	CoupleZ
	Components // how many there are
)

// String is the component's name in files, such as "force x".
func (c Component) String() string {
	if c < 0 || c >= Components {
		return fmt.Sprintf("component %d", int(c))
	}
	return [...]string{"force x", "force y", "force z", "couple x", "couple y", "couple z"}[c]
}

// MarshalText is String.
func (c Component) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// Couple tells whether the component is a couple.
func (c Component) Couple() bool { return c >= CoupleX }

// Chiral tells whether the component changes its sign on the other side of the mouth.
func (c Component) Chiral() bool { return c == ForceY || c == CoupleX || c == CoupleZ }

// ClinicalSign turns a component's value on the global axes into one on the trade's: mesial,
// outward and intrusive forces, and couples that carry the crown outwards or mesially or the
// mesial side inwards, are above 0.
func (p Pair) ClinicalSign(c Component) float64 {
	switch c {
	case ForceX:
		return p.MesialSign()
	case ForceZ:
		return 1
	case CoupleY:
		return -p.MesialSign()
	case CoupleZ:
		return -p.MesialSign() * p.BuccalSign()
	default:
		return p.BuccalSign()
	}
}

// LoadName is the trade's name of a component whose value on the global axes has the sign of
// value, such as "mesial force" or "crown-distal couple".
func (m Member) LoadName(c Component, value float64) string {
	switch {
	case c == CoupleX:
		return m.CoupleXWord(value)
	case c.Couple():
		return m.Sense(c, value) + " couple"
	}
	return m.Sense(c, value) + " force"
}

// Sense is which way such a component pushes or turns the tooth: "mesial", "crown-distal".
func (m Member) Sense(c Component, value float64) string {
	switch c {
	case ForceX:
		return m.ForceXWord(value)
	case ForceY:
		return m.ForceYWord(value)
	case ForceZ:
		return m.ForceZWord(value)
	case CoupleX:
		return "crown-" + m.ForceYWord(value) // about +x the crown goes towards +y
	case CoupleY:
		return m.CoupleYWord(value)
	default:
		return m.CoupleZWord(value)
	}
}
