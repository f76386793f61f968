package casefile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
)

// playSpring is stepSpring with all that tells how its slots hold the wire.
var playSpring = strings.NewReplacer(
	`path = [`, "slide = \"active\"\npath = [",
	`slot_length_mm = 4.0`, "slot_length_mm = 4.0\nheight_mm = \"0.022in\"\ndepth_mm = 0.7112\nhold = \"play\"",
	`slot_length_mm = 3.5`, "slot_length_mm = 3.5\nheight_mm = 0.5\nhold = \"tied\"",
).Replace(stepSpring)

func TestSpringFileHoldsAndSlides(t *testing.T) {
	t.Parallel()
	s, err := casefile.ReadSpring("spring.toml", []byte(playSpring))
	if err != nil {
		t.Fatal(err)
	}
	anchor := spring.SlotHold{Play: true, HeightMM: 0.5588, DepthMM: 0.7112}
	if diff := cmp.Diff(anchor, s.AnchorHold, near); diff != "" {
		t.Errorf("anchor (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(spring.SlotHold{HeightMM: 0.5}, s.ActiveHold, near); diff != "" {
		t.Errorf("active (-want +got):\n%s", diff)
	}
	if s.Slide != spring.SlideActive {
		t.Errorf("slide is %v", s.Slide)
	}
	again, err := casefile.ReadSpring("spring.toml", casefile.WriteSpring(s))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(s, again, near, cmp.AllowUnexported(spring.Path{})); diff != "" {
		t.Errorf("written and read again (-want +got):\n%s", diff)
	}
}

// A tied spring is written as before: what it does not need does not stand there.
func TestWriteSpringLeavesOutTiedSlots(t *testing.T) {
	t.Parallel()
	s, err := casefile.ReadSpring("spring.toml", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"hold", "slide", "height_mm", "depth_mm"} {
		if bytes.Contains(casefile.WriteSpring(s), []byte(key+" ")) {
			t.Errorf("%s is written", key)
		}
	}
}

func TestSlotHoldFaults(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, from, to, key, text string }{
		{"height missing", "height_mm = \"0.022in\"\n", "", "anchor.height_mm", "is missing"},
		{"wire too thick", `height_mm = "0.022in"`, `height_mm = 0.4`, "anchor.height_mm", "less than the wire's thickness"},
		{"wire too wide", `depth_mm = 0.7112`, `depth_mm = 0.6`, "anchor.depth_mm", "less than the wire's width"},
		{"height out of range", `height_mm = 0.5`, `height_mm = 22`, "active.height_mm", "out of range"},
		{"unknown hold", `hold = "play"`, `hold = "loose"`, "anchor.hold", "not a known word"},
		{"no length", "slot_length_mm = 4.0\n", "", "anchor.slot_length_mm", "is missing"},
		{"length of a point", `slot_length_mm = 4.0`, `slot_length_mm = 0`, "anchor.slot_length_mm", "is 0"},
		{"unknown slide", `slide = "active"`, `slide = "both"`, "slide", "not a known word"},
		{"no number", `depth_mm = 0.7112`, `depth_mm = nan`, "anchor.depth_mm", ""},
		{"no straight to slide", "{ straight_mm = 3.0 },\n]", "]", "slide", "ends with no straight"},
		{"no straight at the start", "slide = \"active\"\npath = [\n  { straight_mm = 2.0 },", "slide = \"anchor\"\npath = [", "slide", "begins with no straight"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := casefile.ReadSpring("spring.toml", []byte(strings.Replace(playSpring, row.from, row.to, 1)))
			var faults fault.List
			if !errors.As(err, &faults) || len(faults) != 1 {
				t.Fatalf("faults: %v", err)
			}
			if f := faults[0]; f.Key != row.key || !strings.Contains(f.Text, row.text) || f.Line == 0 || f.Hint == "" {
				t.Errorf("fault %+v, want key %s and text %q", f, row.key, row.text)
			}
		})
	}
}

func TestRecordOfASpringWithPlay(t *testing.T) {
	t.Parallel()
	r := sampleRecord()
	r.Positions[0].Play = &spring.PlayState{
		Active: spring.SlotState{ThirdOrder: spring.Free, SecondOrder: spring.PlusWall},
		Anchor: spring.SlotState{FirstOrder: spring.MinusWall},
		SlidMM: -0.25,
	}
	written, err := casefile.WriteRecord(origin, sampleWire, r)
	if err != nil {
		t.Fatal(err)
	}
	type slot struct {
		Third  string `json:"third_order"`
		Second string `json:"second_order"`
		First  string `json:"first_order"`
	}
	type play struct {
		Active, Anchor slot
		Slid           float64 `json:"slid_mm"`
	}
	var got struct{ Positions []struct{ Play *play } }
	if err := json.Unmarshal(written, &got); err != nil {
		t.Fatalf("%v in\n%s", err, written)
	}
	want := &play{Active: slot{"free", "wall +", "tied"}, Anchor: slot{"tied", "tied", "wall -"}, Slid: -0.25}
	if diff := cmp.Diff(want, got.Positions[0].Play); diff != "" {
		t.Errorf("play (-want +got):\n%s", diff)
	}
	if got.Positions[1].Play != nil {
		t.Error("a tied position has a state of play")
	}
}

// playCase is molarCase with play in the active slot and a wire that slides through it.
var playCase = strings.NewReplacer(
	"title = \"a molar\"", "title = \"a molar\"\nslide = \"active\"",
	"length_mm = 3.5", "length_mm = 3.5\ndepth_mm = \"0.028in\"\nhold = \"play\"",
).Replace(molarCase)

func TestCaseFileHoldsAndSlides(t *testing.T) {
	t.Parallel()
	c, err := casefile.ReadCase("case.toml", []byte(playCase))
	if err != nil {
		t.Fatal(err)
	}
	s := c.SpringFor(spring.PathOf(spring.StraightStep(8)))
	want := spring.SlotHold{Play: true, HeightMM: 0.559, DepthMM: 0.7112}
	if diff := cmp.Diff(want, s.ActiveHold, near); diff != "" {
		t.Errorf("active hold (-want +got):\n%s", diff)
	}
	if s.AnchorHold != (spring.SlotHold{}) || s.Slide != spring.SlideActive || s.Plain() {
		t.Errorf("anchor hold %+v, slide %v", s.AnchorHold, s.Slide)
	}
	for _, row := range []struct{ from, to, key string }{
		{`depth_mm = "0.028in"`, `depth_mm = 0.5`, "active_slot.depth_mm"},
		{`hold = "play"`, `hold = true`, "active_slot.hold"},
		{"length_mm = 3.5", "length_mm = 0", "active_slot.length_mm"},
		{`slide = "active"`, `slide = 1`, "slide"},
	} {
		_, err := casefile.ReadCase("case.toml", []byte(strings.Replace(playCase, row.from, row.to, 1)))
		var faults fault.List
		if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Key != row.key || faults[0].Hint == "" {
			t.Errorf("%s: %v", row.to, err)
		}
	}
}
