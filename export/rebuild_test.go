package export

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// The bender of these tests has never seen the spring, knows nothing of axes, and has the
// printed list alone. Their world: X to their right hand, Y up, Z towards themselves.

// sitting is how teeth stand for somebody who sits in front of the patient's cheek, worked
// out by hand as in the tests of package tooth: where the axes of the mechanics point.
var sitting = []struct {
	pair                        tooth.Pair
	distalAtRight, apicalUp     bool
	distalAlongX, cheekAlongY   float64
	distal, mesial, up, in, out string // words of the active tooth
}{
	{tooth.Pair{Anchor: 16, Active: 17}, false, true, 1, 1, "distal", "mesial", "apical", "palatal", "buccal"},
	{tooth.Pair{Anchor: 17, Active: 16}, false, true, -1, -1, "distal", "mesial", "apical", "palatal", "buccal"},
	{tooth.Pair{Anchor: 26, Active: 27}, true, true, 1, -1, "distal", "mesial", "apical", "palatal", "buccal"},
	{tooth.Pair{Anchor: 26, Active: 23}, true, true, -1, 1, "distal", "mesial", "apical", "palatal", "labial"},
	{tooth.Pair{Anchor: 36, Active: 37}, true, false, 1, 1, "distal", "mesial", "occlusal", "lingual", "buccal"},
	{tooth.Pair{Anchor: 36, Active: 32}, true, false, -1, -1, "distal", "mesial", "incisal", "lingual", "labial"},
	{tooth.Pair{Anchor: 46, Active: 47}, false, false, 1, -1, "distal", "mesial", "occlusal", "lingual", "buccal"},
	{tooth.Pair{Anchor: 47, Active: 46}, false, false, -1, 1, "distal", "mesial", "occlusal", "lingual", "buccal"},
}

// bender holds a wire: where its end is, which way it runs, and where the pen line is.
type bender struct {
	anchorLeft     bool
	at, runs, line r3.Vec
	ends           []r3.Vec // behind every row
}

// upwards is the direction, in the bender's world before the wire is turned, of the side
// that comes up when the wire is turned until its line faces as said.
func (b *bender) upwards(faces string) (r3.Vec, bool) {
	rightHand := b.runs
	if !b.anchorLeft {
		rightHand = r3.Scale(-1, rightHand)
	}
	switch faces {
	case "up":
		return b.line, true
	case "down":
		return r3.Scale(-1, b.line), true
	case "to you": // right × up = towards you, so towards you × right = up
		return r3.Cross(b.line, rightHand), true
	case "away":
		return r3.Cross(rightHand, b.line), true
	}
	return r3.Vec{}, false
}

func (b *bender) feed(mm float64) { b.at = r3.Add(b.at, r3.Scale(mm, b.runs)) }

func (b *bender) bendUp(up r3.Vec, deg, radiusMM float64) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	b.at = r3.Add(b.at, r3.Add(r3.Scale(radiusMM*sin, b.runs), r3.Scale(radiusMM*(1-cos), up)))
	turn := r3.NewRotation(deg*math.Pi/180, r3.Cross(b.runs, up))
	b.runs, b.line = turn.Rotate(b.runs), turn.Rotate(b.line)
}

// twist turns the rest clockwise for somebody who looks along the wire, away from the anchor.
func (b *bender) twist(clockwiseDeg float64) {
	b.line = r3.NewRotation(clockwiseDeg*math.Pi/180, b.runs).Rotate(b.line)
}

var (
	listedRow  = regexp.MustCompile(`^ +(\d+|E)  `)
	listedHold = regexp.MustCompile(`the anchor end in your (left|right) hand, the other end in your (left|right), the (\w+) side up, the cheek side to you\.`)
	listedStep = regexp.MustCompile(`Step (\d+), mark ([\d.]+) mm\. The part from the anchor in your (left|right) hand\. (.*?)(Bend the rest up by ([\d.]+)°|Turn the rest about the wire by ([\d.]+)° over ([\d.]+) mm, its top (towards|away from) you)`)
	turns      = map[string]string{
		"The line faces up. ": "up",
		"Turn the wire about itself a quarter, its top towards you: the line faces you. ":    "to you",
		"Turn the wire about itself by half: the line faces down. ":                          "down",
		"Turn the wire about itself a quarter, its top away from you: the line faces away. ": "away",
	}
)

