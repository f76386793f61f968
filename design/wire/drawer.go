package wire

// Stock is a wire of a standard size and a usual alloy.
type Stock struct {
	Alloy string
	Size  Size
}

// drawer is what most clinics have at hand for springs bent by hand (common practice), the softest
// of each alloy first.
var drawer = [...]Stock{
	{"beta-titanium", Size{ThicknessMil: 16, WidthMil: 22}},
	{"beta-titanium", Size{ThicknessMil: 17, WidthMil: 25}},
	{"beta-titanium", Size{ThicknessMil: 19, WidthMil: 25}},
	{"stainless steel", Size{ThicknessMil: 16, WidthMil: 22}},
	{"stainless steel", Size{ThicknessMil: 17, WidthMil: 25}},
}

// Drawer returns the wires that most clinics have at hand for springs. The slice is the caller's.
func Drawer() []Stock { return append([]Stock(nil), drawer[:]...) }

// Wire is the wire of nominal size.
func (s Stock) Wire() Wire {
	alloy, err := LookUp(s.Alloy)
	if err != nil { // a drawer holds known alloys: TestDrawerHoldsKnownWires
		return Wire{}
	}
	w := alloy.Material()
	w.ThicknessMM, w.WidthMM, w.DiameterMM = s.Size.ThicknessMM(), s.Size.WidthMM(), s.Size.DiameterMM()
	return w
}
