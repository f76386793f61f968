package jig

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

var upper = tooth.Pair{Active: 13, Anchor: 16}

func flatWire() wire.Wire {
	return wire.Wire{EMPa: 69000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.432, WidthMM: 0.635}
}

func springOf(w wire.Wire, steps ...spring.Step) spring.Spring {
	return spring.Spring{Path: spring.PathOf(steps...), Wire: w, AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3}
}

func corner(deg float64) spring.Step { return spring.BendStep(deg*degree, 0.8) }

func aside(deg float64) spring.Step {
	return spring.Step{Kind: spring.Bend, AngleRad: deg * degree, RadiusMM: 0.8, Order: 1}
}

func straight(mm float64) spring.Step { return spring.StraightStep(mm) }

// samples are springs with everything that a plate has to do with.
func samples() map[string]spring.Spring {
	round := wire.Wire{EMPa: 180000, Poisson: 0.3, YieldMPa: 1400, DiameterMM: 0.406}
	loop := []spring.Step{straight(3), corner(90), straight(6), corner(-90), straight(4), corner(-90), straight(6), corner(90), straight(3)}
	return map[string]spring.Spring{
		"loop":       springOf(flatWire(), loop...),
		"round wire": springOf(round, loop...),
		"hairpin":    springOf(flatWire(), straight(3), corner(90), straight(6), spring.BendStep(-math.Pi, 0.5), straight(6), corner(90), straight(3)),
		"helix": springOf(flatWire(), straight(6), corner(90), straight(2), corner(90), straight(1.5), aside(20), straight(3), aside(-20), corner(90),
			straight(1), corner(90), straight(8)),
		"out of plane": springOf(flatWire(), straight(3), aside(30), straight(5), aside(-30), straight(2), corner(70), straight(4), corner(-70), straight(3)),
		"twisted":      springOf(flatWire(), straight(3), spring.Step{Kind: spring.Twist, AngleRad: math.Pi / 2, LengthMM: 3}, straight(3), corner(40), straight(6)),
		"hook":         {Path: spring.PathOf(straight(9), corner(-20), straight(12)), Wire: round, AnchorSlotLengthMM: 4},
	}
}

func made(t *testing.T, s spring.Spring, clearanceMM float64) Jig {
	t.Helper()
	key := fmt.Sprint(s, clearanceMM)
	if j, known := plates[key]; known {
		return j
	}
	j, err := Of(s, upper, Options{ClearanceMM: clearanceMM, Code: "A-07 demo/2", Fingerprint: "0a1b2c3d4e"})
	if err != nil {
		t.Fatal(err)
	}
	plates[key] = j
	return j
}

// plates are those made already: several tests look at each.
var plates = map[string]Jig{}

// TestSurfacesAreClosed: every side of a triangle is met once, the other way round, by one other triangle;
// no triangle is without an area, and the whole has one inside. The numbers are those of the file.
func TestSurfacesAreClosed(t *testing.T) {
	for name, s := range samples() {
		if testing.Short() && name != "helix" {
			continue
		}
		clearances := []float64{UsualClearanceMM}
		if name == "helix" || name == "hairpin" {
			clearances = append(clearances, LeastClearanceMM, MostClearanceMM)
		}
		for _, clearanceMM := range clearances {
			j := made(t, s, clearanceMM)
			type vertex [3]float32
			at := func(v r3.Vec) vertex { return vertex{float32(v.X), float32(v.Y), float32(v.Z)} }
			sides := map[[2]vertex]int{}
			for _, tri := range j.Triangles {
				area := r3.Norm(r3.Cross(r3.Sub(tri[1], tri[0]), r3.Sub(tri[2], tri[0]))) / 2
				if !(area > 1e-7) { // a side of 0.002 mm along one of 0.0001 mm
					t.Fatalf("%s, %g: triangle %v has area %g", name, clearanceMM, tri, area)
				}
				for i := range tri {
					sides[[2]vertex{at(tri[i]), at(tri[(i+1)%3])}]++
				}
			}
			for side, n := range sides {
				if n != 1 || sides[[2]vertex{side[1], side[0]}] != 1 {
					t.Fatalf("%s, %g: side %v is met %d times, and %d times the other way", name, clearanceMM, side, n, sides[[2]vertex{side[1], side[0]}])
				}
			}
			if whole := j.SizeMM.X * j.SizeMM.Y * j.SizeMM.Z; !(j.VolumeMM3 > 0.3*whole && j.VolumeMM3 < whole) {
				t.Errorf("%s, %g: volume %g mm³ in a box of %g mm³", name, clearanceMM, j.VolumeMM3, whole)
			}
		}
	}
}