// fromList bends a spring from an English list alone. Words that contradict each other are
// faults.
func fromList(t *testing.T, list string) *bender {
	t.Helper()
	flow := strings.Join(strings.Fields(list), " ")
	hold := listedHold.FindStringSubmatch(flow)
	if hold == nil || hold[1] == hold[2] {
		t.Fatalf("the list does not say how to hold the wire:\n%s", list)
	}
	b := &bender{anchorLeft: hold[1] == "left", runs: r3.Vec{X: 1}, line: r3.Vec{Y: 1}}
	if !b.anchorLeft {
		b.runs.X = -1
	}
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSuffix(text, "°"), 64)
		if err != nil {
			t.Fatalf("%v in\n%s", err, list)
		}
		return v
	}
	said := map[string][]string{}
	for _, m := range listedStep.FindAllStringSubmatch(flow, -1) {
		if m[3] != hold[1] {
			t.Errorf("step %s is held with the other hand:\n%s", m[1], list)
		}
		said[m[1]] = m
	}
	ended := false
	for line := range strings.SplitSeq(list, "\n") {
		if !listedRow.MatchString(line) {
			continue
		}
		cells := regexp.MustCompile(` {2,}`).Split(strings.TrimSpace(line), -1)
		b.feed(number(cells[2]))
		if cells[0] == "E" {
			ended = true
			b.ends = append(b.ends, b.at)
			break
		}
		over, faces, deg, way := number(cells[3]), cells[4], number(cells[5]), cells[7]
		step := said[cells[0]]
		if step == nil || step[2] != cells[1] || turns[step[4]] != faces {
			t.Fatalf("step %s: the words %q do not say what the row %q says", cells[0], step, cells)
		}
		if cells[6] == "twist" {
			clockwise := map[string]float64{"clockwise": deg, "anticlockwise": -deg}[way]
			// Towards you is clockwise for somebody who looks to the right.
			if towards := step[9] == "towards"; clockwise == 0 || number(step[7]) != deg || math.Abs(number(step[8])-over) > 0.006 || towards != ((clockwise > 0) == b.anchorLeft) || faces != "up" {
				t.Errorf("step %s: the words %q do not say what the row %q says", cells[0], step, cells)
			}
			b.feed(over)
			b.twist(clockwise)
		} else {
			up, known := b.upwards(faces)
			if !known || number(step[6]) != deg {
				t.Fatalf("step %s: the words %q do not say what the row %q says", cells[0], step, cells)
			}
			// Seen from the cheek, left is anticlockwise.
			if anticlockwise := r3.Cross(b.runs, up).Z; way == "left" && anticlockwise < 0.99 || way == "right" && anticlockwise > -0.99 {
				t.Errorf("step %s goes %s in words and not by hand", cells[0], way)
			}
			b.bendUp(up, deg, number(cells[8]))
		}
		b.ends = append(b.ends, b.at)
	}
	if !ended {
		t.Fatalf("no end in the list:\n%s", list)
	}
	return b
}

// spatialRandomPath is a spring that is nothing like its mirror image.
func spatialRandomPath(random *rand.Rand) spring.Path {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	steps := spring.Steps{spring.StraightStep(between(1, 4))}
	for range 4 + random.IntN(6) {
		switch random.IntN(4) {
		case 0:
			steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: between(-60, 60) * degree, LengthMM: between(1, 3)})
		case 1:
			steps = append(steps, spring.Step{Kind: spring.Bend, AngleRad: between(-90, 90) * degree, RadiusMM: testRadiusMM, Order: 1})
		default:
			steps = append(steps, spring.BendStep(between(-120, 120)*degree, between(0.7, 2)))
		}
		if random.IntN(4) > 0 {
			steps = append(steps, spring.StraightStep(between(1, 6)))
		}
	}
	return spring.PathOf(steps...)
}

