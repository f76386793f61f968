package export

import (
	"encoding/csv"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/tooth"
	"springwright/export/phrase"

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
func spatialRandomPath(random *rand.Rand) design.Path {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	path := design.Path{design.StraightStep(between(1, 4))}
	for range 4 + random.IntN(6) {
		switch random.IntN(4) {
		case 0:
			path = append(path, design.Step{Kind: design.Twist, AngleRad: between(-60, 60) * degree, LengthMM: between(1, 3)})
		case 1:
			path = append(path, design.Step{Kind: design.Bend, AngleRad: between(-90, 90) * degree, RadiusMM: testRadiusMM, Order: 1})
		default:
			path = append(path, design.BendStep(between(-120, 120)*degree, between(0.7, 2)))
		}
		if random.IntN(4) > 0 {
			path = append(path, design.StraightStep(between(1, 6)))
		}
	}
	return path
}

func TestListAloneBendsTheSpringAndNotItsMirrorImage(t *testing.T) {
	random := rand.New(rand.NewPCG(10, 25))
	tried := 0
	for trial := range 160 {
		s := sitting[trial%len(sitting)]
		path := spatialRandomPath(random)
		list, _, err := BendList(jobFor(path, s.pair, design.Heading(trial/8%2)))
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
		tidy := path.Tidy()
		for i, piece := range tidy.Pieces() {
			pose = pose.Advance(piece.Curvature, piece.LengthMM)
			if tidy[i].Kind != design.Straight || i == len(tidy)-1 {
				if row >= len(b.ends) {
					t.Fatalf("%v: %d rows for %v", s.pair, len(b.ends), tidy)
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
			step design.Step
			runs r3.Vec // for each row, on the mechanics' axes
		}{
			{"+y", design.Step{Kind: design.Bend, AngleRad: math.Pi / 2, RadiusMM: 1, Order: 1}, r3.Vec{Y: 1}},
			{"−y", design.Step{Kind: design.Bend, AngleRad: -math.Pi / 2, RadiusMM: 1, Order: 1}, r3.Vec{Y: -1}},
		} {
			word := s.out
			if c.runs.Y*s.cheekAlongY < 0 {
				word = s.in
			}
			f, err := newFlow(jobFor(design.Path{design.StraightStep(3), c.step, design.StraightStep(3)}, s.pair, design.On))
			if err != nil {
				t.Fatal(err)
			}
			row := f.bendTable().Rows[0]
			if row[7] != "to "+word || row[11] != "then runs "+word {
				t.Errorf("%v bent to %s: %q, want to %s, then runs %s", s.pair, c.name, row, word, word)
			}
			inspected := f.inspections()
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

// In every language the two senses of a bend, of a twist and of the hands differ on the
// page, in the list, on the stages page and in the inspection list.
func TestSensesDifferInEveryLanguage(t *testing.T) {
	bent := func(order int, rad float64) design.Step {
		return design.Step{Kind: design.Bend, AngleRad: rad, RadiusMM: testRadiusMM, Order: order}
	}
	twist := func(rad float64) design.Step {
		return design.Step{Kind: design.Twist, AngleRad: rad, LengthMM: 2}
	}
	said := func(l phrase.Language, pair tooth.Pair, s design.Step) map[string]string {
		// A bend of first order behind it makes all of them spatial.
		job := jobFor(design.Path{design.StraightStep(3), s, design.StraightStep(3), bent(1, 0.3), design.StraightStep(3)}, pair, design.On)
		job.Language = l
		f, err := newFlow(job)
		if err != nil {
			t.Fatal(err)
		}
		r := f.bends.Rows[0]
		inspection := ""
		for _, i := range f.inspections() {
			inspection += i.what + " " + i.nominal + "; "
		}
		stages := f.allStages()
		stage := ""
		for _, s := range stages {
			stage += s.remark + "; " + s.hand + "; "
		}
		return map[string]string{
			"hold": f.holdText(), "hand": f.handText(r), "few words": f.handLine(r), "way": wayText(f.words, r),
			"seen": seenText(f.words, r), "inspection": inspection, "stage": stage, "table": strings.Join(f.bendTable().Rows[0], "|"),
		}
	}
	lower, other := tooth.Pair{Anchor: 36, Active: 37}, tooth.Pair{Anchor: 46, Active: 47}
	for l := phrase.English; l.Valid(); l++ {
		for name, pair := range map[string][2]design.Step{
			"second order": {bent(2, 0.5), bent(2, -0.5)}, "first order": {bent(1, 0.5), bent(1, -0.5)}, "twist": {twist(0.5), twist(-0.5)},
		} {
			a, b := said(l, lower, pair[0]), said(l, lower, pair[1])
			for what := range a {
				if what != "hold" && a[what] == b[what] {
					t.Errorf("%v, %s: both senses are said as %q (%s)", l, name, a[what], what)
				}
			}
			if a["hand"] == b["hand"] || a["hold"] != b["hold"] {
				t.Errorf("%v, %s: %q and %q", l, name, a, b)
			}
		}
		if a, b := said(l, lower, bent(2, 0.5)), said(l, other, bent(2, 0.5)); a["hold"] == b["hold"] || a["hand"] == b["hand"] {
			t.Errorf("%v: both hands are said as %q", l, a["hold"])
		}
	}
}

// The pictures show what the words say: the rest at the hand that is free, bent up, and the
// line where the words have it. What is towards the hand's owner is drawn lower and farther
// left, what is away higher and farther right.
func TestPicturesShowWhatTheWordsSay(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	for trial := range 40 {
		f, err := newFlow(jobFor(spatialRandomPath(random), sitting[trial%len(sitting)].pair, design.On))
		if err != nil {
			t.Fatal(err)
		}
		poses := []beam.Pose{beam.Origin()}
		for _, piece := range f.steps().Pieces() {
			poses = append(poses, poses[len(poses)-1].Advance(piece.Curvature, piece.LengthMM))
		}
		for _, r := range f.bends.Rows {
			step, from := f.steps()[r.PathStep], poses[r.PathStep]
			see := f.handView(step, from)
			arc, line := f.handArrows(step, from)
			words := f.handText(r)
			if got, want := see(from.Along(1).At).X > 0, strings.Contains(words, "in your left hand"); got != want {
				t.Errorf("the rest is drawn to the right: %v, and %q", got, words)
			}
			faces := see(r3.Add(from.At, line))
			drawn := map[string]bool{
				"line faces up": faces.Y > 0.9, "line faces down": faces.Y < -0.9,
				"line faces you": faces.X < -0.3 && faces.Y < -0.2 && faces.Y > -0.9, "line faces away": faces.X > 0.3 && faces.Y > 0.2 && faces.Y < 0.9,
			}
			for _, said := range slices.Sorted(maps.Keys(drawn)) {
				if drawn[said] != strings.Contains(words, said) {
					t.Errorf("the line is drawn towards %v, and %q", faces, words)
				}
			}
			if r.Twist {
				// The arrow passes over the top towards its tip.
				top, next := arc[6], arc[8]
				away := see(next).Sub(see(top)).X > 0
				if away == strings.Contains(words, "top towards you") {
					t.Errorf("the top is drawn to go away: %v, and %q", away, words)
				}
				continue
			}
			tail, tip, bent := see(arc[0]), see(arc[len(arc)-1]), see(poses[r.PathStep+1].Along(0.5).At)
			if tip.Y <= tail.Y || bent.Y <= 0 || tail.X*see(from.Along(1).At).X <= 0 {
				t.Errorf("the arrow goes from %v to %v, the wire to %v: want up", tail, tip, bent)
			}
		}
	}
}

// The bend table as CSV says of every step what the list says.
func TestCSVSaysWhatTheListSays(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 8))
	for trial := range 24 {
		job := jobFor(spatialRandomPath(random), sitting[trial%len(sitting)].pair, design.On)
		data, err := BendsCSV(job)
		if err != nil {
			t.Fatal(err)
		}
		records, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]int{}
		for i, name := range records[0] {
			at[name] = i
		}
		f, err := newFlow(job)
		if err != nil {
			t.Fatal(err)
		}
		if f.planar() {
			continue
		}
		table := f.bendTable()
		for i, r := range records[2 : len(records)-2] {
			row, hand := table.Rows[i], f.handText(f.bends.Rows[i])
			faces := r[at["line_faces"]]
			if faces == "you" {
				faces = "to you"
			}
			if r[at["step"]] != row[0] || faces != row[4] || !strings.Contains(hand, "in your "+r[at["anchor_end"]]) {
				t.Errorf("CSV row %q, printed %q, %q", r, row, hand)
			}
			if way := r[at["free_end"]]; r[at["work"]] == "twist" && !strings.Contains(hand, strings.TrimPrefix(way, "top ")) || r[at["work"]] == "bend" && !strings.Contains(hand, "rest "+way) {
				t.Errorf("CSV row %q does not say %q", r, hand)
			}
			if to := r[at["towards"]]; r[at["work"]] == "bend" && r[at["seen_deg"]] == "" && row[7] != "to "+to || r[at["work"]] == "twist" && to != "" {
				t.Errorf("CSV row %q goes to %q, printed %q", r, to, row[7])
			}
		}
	}
}