// TestWallsAreUpright: what is seen from above covers the plate once: triangles that look up have together
// its area, and none hangs over.
func TestWallsAreUpright(t *testing.T) {
	for name, s := range samples() {
		j := made(t, s, UsualClearanceMM)
		up, down := 0.0, 0.0
		for _, tri := range j.Triangles {
			z := r3.Cross(r3.Sub(tri[1], tri[0]), r3.Sub(tri[2], tri[0])).Z / 2
			if bottom := tri[0].Z == 0 && tri[1].Z == 0 && tri[2].Z == 0; bottom {
				down -= z
			} else if up += z; z < -1e-9 {
				t.Fatalf("%s: %v hangs over", name, tri)
			}
		}
		if area := j.SizeMM.X * j.SizeMM.Y; math.Abs(up-area)+math.Abs(down-area) > 1e-6*area {
			t.Errorf("%s: looks up %g, down %g, plate %g mm²", name, up, down, area)
		}
	}
}

// slice cuts triangles at a height.
func slice(triangles [][3]r3.Vec, z float64) (segments []plane.Segment) {
	for _, tri := range triangles {
		var ends []plane.Point
		for i := range tri {
			a, b := tri[i], tri[(i+1)%3]
			if (a.Z > z) != (b.Z > z) {
				p := r3.Add(a, r3.Scale((z-a.Z)/(b.Z-a.Z), r3.Sub(b, a)))
				ends = append(ends, plane.Point{X: p.X, Y: p.Y})
			}
		}
		if len(ends) == 2 {
			segments = append(segments, plane.Segment{A: ends[0], B: ends[1]})
		}
	}
	return segments
}

// TestGrooveSlicedBack cuts plates of flat springs through the groove's walls and holds the outline against the
// wire's line: half the wire and the clearance from it, to 0.012 mm (0.006 mm of a chord inside a bend, 0.002 mm
// of edges kept off nodes, and the rest for the line's own chords and points). Recesses are left out.
func TestGrooveSlicedBack(t *testing.T) {
	const tolerance = 0.012
	for _, name := range []string{"loop", "round wire", "hook"} {
		s := samples()[name]
		for _, clearanceMM := range []float64{0.05, UsualClearanceMM} {
			j := made(t, s, clearanceMM)
			want := s.Wire.HeightMM()/2 + clearanceMM
			// Anew from the path: only where its origin lies is taken from the plate.
			view := bend.ViewOf(upper)
			var line []plane.Point
			origin := startOf(j, 0).at
			see := func(p beam.Pose) {
				x, y := view.Page(p.At)
				line = append(line, origin.Add(plane.Point{X: x, Y: y}))
			}
			pose := beam.Origin()
			see(pose.Along(-s.AnchorSlotLengthMM - runOutMM))
			for _, piece := range s.Path.Pieces() {
				parts := 1
				if piece.Curvature != (r3.Vec{}) {
					parts = 60 // of a right angle of 0.8 mm: chords within 0.0001 mm
				}
				for i := range parts {
					see(pose.Advance(piece.Curvature, piece.LengthMM*float64(i)/float64(parts)))
				}
				pose = pose.Advance(piece.Curvature, piece.LengthMM)
			}
			see(pose)
			see(pose.Along(s.ActiveSlotLengthMM + runOutMM))
			worst, found := 0.0, 0
			for _, seg := range slice(j.Triangles, bottomMM+j.DepthMM/3) {
				p := seg.A.Add(seg.B).Times(0.5)
				if math.Min(p.X, p.Y) < 1 || p.X > j.SizeMM.X-1 || p.Y > j.SizeMM.Y-1 || inRecess(j, p) {
					continue
				}
				least := math.Inf(1)
				for _, l := range plane.Segments(line) {
					beyond, _ := stretch{a: l.A, b: l.B}.beside(p)
					least = math.Min(least, beyond)
				}
				worst, found = math.Max(worst, math.Abs(least-want)), found+1
			}
			if found < 200 || worst > tolerance {
				t.Errorf("%s, %g: %d pieces of outline, up to %.4f mm off, want many within %g", name, clearanceMM, found, worst, tolerance)
			}
		}
	}
}

func inRecess(j Jig, p plane.Point) bool {
	for _, s := range j.shape.grooves {
		if beyond, _ := s.beside(p); math.IsInf(s.topA, -1) && beyond < j.ClearanceMM+0.05 {
			return true
		}
	}
	return false
}

// TestLowerPassIsOpen: over every point of every wire nothing of the plate stands, and under it something does:
// it goes in from above, also where it passes under itself.
func TestLowerPassIsOpen(t *testing.T) {
	for name, s := range samples() {
		j := made(t, s, UsualClearanceMM)
		held := 0
		for _, p := range j.shape.line.points {
			// Across the wire, to just inside its width.
			for _, side := range []float64{-0.95, 0, 0.95} {
				at := p.at.Add(p.way.Unit().Left().Times(side * p.half))
				floor := j.shape.floor(at)
				if j.shape.edge(at) >= 0 || floor > p.low+0.02 { // 0.02: a sloping wire, its section tilted
					t.Fatalf("%s: the plate stands %.3f mm into the wire at %v", name, floor-p.low, at)
				}
				if side == 0 && floor > p.low-0.02 {
					held++
				}
			}
		}
		if share := float64(held) / float64(len(j.shape.line.points)); share < 0.8 {
			t.Errorf("%s: only %.0f %% of the wire lie on the plate", name, 100*share)
		}
	}
}

