package label

import "math"

// Spread moves labels on a line apart, each as little as can be: wanted are their middles
// in rising order, sizes their extents with the room they need. The result keeps their
// order and stays from low to high where that can be; it minimises the sum of the squared
// moves (pooling of neighbours that want to pass each other).
func Spread(wanted, sizes []float64, low, high float64) []float64 {
	type block struct {
		sum   float64 // of wanted minus the offset in the block
		first int
		count int
		size  float64
	}
	offset := make([]float64, len(wanted)) // of a label's middle from its block's start
	var blocks []block
	start := func(b block) float64 {
		at := b.sum / float64(b.count)
		return math.Max(low, math.Min(at, high-b.size))
	}
	for i := range wanted {
		offset[i] = sizes[i] / 2
		b := block{sum: wanted[i] - offset[i], first: i, count: 1, size: sizes[i]}
		for len(blocks) > 0 {
			before := blocks[len(blocks)-1]
			if start(before)+before.size <= start(b) {
				break
			}
			for k := b.first; k < b.first+b.count; k++ {
				offset[k] += before.size
			}
			b.sum += before.sum - before.size*float64(b.count)
			b.first, b.count, b.size = before.first, before.count+b.count, before.size+b.size
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	middles := make([]float64, len(wanted))
	for _, b := range blocks {
		for k := b.first; k < b.first+b.count; k++ {
			middles[k] = start(b) + offset[k]
		}
	}
	return middles
}
