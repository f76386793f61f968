package tooth

// Mirrored is the same tooth on the other side of the mouth: 37 for 47, 16 for 26.
func (n Number) Mirrored() Number {
	const quadrants = 5 // 1 and 4 are right, 2 and 3 left: upper ones add up to 3, lower ones to 7
	sum := quadrants + 2
	if n.Upper() {
		sum = quadrants - 2
	}
	return Number(10*(sum-n.Quadrant()) + n.Place())
}

// Mirrored is the same pair on the other side of the mouth.
func (p Pair) Mirrored() Pair { return Pair{p.Anchor.Mirrored(), p.Active.Mirrored()} }
