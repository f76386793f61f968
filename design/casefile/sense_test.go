package casefile_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Every key of a case that says which way, and the way it says: written by hand, from what the
// words mean at a tooth. fore is mesially, out to lip or cheek, up to the root's tip.
type way struct{ fore, out, up float64 }

// pushed are the keys that name a push or a place by its way.
var pushed = map[string]way{
	"mesial": {fore: 1}, "distal": {fore: -1},
	"buccal": {out: 1}, "labial": {out: 1}, "lingual": {out: -1}, "palatal": {out: -1},
	"intrusive": {up: 1}, "extrusive": {up: -1}, // into the bone, out of it
	"apical": {up: 1}, "occlusal": {up: -1},
}

// turned are the keys that name a turn by where it takes a part of the tooth: its crown, or its
// mesial side.
var turned = map[string]struct{ part, goes way }{
	"crown_mesial":         {way{up: -1}, way{fore: 1}},
	"crown_distal":         {way{up: -1}, way{fore: -1}},
	"buccal_crown_torque":  {way{up: -1}, way{out: 1}},
	"labial_crown_torque":  {way{up: -1}, way{out: 1}},
	"lingual_crown_torque": {way{up: -1}, way{out: -1}},
	"palatal_crown_torque": {way{up: -1}, way{out: -1}},
	"mesial_in":            {way{fore: 1}, way{out: -1}},
	"mesial_out":           {way{fore: 1}, way{out: 1}},
}

// mouths are pairs in all quadrants, in both orders: whether mesial is along +x is whether the
// active tooth lies nearer to the midline; outIsY is the table of package tooth's test, by hand
// from the mouth.
var mouths = []struct {
	anchor, active int
	mesialIsX      bool
	outIsY         bool
}{
	{16, 17, false, true},
	{17, 15, true, false},
	{26, 27, false, false},
	{27, 25, true, true},
	{36, 37, false, true},
	{37, 35, true, false},
	{46, 47, false, false},
	{47, 45, true, true},
	{16, 13, true, false},
	{26, 23, true, true},
	{36, 33, true, false},
	{46, 43, true, true},
}

func signOf(yes bool) float64 {
	if yes {
		return 1
	}
	return -1
}

// senseCase is a case in which the tooth moves every way a little, so that no load is held
// against its travel, with lines of the tables now and target.travel.
func senseCase(anchor, active int, now, target string) string {
	return fmt.Sprintf(`case = "s"
teeth = { active = %d, anchor = %d }
anchor_slot = { height_mm = 0.56, length_mm = 0 }
active_slot = { height_mm = 0.56, length_mm = 0, enter = "from the anchor" }
wire = { alloy = "beta-titanium", diameter_mm = 0.4 }
limits = { room_mesial_mm = 6, room_distal_mm = 5 }
[now]
along_mm = 8
%s
[goal]
along_mm = 9
[target]
against_travel = "meant"
[target.travel]
%s
`, active, anchor, now, target)
}

func fits(word string, active int) bool {
	switch {
	case strings.HasPrefix(word, "labial"):
		return active%10 <= 3
	case strings.HasPrefix(word, "palatal"):
		return active < 30
	}
	return true
}