func TestListAloneBendsTheSpringAndNotItsMirrorImage(t *testing.T) {
	random := rand.New(rand.NewPCG(10, 25))
	tried := 0
	for trial := range 160 {
		s := sitting[trial%len(sitting)]
		path := spatialRandomPath(random)
		list, err := BendList(jobFor(path, s.pair, spring.Heading(trial/8%2)))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(list, "By hand") { // all bends in one plane: it is its own mirror image
			continue
		}
		hold := listedHold.FindStringSubmatch(strings.Join(strings.Fields(list), " "))
		if hold == nil || (hold[3] == "apical") != s.apicalUp || hold[3] != s.up {
			t.Fatalf("%v: the side that is up is %q, want %s", s.pair, hold, s.up)
		}
		b := fromList(t, list)
		// Where the spring itself goes, as the bender sits. Mirrored, the cheek is the tongue.
		seen := func(p r3.Vec, mirrored float64) r3.Vec {
			q := r3.Vec{X: p.X * s.distalAlongX, Y: p.Z, Z: mirrored * p.Y * s.cheekAlongY}
			if !s.distalAtRight {
				q.X = -q.X
			}
			if !s.apicalUp {
				q.Y = -q.Y
			}
			return q
		}
		pose, row := beam.Origin(), 0
		var off, mirrored float64
		steps := path.Steps()
		for i, piece := range path.Pieces() {
			pose = pose.Advance(piece.Curvature, piece.LengthMM)
			if steps[i].Kind != spring.Straight || i == len(steps)-1 {
				if row >= len(b.ends) {
					t.Fatalf("%v: %d rows for %v", s.pair, len(b.ends), steps)
				}
				off = math.Max(off, r3.Norm(r3.Sub(b.ends[row], seen(pose.At, 1))))
				mirrored = math.Max(mirrored, r3.Norm(r3.Sub(b.ends[row], seen(pose.At, -1))))
				row++
			}
		}
		// Ten bends rounded to 0.1° at 30 mm, and ten feeds rounded to 0.01 mm.
		if off > 0.35 {
			t.Errorf("%v, trial %d: the list bends a spring %.2f mm off, and %.2f mm off the mirror image:\n%s", s.pair, trial, off, mirrored, list)
		}
		if mirrored > 1 {
			tried++
		}
	}
	if tried < 120 {
		t.Errorf("%d of 160 springs are unlike their mirror images, want 120", tried)
	}
}

// The way that a bend goes to, and which way the wire runs behind it, are where they are
// in the mouth.
func TestSidesInTheListAreThoseOfTheMouth(t *testing.T) {
	for _, s := range sitting {
		for _, c := range []struct {
			name string
			step spring.Step
			runs r3.Vec // for each row, on the mechanics' axes
		}{
			{"+y", spring.Step{Kind: spring.Bend, AngleRad: math.Pi / 2, RadiusMM: 1, Order: 1}, r3.Vec{Y: 1}},
			{"−y", spring.Step{Kind: spring.Bend, AngleRad: -math.Pi / 2, RadiusMM: 1, Order: 1}, r3.Vec{Y: -1}},
		} {
			word := s.out
			if c.runs.Y*s.cheekAlongY < 0 {
				word = s.in
			}
			of, _, err := begin(jobFor(spring.PathOf(spring.StraightStep(3), c.step, spring.StraightStep(3)), s.pair, spring.On))
			if err != nil {
				t.Fatal(err)
			}
			row := bendTexts{of}.bendTable().Rows[0]
			if row[7] != "to "+word || row[11] != "then runs "+word {
				t.Errorf("%v bent to %s: %q, want to %s, then runs %s", s.pair, c.name, row, word, word)
			}
			inspected := laboratoryPage{of}.inspections()
			found := false
			for _, i := range inspected {
				found = found || i.what == "bend 1, to "+word && i.nominal == "90°"
			}
			if !found {
				t.Errorf("%v bent to %s: the inspection list %v does not say to %s", s.pair, c.name, inspected, word)
			}
		}
	}
}