// TestPlateIsNoMirrorImage: four places of a wire that leaves its plane span the same volume, with its sign, on
// the plate as in the mouth, for every side and jaw.
func TestPlateIsNoMirrorImage(t *testing.T) {
	spanned := func(p [4]r3.Vec) float64 {
		return r3.Dot(r3.Sub(p[1], p[0]), r3.Cross(r3.Sub(p[2], p[0]), r3.Sub(p[3], p[0])))
	}
	s := samples()["out of plane"]
	places := [4]int{0, 2, 6, 8} // steps
	var mouth [4]r3.Vec
	pose := beam.Origin()
	for i, piece := range s.Path.Pieces() {
		for k, step := range places {
			if step == i {
				mouth[k] = pose.At
			}
		}
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
	}
	want := spanned(mouth)
	if math.Abs(want) < 1 {
		t.Fatalf("the places span %g mm³, too little to tell", want)
	}
	for _, teeth := range []tooth.Pair{upper, {Active: 23, Anchor: 26}, {Active: 33, Anchor: 36}, {Active: 43, Anchor: 46}} {
		j, err := Of(s, teeth, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var plate [4]r3.Vec
		for k, step := range places {
			p := startOf(j, step)
			plate[k] = r3.Vec{X: p.at.X, Y: p.at.Y, Z: p.high}
		}
		if got := spanned(plate); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: spanned on the plate %g, in the mouth %g mm³", teeth, got, want)
		}
	}
}

// startOf is where a step begins on a plate.
func startOf(j Jig, step int) point {
	for _, p := range j.shape.line.points {
		if p.step == step {
			return p
		}
	}
	return point{}
}

func TestThinWallsAreLeftOut(t *testing.T) {
	j := made(t, samples()["hairpin"], UsualClearanceMM)
	if len(j.OpenWalls) == 0 {
		t.Fatal("a hairpin of 0.5 mm leaves a wall of 0.37 mm standing")
	}
	j = made(t, samples()["loop"], UsualClearanceMM)
	if len(j.OpenWalls) > 0 {
		t.Errorf("a wide loop has walls left out: %v", j.OpenWalls)
	}
}

// TestBendsThatPass rebuilds the answer by hand: two legs of 6 and 4 mm with 0.1 mm to each side.
func TestBendsThatPass(t *testing.T) {
	j := made(t, samples()["loop"], UsualClearanceMM)
	want := math.Atan(0.2/6) + math.Atan(0.2/4)
	if got := j.Bends[1]; got.Number != 2 || got.Unheld != Held || math.Abs(got.PassesRad-want) > 0.01*want {
		t.Errorf("bend 2 passes %+v, want %.4f rad", got, want)
	}
	if first := math.Atan(0.2/(3+4+runOutMM)) + math.Atan(0.2/6); math.Abs(j.Bends[0].PassesRad-first) > 0.01*first {
		t.Errorf("bend 1 passes %.4f, want %.4f rad: the slot's length guides as well", j.Bends[0].PassesRad, first)
	}
	j = made(t, samples()["out of plane"], UsualClearanceMM)
	if j.Bends[0].Unheld != OutOfPlane || j.Bends[2].Unheld != Held || j.RiseMM < 2 {
		t.Errorf("bends %+v, rise %g", j.Bends, j.RiseMM)
	}
}

func TestRefusals(t *testing.T) {
	loop := samples()["loop"]
	crossing := springOf(flatWire(), straight(6), corner(90), straight(3), corner(90), straight(3), corner(90), straight(6))
	for name, c := range map[string]struct {
		spring    spring.Spring
		clearance float64
		want      string
	}{
		"negative":  {loop, -0.1, "is not in 0.02…0.4 mm"},
		"wide":      {loop, 2, "a clearance of 2 mm"},
		"NaN":       {loop, math.NaN(), "NaN"},
		"too large": {springOf(flatWire(), straight(130), corner(30), straight(5)), 0, "at most 120 × 120 mm"},
		"crossing":  {crossing, 0, "cross with their lines 0.00 mm over each other"},
		"steep":     {springOf(flatWire(), straight(3), aside(80), straight(5), aside(-80), straight(3)), 0, "rises from the plate by"},
		"empty":     {spring.Spring{Wire: flatWire()}, 0, "no size"},
	} {
		if _, err := Of(c.spring, upper, Options{ClearanceMM: c.clearance}); !errors.Is(err, ErrJig) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
}

func TestSameBytesAndLetters(t *testing.T) {
	a := made(t, samples()["hook"], UsualClearanceMM)
	clear(plates)
	b := made(t, samples()["hook"], UsualClearanceMM)
	if !bytes.Equal(a.STL(), b.STL()) || len(a.STL()) != 84+50*len(a.Triangles) {
		t.Error("the same spring gives other bytes, or a file of the wrong length")
	}
	j, err := Of(samples()["loop"], upper, Options{Code: "Zoë 7"})
	if err != nil || j.Unprinted != "Ë" {
		t.Errorf("left out %q, error %v, want the letter that there is none for", j.Unprinted, err)
	}
}
