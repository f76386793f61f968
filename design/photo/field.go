package photo

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	mostFieldPxPerMM = 30.0 // of the card seen square on: finer does not make edges better known (tried)
	maskPxPerMM      = 15.0 // about; where only the way of the wire is looked for
	paperWindowMM    = 1.8  // wider than a wire with its shadow, or than two that touch
)

// field is the card seen square on.
type field struct {
	plate              // its brightness
	coarse   plate     // how dark each place is beside the paper about it, 0 for paper, 1 for black
	paper    plate     // brightness of the paper, as finely as coarse
	noise    float64   // standard deviation of coarse where there is paper
	kernel   []float64 // of slopes, in halves of a pixel
	smoothMM float64   // its standard deviation
	blurMM   float64   // of the picture
}

// plate is a picture of the card with fewer pixels.
type plate struct {
	pxPerMM       float64 // of the card as it should have been printed
	printed       r2.Vec  // by how much larger it was printed, across and up
	width, height int
	pix           []float32
}

// px is where a true point on the card is, in units of pixels whose first has its middle at 0.
func (p *plate) px(q r2.Vec) (x, y float64) {
	return q.X/p.printed.X*p.pxPerMM - 0.5, (CardHeightMM-q.Y/p.printed.Y)*p.pxPerMM - 0.5
}

// nominal is the middle of a pixel on the card as it should have been printed.
func (p *plate) nominal(x, y float64) r2.Vec {
	return r2.Vec{X: (x + 0.5) / p.pxPerMM, Y: CardHeightMM - (y+0.5)/p.pxPerMM}
}

// card is the middle of a pixel, in true mm.
func (p *plate) card(x, y float64) r2.Vec {
	q := p.nominal(x, y)
	return r2.Vec{X: q.X * p.printed.X, Y: q.Y * p.printed.Y}
}

// between is the value at a point of the card; the border's beyond it.
func (p *plate) between(q r2.Vec) float64 {
	x, y := p.px(q)
	x, y = math.Min(math.Max(x, 0), float64(p.width)-1.001), math.Min(math.Max(y, 0), float64(p.height)-1.001)
	i, j := int(x), int(y)
	u, v := x-float64(i), y-float64(j)
	k := j*p.width + i
	return (float64(p.pix[k])*(1-u)+float64(p.pix[k+1])*u)*(1-v) + (float64(p.pix[k+p.width])*(1-u)+float64(p.pix[k+p.width+1])*u)*v
}

// fieldOf turns the card square on and tells how dark things on it are.
func fieldOf(g *grey, c *camera, printed r2.Vec) *field {
	least := math.Inf(1)
	for _, m := range Marks() {
		least = math.Min(least, c.pxPerMM(m.Centre()))
	}
	f := &field{plate: plate{printed: printed}}
	// A whole number of pixels of it is one of the mask.
	by := max(1, int(math.Round(math.Min(least, mostFieldPxPerMM)/maskPxPerMM)))
	f.pxPerMM = math.Min(least, mostFieldPxPerMM)
	f.width, f.height = int(CardWidthMM*f.pxPerMM)/by*by, int(CardHeightMM*f.pxPerMM)/by*by
	f.pix = make([]float32, f.width*f.height)
	f.turn(g, c)
	small := f.shrunk(by)
	f.paper = small.closed(paperWindowMM)
	f.coarse = small
	f.coarse.pix = make([]float32, len(small.pix))
	for i, v := range small.pix {
		f.coarse.pix[i] = 1 - v/max(f.paper.pix[i], 1)
	}
	f.level()
	f.blurMM = c.blurMM
	return f
}

// turn samples the picture. The camera is asked every 16 pixels only; between, its map is
// straight to a thousandth of a pixel.
func (f *field) turn(g *grey, c *camera) {
	const cell = 16
	across := f.width/cell + 2
	var light [4*255 + 2]float32 // of quarters of a level, and the next
	for i := range light {
		light[i] = float32(255 * math.Pow(float64(i)/(4*255), tone))
	}
	upper, lower := make([]r2.Vec, across), make([]r2.Vec, across)
	corners := func(row int, into []r2.Vec) {
		for i := range into {
			into[i] = c.picture(f.nominal(float64(i*cell), float64(row*cell)))
		}
	}
	corners(0, lower)
	for row := 0; row*cell < f.height; row++ {
		upper, lower = lower, upper
		corners(row+1, lower)
		for y := row * cell; y < min(f.height, (row+1)*cell); y++ {
			v := float64(y-row*cell) / cell
			line := f.pix[y*f.width : (y+1)*f.width]
			for i := 0; i*cell < f.width; i++ {
				a := r2.Add(r2.Scale(1-v, upper[i]), r2.Scale(v, lower[i]))
				b := r2.Add(r2.Scale(1-v, upper[i+1]), r2.Scale(v, lower[i+1]))
				step := r2.Scale(1.0/cell, r2.Sub(b, a))
				for x := i * cell; x < min(f.width, (i+1)*cell); x++ {
					if value, ok := g.at(a); ok {
						quarter := int(4 * value)
						line[x] = light[quarter] + float32(4*value-float64(quarter))*(light[quarter+1]-light[quarter])
					} else {
						line[x] = 255 // outside the picture there is only the card's rim
					}
					a = r2.Add(a, step)
				}
			}
		}
	}
}

