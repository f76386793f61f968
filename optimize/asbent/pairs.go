package asbent

// double finds the best pair of corrections.
func (s *search) double() (best choice, ok bool) {
	shift := make([]float64, len(s.now))
	const coarse = 3 // steps of the grid that are looked at first, with a quarter of the springs
	const few = 4
	merit := func(t choice, every int) (found, bool) {
		if !s.possible(t) {
			return found{}, false
		}
		s.linear(t, shift)
		return found{t, s.merit(t, shift, every)}, true
	}
	var pairs []found
	for p := range s.bends {
		for q := p + 1; q < s.bends; q++ {
			var at []found
			for a := -s.most(p); a <= s.most(p) && s.now != nil; a += coarse {
				for b := -s.most(q); b <= s.most(q); b += coarse {
					if f, ok := merit(s.seated(choose(tried{p, a}, tried{q, b}), s.base[seat].steps), few); ok {
						at = append(at, f)
					}
				}
			}
			if better(at); len(at) > 0 {
				pairs = append(pairs, at[0])
			}
		}
	}
	better(pairs)
	const kept = 12
	pairs = pairs[:min(kept, len(pairs))]
	for i, f := range pairs {
		at, _ := merit(f.tried, 1)
		for a := -coarse; a <= coarse; a++ {
			for b := -coarse; b <= coarse; b++ {
				next := f.tried
				next[0].steps += a
				next[1].steps += b
				if there, ok := merit(next, 1); ok && there.merit > at.merit {
					at = there
				}
			}
		}
		pairs[i] = at
	}
	better(pairs)
	return s.best(append(s.climb(pairs[:min(looked, len(pairs))]), s.closed(true)...))
}
