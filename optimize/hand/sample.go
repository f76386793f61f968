package hand

import (
	"math/rand/v2"

	"springwright/design"
	"springwright/design/spring"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// SampleFor is a sample of the springs that a bender makes of designs with so many steps, for
// Linear.Share: always the same, so that designs can be held against each other. It is nil for a
// perfect bender, in whose hands all are alike.
func SampleFor(b design.Bender, steps int) [][]float64 {
	if b.Perfect() {
		return nil
	}
	return normalSample(fixedSample, len(sourcesOf(b, spring.Path{}))+steps)
}

// fixedSample is how many springs of the linear model stand for all in the search: with a
// low-discrepancy sample the share is good to about a hundredth, far less than a design
// has to be better by to be chosen for it.
const fixedSample = 512

// normalSample is a scrambled Halton sample of standard normal numbers, always the same.
func normalSample(springs, sources int) [][]float64 {
	source := rand.NewPCG(1, 2)
	batch := mat.NewDense(springs, sources, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(sources, source), Src: source}.Sample(batch)
	sample := make([][]float64, springs)
	for i := range sample {
		sample[i] = mat.Row(nil, i, batch)
		for j, u := range sample[i] {
			const tail = 1e-9 // a scrambled point may fall on 0
			sample[i][j] = distuv.UnitNormal.Quantile(min(max(u, tail), 1-tail))
		}
	}
	return sample
}
