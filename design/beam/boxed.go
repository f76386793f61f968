package beam

import "math"

// boxed is the step of at most ten coordinates between walls that goes down
//
//	½ xᵀK x + gᵀx,   low ≤ x ≤ high,
//
// to a minimum next to where it starts, by an active-set method (Nocedal and Wright, Numerical
// Optimization, 2nd ed. 2006, section 16.5). K may have negative stiffness: such a direction is
// followed until a wall stops it. What has no stiffness and no load stays where it is.
type boxed struct {
	n         int
	k         [10][10]float64
	g         [10]float64
	low, high [10]float64
	longest   [10]float64 // step either way
	touch     [10]Touch   // before, then after
	x         [10]float64
	limited   bool    // the step is cut to longest
	least     float64 // the smallest stiffness met, as a share of the largest; below 0: negative

	stop [10]int8 // 0 free, ±1 at an end of the step
	// The stiffness of what is free, decomposed with diagonal pivoting: unit lower triangle and
	// diagonal.
	free   [10]int
	lower  [10][10]float64
	pivots [10]float64
}

const (
	// flatStiffness is stiffness, as a share of the largest, that counts as none: nothing but
	// friction keeps the wire against less.
	flatStiffness = 1e-7
	// flatLoad is a load, of EI/L, that does not move what has no stiffness: EI/L is about
	// 10 N·mm, and the tolerance of a solution a hundredth of it.
	flatLoad  = 1e-9
	mostBoxed = 100
)

// solve finds the step and its walls. It reports whether the walls are others than before.
func (b *boxed) solve() (changed bool) {
	b.limited, b.least = false, 1
	before := b.touch
	for i := range b.n {
		low, high := b.low[i], b.high[i]
		b.stop[i] = 0
		switch {
		case b.touch[i] == AtPlus:
			b.stop[i] = 1
		case b.touch[i] == AtMinus:
			b.stop[i] = -1
		}
		// A wall that lies farther off than a step goes stops it all the same.
		b.x[i] = max(low, min(high, 0))
		switch b.stop[i] {
		case 1:
			b.x[i] = high
		case -1:
			b.x[i] = low
		}
		b.x[i] = max(-b.longest[i], min(b.longest[i], b.x[i]))
	}
	for range mostBoxed {
		if !b.descend() {
			break
		}
	}
	for i := range b.n {
		touch := Between
		switch {
		case b.stop[i] > 0 && b.end(i, 1) < b.high[i], b.stop[i] < 0 && b.end(i, -1) > b.low[i]:
			b.limited = true
		case b.stop[i] > 0:
			touch = AtPlus
		case b.stop[i] < 0:
			touch = AtMinus
		}
		b.touch[i] = touch
		changed = changed || touch != before[i]
	}
	return changed
}

// end is how far the step may go one way along a coordinate.
func (b *boxed) end(i int, way int8) float64 {
	if way > 0 {
		return max(min(b.high[i], b.longest[i]), -b.longest[i])
	}
	return min(max(b.low[i], -b.longest[i]), b.longest[i])
}

func (b *boxed) slope(i int) float64 {
	sum := b.g[i]
	for j := range b.n {
		sum += b.k[i][j] * b.x[j]
	}
	return sum
}

