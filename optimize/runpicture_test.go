//go:build quality

package optimize

import (
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"springwright/design/spring"
)

var runPicture = flag.String("runpicture", "", "the SVG `FILE` that a picture of a search goes into; empty: none is drawn")

// Each stage of a search for the demo leaves what costs less than what it was given, in what that stage goes by, and
// the picture shows where in the plane of two of the numbers.
func TestPictureOfARun(t *testing.T) {
	c := demoCase(t)
	c.Search.Starts = 0
	s := trialOf(t, c)
	starts := startingPoints(s.problem, s.plan)
	var scattered []candidate
	crew := s.crew.sketch[0]
	for _, x := range starts {
		closed := slices.Clone(x)
		s.descend(newClosing(crew), forTarget(), s.box, closed, closeIterations)
		scattered = append(scattered, s.descend(crew, forTarget(), s.box, closed, firstIterations))
	}
	free, finest := polish(s.problem, s.crew, s.plan, scatter(s.problem, s.crew, s.plan))
	stages, _ := thin(s.problem, s.crew, finest)
	rounded := round(s.problem, s.crew, s.plan, stages)
	chosen := referee(s.problem, s.crew, s.plan, rounded)
	if !chosen.cost.met() {
		t.Fatal("the demo is not met")
	}
	if a, b := free[0].cost.misses, rank(scattered, forTarget(), 1)[0].cost.misses; !(a < b) {
		t.Errorf("polished to %v of the tolerance, scattered to %v", a, b)
	}
	if *runPicture == "" {
		return
	}
	var thinnedDown []candidate
	for _, stage := range stages[0] {
		thinnedDown = append(thinnedDown, stage.candidate)
	}
	at := func(list []candidate) (points [][]float64) {
		for _, one := range list {
			if one.cost.solved() {
				points = append(points, one.x)
			}
		}
		return points
	}
	r := run{trial: s, chosen: chosen.x}
	r.i, r.j = r.named("loop height"), r.named("fourth corner")
	panels := []panel{
		{"scatter", "12 points from all over, drawn towards the target", starts, at(scattered)},
		{"polish", "the best go on over the whole travel", at(scattered), at(finest)},
		{"thin", "bends that are not needed are given up", at(finest), at(thinnedDown)},
		{"round", "onto what a hand can bend; ringed: chosen", at(thinnedDown), at(rounded)},
	}
	if err := os.WriteFile(*runPicture, []byte(r.svg(panels)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// run is a search that is drawn in the plane of two of its numbers.
type run struct {
	trial
	chosen []float64
	i, j   int
}

// panel is a stage: from where it went, and to where.
type panel struct {
	name, does string
	from, to   [][]float64
}

func (r run) named(name string) int {
	return slices.IndexFunc(r.pattern.Freedoms, func(f spring.Freedom) bool { return f.Name == name })
}

// What a panel measures, in mm on the page.
const (
	panelWide, panelHigh = 74.0, 52.0
	cellsWide, cellsHigh = 37, 26
	leftRoom, headRoom   = 17.0, 11.0
	footRoom             = 11.0
)

// shades are of what the worst of the target's tolerances is used to: met, up to three times, nine times and so on.
var shades = [...]string{"#ffffff", "#ececec", "#dadada", "#c8c8c8", "#b6b6b6", "#a4a4a4"}

func (r run) svg(panels []panel) string {
	var b strings.Builder
	wide, high := leftRoom+panelWide+3, headRoom+panelHigh+footRoom
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" font-family="sans-serif" font-size="3.2">`+"\n", 2*wide, 2*high, 2*wide, 2*high)
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="white"/>`+"\n", 2*wide, 2*high)
	fmt.Fprintf(&b, `<defs><g id="land">%s</g></defs>`+"\n", r.land())
	for k, p := range panels {
		fmt.Fprintf(&b, `<g transform="translate(%g %g)">`+"\n", wide*float64(k%2)+leftRoom, high*float64(k/2)+headRoom)
		fmt.Fprintf(&b, `<text y="-6" font-weight="bold" font-size="4">%d %s</text><text y="-1.8">%s</text>`+"\n", k+1, p.name, p.does)
		b.WriteString(`<use href="#land"/>`)
		for n, from := range p.from {
			if k == 0 && n < len(p.to) { // each start has one end
				x1, y1 := r.at(from)
				x2, y2 := r.at(p.to[n])
				fmt.Fprintf(&b, `<path d="M%.2f %.2fL%.2f %.2f" stroke="#777777" stroke-width="0.25"/>`, x1, y1, x2, y2)
			}
			r.mark(&b, from, "white")
		}
		for _, to := range p.to {
			r.mark(&b, to, "black")
		}
		if k == len(panels)-1 {
			x, y := r.at(r.chosen)
			fmt.Fprintf(&b, `<circle cx="%.2f" cy="%.2f" r="2.6" fill="none" stroke="black" stroke-width="0.5"/>`, x, y)
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// land is the plane of the two numbers with its axes.
func (r run) land() string {
	var b strings.Builder
	b.WriteString(`<g shape-rendering="crispEdges">`)
	x := slices.Clone(r.chosen)
	fi, fj := r.pattern.Freedoms[r.i], r.pattern.Freedoms[r.j]
	for m := range cellsHigh {
		for n := range cellsWide {
			x[r.i] = fi.Min + (fi.Max-fi.Min)*(float64(n)+0.5)/cellsWide
			x[r.j] = fj.Min + (fj.Max-fj.Min)*(float64(m)+0.5)/cellsHigh
			shade := len(shades) - 1
			if c := costAt(r.worker, x); c.solved() {
				shade = 0
				for limit := 1.0; shade < len(shades)-1 && c.misses > limit; limit *= 3 {
					shade++
				}
			}
			const w, h = panelWide / cellsWide, panelHigh / cellsHigh
			fmt.Fprintf(&b, `<rect x="%.0f" y="%.0f" width="%.0f" height="%.0f" fill="%s"/>`, w*float64(n), panelHigh-h*float64(m+1), w, h, shades[shade])
		}
	}
	fmt.Fprintf(&b, "</g>\n"+`<rect width="%g" height="%g" fill="none" stroke="black" stroke-width="0.3"/>`+"\n", panelWide, panelHigh)
	for k := range 5 {
		share := float64(k) / 4
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">%.0f</text>`, panelWide*share, panelHigh+4, fi.Min+share*(fi.Max-fi.Min))
		fmt.Fprintf(&b, `<text x="-1" y="%g" text-anchor="end">%.0f</text>`, panelHigh*(1-share)+1, (fj.Min+share*(fj.Max-fj.Min))*180/math.Pi)
	}
	fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">%s, mm</text>`, panelWide/2, panelHigh+8.5, fi.Name)
	fmt.Fprintf(&b, `<text transform="translate(-10.5 %g) rotate(-90)" text-anchor="middle">%s, °</text>`+"\n", panelHigh/2, fj.Name)
	return b.String()
}

// at is where a spring lies in a panel.
func (r run) at(x []float64) (float64, float64) {
	share := func(k int) float64 {
		f := r.pattern.Freedoms[k]
		return (x[k] - f.Min) / (f.Max - f.Min)
	}
	return panelWide * share(r.i), panelHigh * (1 - share(r.j))
}

func (r run) mark(b *strings.Builder, x []float64, fill string) {
	cx, cy := r.at(x)
	fmt.Fprintf(b, `<circle cx="%.2f" cy="%.2f" r="1.1" fill="%s" stroke="black" stroke-width="0.3"/>`, cx, cy, fill)
}
