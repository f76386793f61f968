package tooth

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

// Couple tells whether the component is a couple.
func (c Component) Couple() bool { return c >= CoupleX }

// Clinical returns the trade's name of a component and the sign that turns its value on
// the global axes into one on that name: a "mesial force" of −0.1 N pushes distally.
func (p Pair) Clinical(c Component) (name string, sign float64) {
	switch c {
	case ForceX:
		return "mesial force", p.MesialSign()
	case ForceY:
		return p.OutwardWord() + " force", p.BuccalSign()
	case ForceZ:
		return "intrusive force", 1
	case CoupleX:
		return p.OutwardWord() + " crown torque", p.BuccalSign()
	case CoupleY:
		return "crown-mesial couple", -p.MesialSign()
	default:
		return "mesial-in couple", -p.MesialSign() * p.BuccalSign()
	}
}

// Against returns the trade's name of a component whose value on Clinical's name would be
// negative: an extrusive force is an intrusive one below 0.
func (p Pair) Against(c Component) string {
	switch c {
	case ForceX:
		return "distal force"
	case ForceY:
		return p.InwardWord() + " force"
	case ForceZ:
		return "extrusive force"
	case CoupleX:
		return p.InwardWord() + " crown torque"
	case CoupleY:
		return "crown-distal couple"
	default:
		return "mesial-out couple"
	}
}
