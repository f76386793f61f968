package beam

// broyden speeds up Newton's steps with a tangent that is kept: it corrects each step by
// what the steps before it have shown of the true tangent (Broyden's good update in the
// step-storing form; Kelley, Iterative Methods for Linear and Nonlinear Equations, SIAM
// 1995, section 7.3).
type broyden struct {
	steps   [8]vec6
	squares [8]float64
	count   int
}

// correct turns a step of the kept tangent into Broyden's step and remembers it.
func (b *broyden) correct(step *vec6, scale scales) {
	for j := range b.count {
		along := weightedDot(&b.steps[j], step, scale) / b.squares[j]
		if j+1 < b.count {
			for k := range step {
				step[k] += b.steps[j+1][k] * along
			}
			continue
		}
		if along > 0.5 {
			return // a doubtful update: the plain step is safer
		}
		for k := range step {
			step[k] /= 1 - along
		}
	}
	square := weightedDot(step, step, scale)
	if b.count < len(b.steps) && square > 0 {
		b.steps[b.count], b.squares[b.count] = *step, square
		b.count++
	}
}

func weightedDot(a, b *vec6, scale scales) float64 {
	force, moment := scale.force*scale.force, scale.moment*scale.moment
	return force*(a[0]*b[0]+a[1]*b[1]+a[2]*b[2]) + moment*(a[3]*b[3]+a[4]*b[4]+a[5]*b[5])
}
