package photo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Exponents that make light of a picture's brightness: 1 for a picture that was blurred as it
// is, about 2.2 behind a camera (sRGB, IEC 61966-2-1).
const leastTone, mostTone = 1.0, 2.6

// toneOf finds the exponent, and the blur in light. A lens blurs light, and an edge that is
// blurred so is half bright where it is; the marks' edges are known to be.
func (c *camera) toneOf(g *grey) {
	const edgeSteps = edgeReachMM / rulerStepMM
	sum := make([]float64, 2*int(math.Round(edgeSteps))+1)
	count := 0.0
	for _, r := range rulers() {
		if r.line {
			continue
		}
		for i := range 12 {
			q := r2.Add(r.from, r2.Scale(0.1+0.8*(float64(i)+0.5)/12, r2.Sub(r.to, r.from)))
			values, ok := c.profile(g, q, r.normal, edgeReachMM)
			if !ok {
				continue
			}
			bright := mean(values[len(values)-len(values)/6:])
			for j, v := range values {
				sum[j] += v / math.Max(1, bright)
			}
			count++
		}
	}
	level := func(tone, share float64) float64 {
		light := make([]float64, len(sum))
		for j, v := range sum {
			light[j] = math.Pow(v/math.Max(1, count), tone)
		}
		n := len(light)
		dark, bright := mean(light[:n/6]), mean(light[n-n/6:])
		at, _ := crossingLevel(light, dark+share*(bright-dark))
		return at*rulerStepMM - edgeReachMM
	}
	low, high := leastTone, mostTone
	for range 20 {
		if middle := (low + high) / 2; level(middle, 0.5) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	c.tone = (low + high) / 2
	c.blurMM = (level(c.tone, 0.8) - level(c.tone, 0.2)) / 1.683 // as in edgeAt
}
