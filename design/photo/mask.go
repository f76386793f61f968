package photo

import (
	"fmt"
	"math"
	"slices"
)

const fieldClearMM = 0.35 // of the lines and marks, whose edges are blurred

// inField tells whether a pixel of the coarse plate lies where the spring may.
func (f *field) inField(x, y int) bool {
	q := f.coarse.nominal(float64(x), float64(y))
	room := Field()
	if q.X < room.Min.X+fieldClearMM || q.X > room.Max.X-fieldClearMM || q.Y < room.Min.Y+fieldClearMM || q.Y > room.Max.Y-fieldClearMM {
		return false
	}
	const rim = MarkMM + fieldClearMM
	return (q.X > rim && q.X < CardWidthMM-rim) || (q.Y > rim && q.Y < CardHeightMM-rim)
}

const (
	leastDark   = 0.08 // a wire that is no darker than this beside the paper is not told from it
	leastOfWire = 0.35 // what belongs to the wire is at least so dark beside its darkest
	wireShare   = 0.001
	dustMM      = 1.2 // what is shorter is dust
)

// mask is where the wire may be, on the coarse plate.
type mask struct {
	*plate
	on []bool
}

// wireMask tells the wire, which is about wireMM wide, from the paper: what is as dark as a share of
// the darkest. Its shadow may belong to it.
func (f *field) wireMask(wireMM, darkShare float64) (*mask, error) {
	var values []float32
	inside := make([]bool, len(f.coarse.pix))
	for i, v := range f.coarse.pix {
		if inside[i] = f.inField(i%f.coarse.width, i/f.coarse.width); inside[i] {
			values = append(values, v)
		}
	}
	slices.Sort(values)
	darkest := float64(values[len(values)-1-int(wireShare*float64(len(values)))])
	if darkest < math.Max(leastDark, 6*f.noise) {
		return nil, &PictureError{Reason: NoWire}
	}
	limit := float32(math.Max(darkShare*darkest, 4*f.noise))
	m := &mask{&f.coarse, make([]bool, len(f.coarse.pix))}
	for i, v := range f.coarse.pix {
		m.on[i] = inside[i] && v > limit
	}
	m.close(max(1, int(math.Ceil(0.3*wireMM*m.pxPerMM)))) // over a glare along the wire
	blobs := darkBlobs(m.on, m.width, m.height)
	slices.SortStableFunc(blobs, func(a, b *blob) int { return b.area - a.area })
	if len(blobs) == 0 {
		return nil, &PictureError{Reason: NoWire}
	}
	size := func(c *blob) float64 {
		return math.Hypot(float64(c.maxX-c.minX), float64(c.maxY-c.minY)) / m.pxPerMM
	}
	for _, c := range blobs[1:] {
		if mm := size(c); mm > dustMM {
			q := m.card(float64(c.minX+c.maxX)/2, float64(c.minY+c.maxY)/2)
			return nil, &PictureError{Reason: SeveralWires, Detail: fmt.Sprintf("one of %.0f mm, and one of %.1f mm whose middle is %.0f mm from the card's left edge and %.0f mm from its lower edge", size(blobs[0]), mm, q.X, q.Y)}
		}
	}
	m.keep(blobs[0])
	for i, on := range m.on {
		if x, y := i%m.width, i/m.width; on && !(f.inField(x-1, y) && f.inField(x+1, y) && f.inField(x, y-1) && f.inField(x, y+1)) {
			return nil, &PictureError{Reason: LeavesField}
		}
	}
	return m, nil
}

// keep takes away all other blobs than c.
func (m *mask) keep(c *blob) {
	kept := make([]bool, len(m.on))
	// The blob's first row has a pixel of it; what hangs together with that is the blob.
	for x := c.minX; x <= c.maxX; x++ {
		i := c.minY*m.width + x
		if !m.on[i] || kept[i] {
			continue
		}
		count := 0
		var filled []int
		stack := []int{i}
		kept[i] = true
		for len(stack) > 0 {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			count++
			filled = append(filled, k)
			for _, d := range m.around() {
				if n := k + d; n >= 0 && n < len(m.on) && m.on[n] && !kept[n] {
					kept[n] = true
					stack = append(stack, n)
				}
			}
		}
		if count == c.area {
			m.on = kept
			return
		}
		for _, k := range filled {
			kept[k] = false
		}
	}
}

// around are the eight pixels about one, in order round it; the mask keeps clear of its rim.
func (m *mask) around() [8]int {
	w := m.width
	return [8]int{-w, -w + 1, 1, w + 1, w, w - 1, -1, -w - 1}
}

// close fills gaps of twice a radius.
func (m *mask) close(radius int) {
	var disc []int
	for dy := -radius; dy <= radius; dy++ {
		for dx := -radius; dx <= radius; dx++ {
			if dx*dx+dy*dy <= radius*radius+1 {
				disc = append(disc, dy*m.width+dx)
			}
		}
	}
	grown := make([]bool, len(m.on))
	for i, on := range m.on {
		if on {
			for _, d := range disc {
				if k := i + d; k >= 0 && k < len(grown) {
					grown[k] = true
				}
			}
		}
	}
	shrunk := make([]bool, len(m.on))
	for i, on := range grown {
		if !on {
			continue
		}
		all := true
		for _, d := range disc {
			if k := i + d; k >= 0 && k < len(grown) && !grown[k] {
				all = false
				break
			}
		}
		shrunk[i] = all || m.on[i]
	}
	m.on = shrunk
}
