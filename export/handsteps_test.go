package export

import (
	"encoding/csv"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// In every language the two senses of a bend, of a twist and of the hands differ on the
// page, in the list, on the stages page and in the inspection list.
func TestSensesDifferInEveryLanguage(t *testing.T) {
	bent := func(order int, rad float64) spring.Step {
		return spring.Step{Kind: spring.Bend, AngleRad: rad, RadiusMM: testRadiusMM, Order: order}
	}
	twist := func(rad float64) spring.Step {
		return spring.Step{Kind: spring.Twist, AngleRad: rad, LengthMM: 2}
	}
	said := func(l words.Language, pair tooth.Pair, s spring.Step) map[string]string {
		// A bend of first order behind it makes all of them spatial.
		job := jobFor(spring.PathOf(spring.StraightStep(3), s, spring.StraightStep(3), bent(1, 0.3), spring.StraightStep(3)), pair, spring.On)
		job.Language = l
		of, _, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		r := of.bends.Rows[0]
		inspection := ""
		for _, i := range (laboratoryPage{of}).inspections() {
			inspection += i.what + " " + i.nominal + "; "
		}
		stages := stagesPage{bendTexts{of}}.all()
		stage := ""
		for _, s := range stages {
			stage += s.remark + "; " + s.hand + "; "
		}
		return map[string]string{
			"hold": bendTexts{of}.holdText(), "hand": bendTexts{of}.handText(r), "few words": bendTexts{of}.handLine(r), "way": wayText(of.words, r),
			"seen": seenText(of.words, r), "inspection": inspection, "stage": stage, "table": strings.Join(bendTexts{of}.bendTable().Rows[0], "|"),
		}
	}
	lower, other := tooth.Pair{Anchor: 36, Active: 37}, tooth.Pair{Anchor: 46, Active: 47}
	for l := words.English; l.Valid(); l++ {
		for name, pair := range map[string][2]spring.Step{
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
		of, _, err := begin(jobFor(spatialRandomPath(random), sitting[trial%len(sitting)].pair, spring.On))
		if err != nil {
			t.Fatal(err)
		}
		poses := []beam.Pose{beam.Origin()}
		for _, piece := range of.steps().Pieces() {
			poses = append(poses, poses[len(poses)-1].Advance(piece.Curvature, piece.LengthMM))
		}
		for _, r := range of.bends.Rows {
			step, from := of.steps()[r.PathStep], poses[r.PathStep]
			see := handSteps{bendTexts{of}}.seen(step, from)
			arc, line := handSteps{bendTexts{of}}.arrows(step, from)
			words := bendTexts{of}.handText(r)
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
		job := jobFor(spatialRandomPath(random), sitting[trial%len(sitting)].pair, spring.On)
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
		of, _, err := begin(job)
		if err != nil {
			t.Fatal(err)
		}
		if of.planar() {
			continue
		}
		table := bendTexts{of}.bendTable()
		for i, r := range records[2 : len(records)-2] {
			row, hand := table.Rows[i], bendTexts{of}.handText(of.bends.Rows[i])
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
