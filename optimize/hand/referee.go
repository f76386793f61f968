package hand

import "springwright/design/solve"

// Beside is how much larger the smooth share of springs bent one by one is than that of the linear
// model, for the same springs of a sample: what the model does not know, such as slots in which the
// wire comes to lie at another wall. A spring that cannot be seated meets nothing. The error is that of
// solve.NewSeatedPath.
func (h *Hand) Beside(l Linear, sample [][]float64) (float64, error) {
	path, err := solve.NewSeatedPath(h.spring, Accuracy)
	if err != nil {
		return 0, err
	}
	path.Wary = true
	b := &bench{h: h, path: path, normal: make([]float64, len(h.sources))}
	one := newTrials(h, 1)
	var sum float64
	for _, z := range sample {
		copy(b.normal, z)
		one.seated[0] = false
		if b.try(one, 0); one.seated[0] {
			worst := -Smoothing
			for i, term := range h.terms {
				worst = max(worst, term.Beyond(one.judged[i][0]))
			}
			sum += SmoothlyMet(worst)
		}
		sum -= l.smoothlyMeets(z)
	}
	return sum / float64(len(sample)), nil
}
