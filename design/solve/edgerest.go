package solve

import (
	"math"
)

// edgeRest finds where a wire comes to rest in slots with play. Each of its ways goes from -play to +play.
// Held at x, the slots put loads on the wire along its ways, the slopes of its energy: at rest they are
// nothing, or those of a wall that pushes. So the energy is least within a box, which Newton's method finds, its
// steps those to the least energy that the slopes tell within the box, and cut where the energy rises again at
// the end.
type edgeRest struct {
	x, play []float64
	held    func(x []float64) ([]float64, error)
}

const (
	// edgeDifferenceRad is the change of a way by which the slope of the loads is found: far above the
	// solver's tolerance, far below any play.
	edgeDifferenceRad = 1e-5
	// edgeSlackNMM is the load at which a way counts as free: what prints is a thousand times as much.
	edgeSlackNMM = 1e-5
	edgeRounds   = 60 // of Newton's method, about five are usual, and of cutting a step
	edgeSweeps   = 2000
)

// find brings the wire to rest from where it lies, and leaves it solved there.
func (r *edgeRest) find() error {
	load, err := r.held(r.x)
	if err != nil {
		return err
	}
	var slope [][]float64
	for range edgeRounds {
		left := r.unborne(r.x, load)
		if left <= edgeSlackNMM {
			return nil
		}
		if slope == nil {
			if slope, err = r.slopes(load); err != nil {
				return err
			}
		}
		by := r.step(load, slope)
		from := dot(load, by)
		share, low, high := 1.0, 0.0, 1.0
		var to, after []float64
		for range edgeRounds {
			to = r.moved(by, share)
			if after, err = r.held(to); err != nil {
				return err
			}
			end := dot(after, by)
			if end <= -from/2 { // slopes begin below 0
				break
			}
			high = share
			share = (low + high) / 2
			if now := high * from / (from - end); now > low && now < high {
				share = now
			}
		}
		if share < 1 || r.unborne(to, after) > left/3 {
			slope = nil
		}
		r.x, load = to, after
	}
	return ErrNoContact
}

// moved are the ways a share of a step on, between their walls.
func (r *edgeRest) moved(by []float64, share float64) []float64 {
	to := make([]float64, len(r.x))
	for i := range to {
		to[i] = r.within(i, r.x[i]+share*by[i])
	}
	return to
}

func (r *edgeRest) within(i int, at float64) float64 { return max(-r.play[i], min(r.play[i], at)) }

// unborne is the largest load that no wall bears.
func (r *edgeRest) unborne(x, load []float64) (worst float64) {
	for i := range x {
		if bears := x[i] >= r.play[i] && load[i] <= 0 || x[i] <= -r.play[i] && load[i] >= 0; !bears {
			worst = max(worst, math.Abs(load[i]))
		}
	}
	return worst
}

// slopes are how the loads change by each way, from differences. The wire stays solved somewhere near.
func (r *edgeRest) slopes(load []float64) ([][]float64, error) {
	k := make([][]float64, len(load))
	for i := range k {
		k[i] = make([]float64, len(load))
	}
	y := append([]float64(nil), r.x...)
	for j := range y {
		y[j] -= math.Copysign(edgeDifferenceRad, r.x[j])
		moved, err := r.held(y)
		if err != nil {
			return nil, err
		}
		for i := range k {
			k[i][j] = (moved[i] - load[i]) / (y[j] - r.x[j])
		}
		y[j] = r.x[j]
	}
	return k, nil
}

// step is the way to the least energy within the box, as loads and slopes tell it, by going along one way
// after the other.
func (r *edgeRest) step(load []float64, slope [][]float64) []float64 {
	by := make([]float64, len(load))
	for range edgeSweeps {
		change := 0.0
		for i := range by {
			stiff := slope[i][i]
			if !(stiff > 0) {
				continue
			}
			pull := load[i]
			for j := range by {
				pull += (slope[i][j] + slope[j][i]) / 2 * by[j]
			}
			to := r.within(i, r.x[i]+by[i]-pull/stiff) - r.x[i]
			change = max(change, math.Abs(to-by[i]))
			by[i] = to
		}
		if change < 1e-14 {
			break
		}
	}
	return by
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
