package tooth

// CrownWidthMM is the usual mesiodistal width of a permanent crown (handbooks of dental anatomy, from
// memory), 0 for no tooth.
func (n Number) CrownWidthMM() float64 {
	if !n.Valid() {
		return 0
	}
	upper := [...]float64{8.5, 6.5, 7.5, 7, 7, 10, 9, 8.5}
	lower := [...]float64{5, 5.5, 7, 7, 7, 11, 10.5, 10}
	if n.Upper() {
		return upper[n.Place()-1]
	}
	return lower[n.Place()-1]
}

// Beyond is the tooth on the other side of the anchor, seen from the active tooth, as a wire that goes on
// meets it; 0 where the anchor is the last one, or none but a third molar lies beyond.
func (p Pair) Beyond() Number {
	place := p.Anchor.Place() + 1
	if p.ActiveIsDistal() {
		place = p.Anchor.Place() - 1
	}
	if place < 1 || place > 7 {
		return 0
	}
	return Number(10*p.Anchor.Quadrant() + place)
}