// A key means the same way at the tooth in every quadrant and either order of the teeth, for
// loads as for places and turns.
func TestEveryKeyGoesItsWayInEveryQuadrant(t *testing.T) {
	t.Parallel()
	const size = 1.5
	read := 0
	for _, m := range mouths {
		axes := func(w way) r3.Vec {
			return r3.Vec{X: signOf(m.mesialIsX) * w.fore, Y: signOf(m.outIsY) * w.out, Z: w.up}
		}
		check := func(key string, want, got r3.Vec) {
			t.Helper()
			read++
			if r3.Norm(r3.Sub(want, got)) > 1e-12 { // rounding
				t.Errorf("%d held at %d: %s is %v, want %v", m.active, m.anchor, key, got, want)
			}
		}
		middle := func(w [3]target.Window) r3.Vec {
			of := func(w target.Window) float64 {
				if !w.Asked() {
					return 0
				}
				return (w.Min + w.Max) / 2
			}
			return r3.Vec{X: of(w[0]), Y: of(w[1]), Z: of(w[2])}
		}
		mustRead := func(now, target string) design.Case {
			c, err := casefile.ReadCase("c", []byte(senseCase(m.anchor, m.active, now, target)))
			if err != nil {
				t.Fatalf("%d held at %d, %s %s: %v", m.active, m.anchor, now, target, err)
			}
			return c
		}
		for word, w := range pushed {
			if !fits(word, m.active) {
				continue
			}
			if place := word + "_mm"; w.fore == 0 && word != "intrusive" && word != "extrusive" {
				c := mustRead(fmt.Sprintf("%s = %v", place, size), "crown_mesial_nmm = { max = 1 }")
				check(place, r3.Add(r3.Vec{X: 8}, r3.Scale(size, axes(w))), c.Now.CentreMM)
			}
			if force := word + "_n"; word != "apical" && word != "occlusal" {
				c := mustRead("", fmt.Sprintf("%s = { value = %v, tolerance = 0.1 }", force, size))
				check(force, r3.Scale(size, axes(w)), middle(c.Target.Travel.ForceN))
			}
		}
		for word, turn := range turned {
			if !fits(word, m.active) {
				continue
			}
			// A small turn about c takes what lies at p by c × p.
			about := r3.Cross(axes(turn.part), axes(turn.goes))
			c := mustRead("", fmt.Sprintf("%s_nmm = { value = %v, tolerance = 0.1 }", word, size))
			check(word+"_nmm", r3.Scale(size, about), middle(c.Target.Travel.CoupleNMM))
			key := word + "_deg"
			switch {
			case strings.HasPrefix(word, "crown"):
				key = word + "_tip_deg"
			case strings.HasPrefix(word, "mesial"):
				key = word + "_rotation_deg"
			}
			c = mustRead(fmt.Sprintf("%s = %v", key, size), "crown_mesial_nmm = { max = 1 }")
			check(key, r3.Scale(size*math.Pi/180, about), c.Now.Rotation)
		}
	}
	if read < 200 {
		t.Errorf("only %d keys were read", read)
	}
}

// A range under the word for the other way is that range mirrored, and a negative number under
// a word is a positive one under its opposite.
func TestWindowsOfOppositeSenses(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, test := range []struct {
		line string
		want target.Window
	}{
		{"intrusive_n = { min = 0.2, max = 0.5 }", target.Window{Min: 0.2, Max: 0.5}},
		{"extrusive_n = { min = 0.2, max = 0.5 }", target.Window{Min: -0.5, Max: -0.2}},
		{"extrusive_n = { min = -0.5, max = -0.2 }", target.Window{Min: 0.2, Max: 0.5}},
		{"extrusive_n = { min = 0.2 }", target.Window{Min: -inf, Max: -0.2}},
		{"extrusive_n = { max = 0.5 }", target.Window{Min: -0.5, Max: inf}},
		{`extrusive_n = "free"`, target.FreeWindow()},
		{"extrusive_n = { value = 0.3, tolerance = 0.1, weight = 2 }", target.Window{Min: -0.4, Max: -0.2, Aimed: true, Weight: 2}},
	} {
		c, err := casefile.ReadCase("c", []byte(senseCase(16, 17, "", "mesial_in_nmm = { max = 1 }\n"+test.line)))
		if err != nil {
			t.Fatal(err)
		}
		got := c.Target.Travel.ForceN[2]
		if math.Abs(got.Min-test.want.Min) > 1e-15 || math.Abs(got.Max-test.want.Max) > 1e-15 || got.Aimed != test.want.Aimed || got.Weight != test.want.Weight {
			if got != test.want { // infinities
				t.Errorf("%s: %+v, want %+v", test.line, got, test.want)
			}
		}
	}
}

func TestResistanceHasBothSenses(t *testing.T) {
	t.Parallel()
	read := func(line string) tooth.Resistance {
		c, err := casefile.ReadCase("c", []byte(senseCase(16, 17, "", "mesial_in_nmm = { max = 1 }\n[resistance.active]\n"+line)))
		if err != nil {
			t.Fatal(err)
		}
		return c.Resistance.Active
	}
	if r := read("outward_mm = 2\nmesial_mm = 1.5"); r.InwardMM != -2 || r.DistalMM != -1.5 {
		t.Errorf("outward 2 and mesial 1.5 are %+v", r)
	}
	if r := read("inward_mm = 2\ndistal_mm = 1.5"); r.InwardMM != 2 || r.DistalMM != 1.5 {
		t.Errorf("inward 2 and distal 1.5 are %+v", r)
	}
}

var proposal = regexp.MustCompile(`did you mean "?([a-z_]+)"?\?`)

// proposed are the keys that the hints of a case's faults propose.
func proposed(t *testing.T, text string) []string {
	t.Helper()
	_, err := casefile.ReadCase("c", []byte(text))
	var list fault.List
	if !errors.As(err, &list) {
		t.Fatalf("accepted:\n%s", text)
	}
	var keys []string
	for _, f := range list {
		for _, found := range proposal.FindAllStringSubmatch(f.Hint, -1) {
			keys = append(keys, found[1])
		}
	}
	return keys
}