// shrunk averages squares of by × by pixels.
func (p *plate) shrunk(by int) plate {
	s := plate{p.pxPerMM / float64(by), p.printed, p.width / by, p.height / by, nil}
	s.pix = make([]float32, s.width*s.height)
	for y := range s.height * by {
		line, into := p.pix[y*p.width:], s.pix[y/by*s.width:(y/by+1)*s.width]
		for x := range into {
			for _, v := range line[x*by : (x+1)*by] {
				into[x] += v
			}
		}
	}
	for i := range s.pix {
		s.pix[i] /= float32(by * by)
	}
	return s
}

// closed is a picture without what is darker than its surroundings and narrower than a window:
// the brightest of the window, and then the darkest of that. A shadow's edge stays where it is.
// What comes out is smoothed a little.
func (p *plate) closed(windowMM float64) plate {
	half := max(1, int(windowMM*p.pxPerMM/2))
	out := *p
	out.pix = slices.Clone(p.pix)
	box(&out, 1, sliding(mean32)) // against noise, which the brightest would pick
	box(&out, half, sliding(nil))
	for i := range out.pix {
		out.pix[i] = -out.pix[i]
	}
	box(&out, half, sliding(nil))
	for i := range out.pix {
		out.pix[i] = -out.pix[i]
	}
	box(&out, half/2, sliding(mean32))
	return out
}

type windowed func(line, into []float32, half int)

func mean32(line, into []float32, half int) {
	n := len(line)
	var sum float32
	count := 0
	for i := range min(half, n) {
		sum += line[i]
		count++
	}
	for i := range n {
		if i+half < n {
			sum += line[i+half]
			count++
		}
		if i-half-1 >= 0 {
			sum -= line[i-half-1]
			count--
		}
		into[i] = sum / float32(count)
	}
}

// sliding is how a window slides over a line: nil takes the largest value in it.
func sliding(how windowed) windowed {
	if how != nil {
		return how
	}
	var queue []int // places of values that may come to be the largest, falling
	return func(line, into []float32, half int) {
		queue = queue[:0]
		n := len(line)
		for i := range n + half {
			if i < n {
				for len(queue) > 0 && line[queue[len(queue)-1]] <= line[i] {
					queue = queue[:len(queue)-1]
				}
				queue = append(queue, i)
			}
			if k := i - half; k >= 0 {
				if queue[0] < k-half {
					queue = queue[1:]
				}
				into[k] = line[queue[0]]
			}
		}
	}
}

// box lets a window slide over all rows, then over all columns.
func box(p *plate, half int, how windowed) {
	out := make([]float32, max(p.width, p.height))
	for y := range p.height {
		line := p.pix[y*p.width : (y+1)*p.width]
		how(line, out[:p.width], half)
		copy(line, out[:p.width])
	}
	column := make([]float32, p.height)
	for x := range p.width {
		for y := range column {
			column[y] = p.pix[y*p.width+x]
		}
		how(column, out[:p.height], half)
		for y := range column {
			p.pix[y*p.width+x] = out[y]
		}
	}
}

// level makes the paper's darkness 0 and takes its scatter.
func (f *field) level() {
	var values []float32
	for i, v := range f.coarse.pix {
		if i%7 == 0 && f.inField(i%f.coarse.width, i/f.coarse.width) {
			values = append(values, v)
		}
	}
	slices.Sort(values)
	middle := values[len(values)/2]
	for i := range f.coarse.pix {
		f.coarse.pix[i] -= middle
	}
	for i := range f.paper.pix {
		f.paper.pix[i] *= 1 - middle
	}
	for i := range values {
		values[i] = float32(math.Abs(float64(values[i] - middle)))
	}
	slices.Sort(values)
	f.noise = 1.4826 * float64(values[len(values)/2]) // of a normal scatter
}

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

// wireMask tells the wire, which is about wireMM wide, from the paper. Its shadow may belong
// to it.
func (f *field) wireMask(wireMM float64) (*mask, error) {
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
	limit := float32(math.Max(leastOfWire*darkest, 4*f.noise))
	m := &mask{&f.coarse, make([]bool, len(f.coarse.pix))}
	for i, v := range f.coarse.pix {
		m.on[i] = inside[i] && v > limit
	}
	m.close(max(1, int(math.Round(0.3*wireMM*m.pxPerMM)))) // over a glare along the wire
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
