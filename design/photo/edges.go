package photo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	sampleMM     = 0.05 // between places along the wire that are looked across
	sharedMM     = 0.12 // how far on either side of a place others join in its edges
	besideMM     = 0.5  // how far beyond the wire's edge is looked
	edgeShare    = 0.12 // of the strongest edge across: weaker ones are noise
	widthOff     = 0.10 // share by which two edges of one wire lie off its width, standard deviation
	mostWidth    = 1.3  // and by how much a width may differ from the expected one at most
	leastWidth   = 0.7
	paperShare   = 0.10 // of the wire's darkness that paper beside it may have
	smoothOfWire = 0.25
	oddSign      = 0.6 // how much less two edges count of which one goes from shadow to a lighter wire
	loneSD       = 2.0 // by how much a place is known worse by one edge
	nextPieceMM  = 1.6 // along the wire: parts that are nearer than this are neighbours, and do not pass
)

// place is a point of the line that is looked across.
type place struct {
	piece   int
	s       float64 // along the piece
	at      r2.Vec
	normal  r2.Vec // to the left
	along   float64
	free    [2]bool // whether no other part of the wire lies on the left, on the right
	hidden  bool    // another part of the wire lies over it
	profile []float64
	mean    []float64 // of the profiles about it; nil where it is not looked at
	edges   []edge    // of that
}

// stepMM is between the values of a profile.
func (f *field) stepMM() float64 { return 0.5 / f.pxPerMM }

// places are points along the line, each with the brightness across it beside that of paper.
func (f *field) places(l *line, wireMM float64) []place {
	var all []place
	along := 0.0
	step := f.stepMM()
	reach := wireMM/2 + besideMM + float64(len(f.kernel)/2)*step
	half := int(reach / step)
	for i, p := range l.lay() {
		n := int(p.lengthMM / sampleMM)
		for k := range n {
			s := (float64(k) + 0.5) * p.lengthMM / float64(n)
			at, heading := p.pose(s)
			sin, cos := math.Sincos(heading)
			q := place{piece: i, s: s, at: at, normal: r2.Vec{X: -sin, Y: cos}, along: along + s, free: [2]bool{true, true}}
			q.profile = make([]float64, 2*half+1)
			for j := range q.profile {
				x := r2.Add(at, r2.Scale(float64(j-half)*step, q.normal))
				q.profile[j] = f.between(x) / math.Max(1, f.paper.between(x))
			}
			all = append(all, q)
		}
		along += p.lengthMM
	}
	passing(all, wireMM)
	for i := 0; i < len(all); i += 2 {
		if p := &all[i]; !p.hidden {
			p.mean = across(all, i)
			p.edges = f.edges(p.mean)
		}
	}
	return all
}

// passing notes where another part of the wire lies over a place or close beside it.
func passing(all []place, wireMM float64) {
	const cellMM = 1.0
	type cell [2]int
	at := func(q r2.Vec) cell { return cell{int(math.Floor(q.X / cellMM)), int(math.Floor(q.Y / cellMM))} }
	cells := map[cell][]int{}
	for i := range all {
		c := at(all[i].at)
		cells[c] = append(cells[c], i)
	}
	for i := range all {
		p := &all[i]
		c := at(p.at)
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, k := range cells[cell{c[0] + dx, c[1] + dy}] {
					q := &all[k]
					if math.Abs(q.along-p.along) < nextPieceMM {
						continue
					}
					d := r2.Sub(q.at, p.at)
					switch away := r2.Norm(d); {
					case away < 0.8*wireMM:
						p.hidden = true
					case away < 1.3*wireMM+0.1 && r2.Dot(d, p.normal) > 0:
						p.free[0] = false
					case away < 1.3*wireMM+0.1:
						p.free[1] = false
					}
				}
			}
		}
	}
}

// edge is a place across the wire where the brightness changes, mm to the left.
type edge struct {
	offMM float64
	slope float64 // of the brightness to the left, of paper's per mm
}

// across averages the profiles about a place of the same piece.
func across(all []place, i int) []float64 {
	p := &all[i]
	sum := slices.Clone(p.profile)
	count := 1.0
	join := func(k int) bool {
		if k < 0 || k >= len(all) || all[k].piece != p.piece || math.Abs(all[k].s-p.s) > sharedMM || len(all[k].profile) != len(sum) {
			return false
		}
		for j, v := range all[k].profile {
			sum[j] += v
		}
		count++
		return true
	}
	for k := 1; join(i-k) && join(i+k); k++ { // evenly on either side, so that it stays in place
	}
	for j := range sum {
		sum[j] /= count
	}
	return sum
}

// slopes of a profile, per mm, behind a normal smoothing that is about as wide as the blur: less
// lets noise in, more lets neighbouring edges melt (Canny, IEEE Trans PAMI 1986;8:679).
func (f *field) slopes(profile []float64) []float64 {
	step := f.stepMM()
	half := len(f.kernel) / 2
	out := make([]float64, len(profile))
	for j := half; j < len(profile)-half; j++ {
		var sum float64
		for k, w := range f.kernel {
			sum += w * profile[j+k-half]
		}
		out[j] = sum / step
	}
	return out
}

// smoothing sets the kernel of slopes for a blur and a wire.
func (f *field) smoothing(blurMM, wireMM float64) {
	step := f.stepMM()
	sd := math.Max(1, math.Min(blurMM, smoothOfWire*wireMM)/step)
	f.smoothMM = sd * step
	half := int(math.Ceil(2.5 * sd))
	f.kernel = make([]float64, 2*half+1)
	var turn float64
	for k := range f.kernel {
		x := float64(k - half)
		f.kernel[k] = x * math.Exp(-x*x/(2*sd*sd))
		turn += x * f.kernel[k]
	}
	for k := range f.kernel {
		f.kernel[k] /= turn // so that a slope of 1 gives 1
	}
}