// Followed to the letter, no hint turns a load or a place round: over all keys, with every slip
// of one character and many of two and three, the key of the other sense is never proposed.
func TestNoHintProposesTheOtherSense(t *testing.T) {
	t.Parallel()
	const letters = "abcdefghijklmnopqrstuvwxyz_"
	random := rand.New(rand.NewPCG(1, 2))
	slip := func(key string) string {
		at := random.IntN(len(key))
		letter := string(letters[random.IntN(len(letters))])
		switch random.IntN(3) {
		case 0:
			return key[:at] + key[at+1:]
		case 1:
			return key[:at] + letter + key[at:]
		default:
			return key[:at] + letter + key[at+1:]
		}
	}
	type keys struct {
		where, unit string
		of          [][2][]string // the words of either sense
		with        func(line string) string
	}
	forces := [][2][]string{{{"mesial"}, {"distal"}}, {{"buccal", "labial"}, {"lingual", "palatal"}}, {{"intrusive"}, {"extrusive"}}}
	couples := [][2][]string{{{"buccal_crown_torque", "labial_crown_torque"}, {"lingual_crown_torque", "palatal_crown_torque"}}, {{"crown_mesial"}, {"crown_distal"}}, {{"mesial_in"}, {"mesial_out"}}}
	inTravel := func(line string) string { return senseCase(16, 13, "", line) }
	inAnchor := func(line string) string { return senseCase(16, 13, "", "[target.anchor]\n"+line) }
	inNow := func(line string) string { return senseCase(16, 13, line, "") }
	inResistance := func(line string) string { return senseCase(16, 13, "", "[resistance.active]\n"+line) }
	tables := []keys{
		{"travel", "_n", forces, inTravel},
		{"travel", "_nmm", couples, inTravel},
		{"anchor", "_n", forces, inAnchor},
		{"anchor", "_nmm", couples, inAnchor},
		{"now", "_mm", [][2][]string{{{"apical"}, {"occlusal"}}, {{"buccal", "labial"}, {"lingual", "palatal"}}}, inNow},
		{"now", "_deg", [][2][]string{{{"crown_mesial_tip"}, {"crown_distal_tip"}}, {{"buccal_crown_torque", "labial_crown_torque"}, {"lingual_crown_torque", "palatal_crown_torque"}}, {{"mesial_in_rotation"}, {"mesial_out_rotation"}}}, inNow},
		{"resistance", "_mm", [][2][]string{{{"inward"}, {"outward"}}, {{"distal"}, {"mesial"}}}, inResistance},
	}
	plain := regexp.MustCompile(`^[a-z_]+$`)

	helped := 0
	for _, table := range tables {
		value := " = 1"
		if table.where == "travel" || table.where == "anchor" {
			value = " = { max = 1 }"
		}
		for _, pair := range table.of {
			for side, words := range pair {
				for _, word := range words {
					for n := range 60 {
						typed := slip(word + table.unit)
						for range n % 3 {
							typed = slip(typed)
						}
						if !plain.MatchString(typed) {
							continue
						}
						for _, p := range proposed(t, table.with(typed+value+"\nno_such_key = 1")) {
							helped++
							if slices.Contains(pair[1-side], strings.TrimSuffix(p, table.unit)) {
								t.Errorf("%s: %s, typed for %s, gets the hint %s", table.where, typed, word+table.unit, p)
							}
						}
					}
				}
			}
		}
	}
	if helped < 500 {
		t.Errorf("only %d hints named a key: the test sees nothing", helped)
	}
}

// The slip of the tongue that once turned a treatment round.
func TestExtrusionIsNotIntrusion(t *testing.T) {
	t.Parallel()
	text := strings.Replace(senseCase(16, 13, "apical_mm = 2", "extrusive_n = { min = 0.3, max = 0.5 }"), "along_mm = 9", "apical_mm = 0", 1)
	text = strings.Replace(text, "against_travel = \"meant\"\n", "", 1)
	c, err := casefile.ReadCase("c", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if w := c.Target.Travel.ForceN[2]; w.Min != -0.5 || w.Max != -0.3 {
		t.Errorf("extrusive 0.3 to 0.5 N is %+v on the apical axis", w)
	}
	_, err = casefile.ReadCase("c", []byte(strings.Replace(text, "extrusive", "intrusive", 1)))
	if err == nil || !strings.Contains(err.Error(), "asks for an intrusive force on tooth 13, but from [now] to [goal] it goes 2 mm towards the biting edge (occlusally)") {
		t.Errorf("an intrusive force on a tooth that is to come down: %v", err)
	}
}