// descend takes one step down. It reports false at the minimum.
func (b *boxed) descend() bool {
	count := 0
	var slope [10]float64
	for i := range b.n {
		slope[i] = b.slope(i)
		if b.stop[i] == 0 {
			b.free[count] = i
			count++
		}
	}
	rank, bent := b.decompose(count)
	var way [10]float64 // along the free ones, in their order of pivots
	longest := math.Inf(1)
	switch {
	case bent:
		b.null(rank, rank, &way)
		b.orient(count, &way, &slope)
	default:
		loose := -1
		for p := rank; p < count && loose < 0; p++ {
			var n [10]float64
			b.null(rank, p, &n)
			var along float64
			for k := range count {
				along += n[k] * slope[b.free[k]]
			}
			if math.Abs(along) > flatLoad {
				loose, way = p, n
			}
		}
		if loose >= 0 {
			b.orient(count, &way, &slope)
			break
		}
		longest = 1
		var right [10]float64
		for k := range rank {
			right[k] = -slope[b.free[k]]
			for j := range k {
				right[k] -= b.lower[k][j] * right[j]
			}
		}
		for k := rank - 1; k >= 0; k-- {
			way[k] = right[k] / b.pivots[k]
			for j := k + 1; j < rank; j++ {
				way[k] -= b.lower[j][k] * way[j]
			}
		}
	}
	share, stop := longest, -1
	for k := range count {
		i := b.free[k]
		var room float64
		switch {
		case way[k] > 0:
			room = (b.end(i, 1) - b.x[i]) / way[k]
		case way[k] < 0:
			room = (b.end(i, -1) - b.x[i]) / way[k]
		default:
			continue
		}
		if room = max(0, room); room < share {
			share, stop = room, k
		}
	}
	if math.IsInf(share, 1) { // no way at all
		return false
	}
	for k := range count {
		b.x[b.free[k]] += share * way[k]
	}
	if stop >= 0 {
		i := b.free[stop]
		b.stop[i] = 1
		if way[stop] < 0 {
			b.stop[i] = -1
		}
		b.x[i] = b.end(i, b.stop[i])
		return true
	}
	// At the minimum of what is free: let go of the wall that pulls most.
	worst, at := 1e-13, -1
	for i := range b.n {
		if b.stop[i] != 0 {
			if pull := float64(b.stop[i]) * b.slope(i); pull > worst {
				worst, at = pull, i
			}
		}
	}
	if at < 0 {
		return false
	}
	b.stop[at] = 0
	return true
}

// decompose takes the stiffness of what is free apart, the stiffest first. rank is how many
// directions have stiffness; bent tells that the one behind them has negative stiffness.
func (b *boxed) decompose(count int) (rank int, bent bool) {
	var a [10][10]float64
	var largest float64
	for p := range count {
		for q := range count {
			a[p][q] = b.k[b.free[p]][b.free[q]]
		}
		largest = max(largest, math.Abs(a[p][p]))
	}
	flat := flatStiffness * largest
	for k := range count {
		best, at := 0.0, k
		lowest, bentAt := 0.0, k
		for p := k; p < count; p++ {
			if a[p][p] > best {
				best, at = a[p][p], p
			}
			if a[p][p] < lowest {
				lowest, bentAt = a[p][p], p
			}
		}
		if best <= flat {
			at = bentAt
			bent = lowest < -flat
		}
		switch {
		case lowest < 0:
			b.least = min(b.least, lowest/largest)
		case largest > 0:
			b.least = min(b.least, best/largest)
		}
		b.free[k], b.free[at] = b.free[at], b.free[k]
		for p := range count {
			a[p][k], a[p][at] = a[p][at], a[p][k]
		}
		a[k], a[at] = a[at], a[k]
		b.lower[k], b.lower[at] = b.lower[at], b.lower[k]
		if best <= flat {
			return k, bent
		}
		b.pivots[k] = best
		for p := k + 1; p < count; p++ {
			l := a[p][k] / best
			b.lower[p][k] = l
			for q := k + 1; q < count; q++ {
				a[p][q] -= l * a[k][q]
			}
		}
	}
	return count, false
}

// null is the direction of the free coordinate at p, behind the rank, along which those before
// give way.
func (b *boxed) null(rank, p int, way *[10]float64) {
	way[p] = 1
	for k := rank - 1; k >= 0; k-- {
		way[k] = -b.lower[p][k]
		for j := k + 1; j < rank; j++ {
			way[k] -= b.lower[j][k] * way[j]
		}
	}
}

// orient turns a direction downhill: where there is no slope, to the negative side of its
// largest part (choice: one side has to be gone to).
func (b *boxed) orient(count int, way, slope *[10]float64) {
	var along, largest float64
	for k := range count {
		along += way[k] * slope[b.free[k]]
		if math.Abs(way[k]) > math.Abs(largest) {
			largest = way[k]
		}
	}
	if along > flatLoad || math.Abs(along) <= flatLoad && largest > 0 {
		for k := range count {
			way[k] = -way[k]
		}
	}
}
