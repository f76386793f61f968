package photo

// thinned is the mask's middle line, one pixel wide: Zhang & Suen, Commun ACM 1984;27:236.
//
// In one piece: the two halves of a pass of that paper differ in one condition.
func (m *mask) thinned() []bool {
	line := make([]bool, len(m.on))
	var pixels []int
	for i, on := range m.on {
		if on {
			line[i] = true
			pixels = append(pixels, i)
		}
	}
	around := m.around()
	var gone []int
	for changed := true; changed; {
		changed = false
		for pass := range 2 {
			gone = gone[:0]
			left := pixels[:0]
			for _, i := range pixels {
				if !line[i] {
					continue
				}
				left = append(left, i)
				var p [8]bool
				count, rises := 0, 0
				for k, d := range around {
					p[k] = line[i+d]
					if p[k] {
						count++
					}
				}
				for k := range p {
					if !p[k] && p[(k+1)%8] {
						rises++
					}
				}
				if count < 2 || count > 6 || rises != 1 {
					continue
				}
				// p[0] above, p[2] right, p[4] below, p[6] left.
				if pass == 0 && (p[0] && p[2] && p[4] || p[2] && p[4] && p[6]) {
					continue
				}
				if pass == 1 && (p[0] && p[2] && p[6] || p[0] && p[4] && p[6]) {
					continue
				}
				gone = append(gone, i)
			}
			pixels = left
			for _, i := range gone {
				line[i] = false
				changed = true
			}
		}
	}
	// Corners of stairs go, so that a line's pixel has two neighbours.
	for _, i := range pixels {
		if !line[i] {
			continue
		}
		up, right, down, left := line[i+around[0]], line[i+around[2]], line[i+around[4]], line[i+around[6]]
		if (up && right && !down && !left && !line[i+around[5]]) || (right && down && !up && !left && !line[i+around[7]]) ||
			(down && left && !up && !right && !line[i+around[1]]) || (left && up && !down && !right && !line[i+around[3]]) {
			line[i] = false
		}
	}
	return line
}