// edges of a profile from right to left.
func (f *field) edges(profile []float64) []edge {
	step := f.stepMM()
	slope := f.slopes(profile)
	n := len(slope)
	most := 0.0
	for _, v := range slope {
		most = math.Max(most, math.Abs(v))
	}
	var found []edge
	for j := 2; j < n-2; j++ {
		v := math.Abs(slope[j])
		if v < edgeShare*most || v < math.Abs(slope[j-1]) || v <= math.Abs(slope[j+1]) || slope[j]*slope[j-1] < 0 || slope[j]*slope[j+1] < 0 {
			continue
		}
		a, c := math.Abs(slope[j-1]), math.Abs(slope[j+1])
		shift := 0.0
		if d := a - 2*v + c; d < 0 {
			shift = (a - c) / (2 * d)
		}
		found = append(found, edge{(float64(j-n/2) + shift) * step, slope[j]})
	}
	return found
}

// pair is the two edges of the wire at a place.
type pair struct {
	right, left edge
	score       float64
}

// bestPair are the edges that are most likely the wire's: strong, and its width apart. From
// right to left the wire is entered towards the dark and left towards the light, but where a
// shadow is darker than the wire.
func bestPair(found []edge, wireMM float64) (best pair, ok bool) {
	for i, r := range found {
		for _, l := range found[i+1:] {
			width := l.offMM - r.offMM
			off := (width/wireMM - 1) / widthOff
			if math.Abs(off) > 2.5 {
				continue
			}
			score := math.Min(math.Abs(r.slope), math.Abs(l.slope)) * math.Exp(-off*off/2)
			switch {
			case r.slope < 0 && l.slope > 0:
			case r.slope > 0 && l.slope < 0:
				continue
			default:
				score *= oddSign
			}
			// Nearer to where it is looked for, where there is a choice.
			middle := (l.offMM + r.offMM) / 2 / (wireMM / 2)
			score /= 1 + 0.2*middle*middle
			if score > best.score {
				best, ok = pair{r, l, score}, true
			}
		}
	}
	return best, ok
}

// paperBeside tells whether there is paper beside the wire at a place, side 0 to the left.
func (f *field) paperBeside(profile []float64, wireMM float64, side int) bool {
	step := f.stepMM()
	n := len(profile)
	dark := 1 - slices.Min(profile)
	from, to := int((wireMM/2+0.3*besideMM)/step), int((wireMM/2+0.7*besideMM)/step)
	var values []float64
	for k := from; k <= to; k++ {
		j := n/2 + k
		if side == 1 {
			j = n/2 - k
		}
		if j >= 0 && j < n {
			values = append(values, profile[j])
		}
	}
	return len(values) > 0 && math.Abs(1-mean(values)) < paperShare*dark
}

// middles are the points of the wire's middle, as the edges show them. seen counts, for each
// piece, places that were looked across and those where the wire was found.
//
// Where a shadow lies on one side only and the wire's width is known from elsewhere, the edge
// beside paper alone tells where the wire is: a shadow moves the other one.
func (f *field) middles(l *line, all []place, widthsMM []float64, known bool) (on []placed, looked, seen []int) {
	pieces := len(l.pieces)
	looked, seen = make([]int, pieces), make([]int, pieces)
	for i := range all {
		p := &all[i]
		if p.mean == nil {
			continue
		}
		looked[p.piece]++
		wireMM := widthsMM[p.piece]
		profile, found := p.mean, p.edges
		// A blur of standard deviation s moves the steepest place of an edge of curvature k by
		// s²·k/2 towards its middle.
		inwards := f.blurMM * f.blurMM / 2 * l.curvature(p.along, f.blurMM)
		put := func(offMM, sd, widthMM float64, clear bool) {
			offMM -= inwards
			on = append(on, placed{r2.Add(p.at, r2.Scale(offMM, p.normal)), p.piece, sd * edgeSDMM, widthMM, clear})
			seen[p.piece]++
		}
		if p.free[0] && p.free[1] {
			if b, ok := bestPair(found, wireMM); ok {
				left, right := f.paperBeside(profile, wireMM, 0), f.paperBeside(profile, wireMM, 1)
				width := b.left.offMM - b.right.offMM
				switch {
				case known && left && !right:
					put(b.left.offMM-wireMM/2, 1, width, false)
				case known && right && !left:
					put(b.right.offMM+wireMM/2, 1, width, false)
				default:
					put((b.left.offMM+b.right.offMM)/2, 1, width, left && right)
				}
				continue
			}
		}
		// One edge beside paper tells where the wire is, as its width is known.
		best, at := 0.0, 0.0
		for _, e := range found {
			for side, sign := range [...]float64{1, -1} {
				middle := e.offMM - sign*wireMM/2
				if p.free[side] && sign*e.slope > best && math.Abs(middle) < wireMM/2 && f.paperBeside(profile, wireMM, side) {
					best, at = sign*e.slope, middle
				}
			}
		}
		if best > 0 {
			put(at, loneSD, 0, false)
		}
	}
	return on, looked, seen
}

// edgeSDMM is about what a point of the middle is off by; only the ratio to the scatter that
// is found matters.
const edgeSDMM = 0.01
