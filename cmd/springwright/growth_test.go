//go:build quality && unix

package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/family"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/optimize"
	"springwright/presets"
)

var growthPicture = flag.String("growth", "", "the SVG `FILE` that the chart of growth goes into; empty: none is drawn")

// growth is what a job costs in seconds of the processor as it becomes larger.
type growth struct {
	of     string
	points [][2]float64 // size, seconds
	// most is the largest power of the size that the seconds may grow by from the first point to the last.
	most float64
}

// exponent is the power of the size by which the seconds grow from the first point to the last.
func (g growth) exponent() float64 {
	a, b := g.points[0], g.points[len(g.points)-1]
	return math.Log(b[1]/a[1]) / math.Log(b[0]/a[0])
}

// Nothing grows faster than about in proportion to what is asked for: twice the positions, orders or students take
// twice the time, and twice the free numbers or pieces not much more.
func TestGrowth(t *testing.T) {
	runtime.GOMAXPROCS(1)
	all := []growth{
		{"pieces of the wire", growthOfPieces(t), 1.4},
		{"positions, in tubes", growthOfPositions(t), 1.2},
		{"free numbers of a search", growthOfFreedoms(t), 2},
		{"orders of one case", growthOfCommands(t, []int{1, 4, 16}, func(n int, dir string) []string {
			var list strings.Builder
			list.WriteString("order,preset\n")
			for i := range n {
				fmt.Fprintf(&list, "o-%d,demo\n", i)
			}
			file := filepath.Join(dir, "orders.csv")
			if err := os.WriteFile(file, []byte(list.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			return []string{"batch", file, "--out", filepath.Join(dir, "out"), "--quiet"}
		}), 1.1},
		{"students", growthOfCommands(t, []int{1, 2}, func(n int, dir string) []string {
			return []string{"handout", "--students", fmt.Sprint(n), "--out", filepath.Join(dir, "out"), "--quiet"}
		}), 1.3},
	}
	for _, g := range all {
		t.Logf("%s: grows by the power of %.2f", g.of, g.exponent())
		for _, p := range g.points {
			t.Logf("  %4.0f %.4f s", p[0], p[1])
		}
		if g.exponent() > g.most {
			t.Errorf("%s: grows by the power of %.2f, at most %.1f is expected", g.of, g.exponent(), g.most)
		}
	}
	if *growthPicture != "" {
		if err := os.WriteFile(*growthPicture, []byte(growthSVG(all)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// processorSeconds is what f takes of the processor.
func processorSeconds(t *testing.T, f func()) float64 {
	t.Helper()
	now := func() float64 {
		var u syscall.Rusage
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
			t.Fatal(err)
		}
		return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
	}
	began := now()
	f()
	return now() - began
}

// repeated is the mean time of a short job.
func repeated(t *testing.T, f func()) float64 {
	const times = 10
	f()
	return processorSeconds(t, func() {
		for range times {
			f()
		}
	}) / times
}

func evaluated(t *testing.T, s spring.Spring) {
	t.Helper()
	if _, err := solve.Evaluate(t.Context(), s, solve.Options{AllowYield: true}); err != nil {
		t.Fatal(err)
	}
}

// growthOfPieces solves zigzags of 40 mm with more and more bends.
func growthOfPieces(t *testing.T) (points [][2]float64) {
	c := presetOf(t, "demo")
	c.Wire.StressRelieved = true // what bending left would be followed by other means
	for _, bends := range []int{4, 8, 16, 32} {
		angle, steps := 0.3, spring.Steps{}
		for range bends {
			steps = append(steps, spring.StraightStep(40/float64(bends+1)), spring.BendStep(angle, 0.5))
			angle = -angle
		}
		s := spring.Spring{
			Path: spring.PathOf(append(steps, spring.StraightStep(40/float64(bends+1)))...), Wire: c.Wire,
			AnchorSlotLengthMM: 3, ActiveSlotLengthMM: 3, Positions: 7,
		}
		s.End = spring.SeatOf(s.Rod().UnloadedEnd(beam.Origin()), s.Heading)
		s.Start = s.End
		s.Start.AtMM.Z += 1
		points = append(points, [2]float64{float64(2*bends + 1), repeated(t, func() { evaluated(t, s) })})
	}
	return points
}

// growthOfPositions solves the demo's spring, as it is seated, at more and more positions.
func growthOfPositions(t *testing.T) (points [][2]float64) {
	c := presetOf(t, "demo")
	c.Bender.Springs = 0
	found, err := optimize.Search(t.Context(), c, optimize.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{4, 8, 16, 32} {
		s := found.Spring
		s.Positions = n
		points = append(points, [2]float64{float64(n), repeated(t, func() { evaluated(t, s) })})
	}
	return points
}

// growthOfFreedoms searches presets with more and more numbers that are free.
func growthOfFreedoms(t *testing.T) (points [][2]float64) {
	for _, name := range []string{"cantilever", "root-torque", "demo", "t-loop"} {
		c := presetOf(t, name)
		pattern, err := family.PatternFor(c)
		if err != nil {
			t.Fatal(err)
		}
		points = append(points, [2]float64{float64(len(pattern.Freedoms)), processorSeconds(t, func() {
			if _, err := optimize.Search(t.Context(), c, optimize.Options{Workers: 1}); err != nil {
				t.Fatal(err)
			}
		})})
	}
	return points
}

func presetOf(t *testing.T, name string) design.Case {
	t.Helper()
	_, c, err := presets.Case(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// growthOfCommands runs a command for more and more of something.
func growthOfCommands(t *testing.T, sizes []int, command func(n int, dir string) []string) (points [][2]float64) {
	for _, n := range sizes {
		args := command(n, t.TempDir())
		points = append(points, [2]float64{float64(n), processorSeconds(t, func() {
			if code := run(t.Context(), args, console{stdout: io.Discard, stderr: io.Discard}); code != exitDone {
				t.Fatalf("%q ends with %d", args, code)
			}
		})})
	}
	return points
}

// growthSVG is the chart: a panel for each, both axes by powers of ten. The dashed line is in proportion to the size.
func growthSVG(all []growth) string {
	const wide, high, left, head, gap = 40.0, 46.0, 14.0, 10.0, 16.0
	const decade = 12.0 // mm a power of ten
	var b strings.Builder
	total := left + float64(len(all))*(wide+gap)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" font-family="sans-serif" font-size="3.2">`+"\n", total, head+high+14, total, head+high+14)
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="white"/>`+"\n", total, head+high+14)
	for k, g := range all {
		first, last := g.points[0], g.points[len(g.points)-1]
		lowest := math.Floor(math.Log10(min(first[1], last[1])))
		at := func(p [2]float64) (float64, float64) {
			across := math.Log10(p[0]/first[0]) / math.Log10(last[0]/first[0])
			return 4 + across*(wide-8), high - decade*(math.Log10(p[1])-lowest) - 2
		}
		fmt.Fprintf(&b, `<g transform="translate(%g %g)"><text y="-3" font-weight="bold">%s</text>`+"\n", left+float64(k)*(wide+gap), head, g.of)
		for power := lowest; decade*(power-lowest) <= high-4; power++ {
			y := high - decade*(power-lowest) - 2
			fmt.Fprintf(&b, `<path d="M0 %.1fH%g" stroke="#cccccc" stroke-width="0.2"/><text x="-1" y="%.1f" text-anchor="end">%g s</text>`+"\n", y, wide, y+1, math.Pow(10, power))
		}
		x1, y1 := at(first)
		x2, y2 := at([2]float64{last[0], first[1] * last[0] / first[0]})
		fmt.Fprintf(&b, `<path d="M%.2f %.2fL%.2f %.2f" stroke="#777777" stroke-width="0.3" stroke-dasharray="1.5 1"/>`+"\n", x1, y1, x2, y2)
		var line strings.Builder
		for _, p := range g.points {
			x, y := at(p)
			fmt.Fprintf(&line, " %.2f,%.2f", x, y)
			fmt.Fprintf(&b, `<circle cx="%.2f" cy="%.2f" r="0.9"/><text x="%.2f" y="%g" text-anchor="middle">%g</text>`+"\n", x, y, x, high+4, p[0])
		}
		fmt.Fprintf(&b, `<polyline points="%s" fill="none" stroke="black" stroke-width="0.4"/><rect width="%g" height="%g" fill="none" stroke="black" stroke-width="0.3"/>`+"\n",
			strings.TrimSpace(line.String()), wide, high)
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">grows by the power of %.1f</text></g>`+"\n", wide/2, high+9, g.exponent())
	}
	b.WriteString("</svg>\n")
	return b.String()
}
