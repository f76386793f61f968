package casefile_test

import (
	"bytes"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
)

// seatedSpring is stepSpring with its slots as they are.
func seatedSpring(anchor, active string) string {
	return strings.NewReplacer(
		`slot_length_mm = 4.0`, "slot_length_mm = 4.0\nheight_mm = \"0.022in\"\n"+anchor,
		`slot_length_mm = 3.5`, "slot_length_mm = 3.5\nheight_mm = \"0.018in\"\n"+active,
	).Replace(stepSpring)
}

func TestSpringFileTellsHowItIsSeated(t *testing.T) {
	t.Parallel()
	tube22 := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.5588, DepthMM: 0.7112}
	tube18 := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.4572, DepthMM: 0.635}
	for _, row := range []struct {
		name, anchor, active   string
		wantAnchor, wantActive spring.SlotHold
		slide, toRest          spring.Slide
	}{
		{"tubes, the usual way", `kind = "tube"`, `kind = "tube"`, tube22, tube18, spring.NoSlide, spring.SlideActive},
		{"as measured", `kind = "tube"`, "kind = \"tube\"\nbefore_tying = \"as measured\"", tube22, tube18, spring.NoSlide, spring.NoSlide},
		{"anchor slid", "kind = \"tube\"\nbefore_tying = \"slid to rest\"", `kind = "tube"`, tube22, tube18, spring.NoSlide, spring.SlideAnchor},
		{"left to slide", `kind = "tube"`, "kind = \"tube\"\ntie = \"left to slide\"", tube22, tube18, spring.SlideActive, spring.NoSlide},
		{"bracket", `kind = "tube"`, "kind = \"bracket\"\ndepth_mm = 0.7", tube22, spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.4572}, spring.NoSlide, spring.SlideActive},
		{"one slot told", "depth_mm = 0.7\nkind = \"tube\"", "", spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.5588, DepthMM: 0.7}, spring.SlotHold{HeightMM: 0.4572}, spring.NoSlide, spring.SlideActive},
		{"tied fast, slid to rest", "", `before_tying = "slid to rest"`, spring.SlotHold{HeightMM: 0.5588}, spring.SlotHold{HeightMM: 0.4572}, spring.NoSlide, spring.SlideActive},
		{"as before", "", "", spring.SlotHold{HeightMM: 0.5588}, spring.SlotHold{HeightMM: 0.4572}, spring.NoSlide, spring.NoSlide},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s, err := casefile.ReadSpring("spring.toml", []byte(seatedSpring(row.anchor, row.active)))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff([]spring.SlotHold{row.wantAnchor, row.wantActive}, []spring.SlotHold{s.AnchorHold, s.ActiveHold}, near); diff != "" {
				t.Errorf("holds (-want +got):\n%s", diff)
			}
			if s.Slide != row.slide || s.SlidToRest != row.toRest {
				t.Errorf("slides %v, slid to rest %v, want %v and %v", s.Slide, s.SlidToRest, row.slide, row.toRest)
			}
			written := casefile.WriteSpring(s)
			again, err := casefile.ReadSpring("spring.toml", written)
			if err != nil {
				t.Fatalf("%v\n%s", err, written)
			}
			if diff := cmp.Diff(s, again, near, cmp.AllowUnexported(spring.Path{})); diff != "" {
				t.Errorf("written and read again (-want +got):\n%s", diff)
			}
			if row.name == "as before" && (bytes.Contains(written, []byte("kind")) || bytes.Contains(written, []byte("before_tying"))) {
				t.Errorf("what is not told is written:\n%s", written)
			}
		})
	}
}

func TestSeatingIsRefused(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, file, want string }{
		{"both slide", seatedSpring("kind = \"tube\"\ntie = \"left to slide\"", "kind = \"tube\"\ntie = \"left to slide\""), "active.tie: is \"left to slide\", as in the anchor slot: nothing would keep the wire"},
		{"both slid to rest", seatedSpring("kind = \"tube\"\nbefore_tying = \"slid to rest\"", "kind = \"tube\"\nbefore_tying = \"slid to rest\""), "active.before_tying: is \"slid to rest\", and in the anchor slot \"slid to rest\""},
		{"ligature in a tube", seatedSpring("", "kind = \"tube\"\ntie = \"ligature\""), "active.tie: is \"ligature\", but a tube is closed"},
		{"hold beside kind", seatedSpring("kind = \"tube\"\nhold = \"play\"", ""), "anchor.hold: is given beside kind"},
		{"seated hook", strings.Replace(seatedSpring("", "tie = \"cinched\"\nhold = \"hook\""), "slot_length_mm = 3.5\n", "", 1), "active.hold: is \"hook\", and yet the slot is told to be seated"},
		{"slide says otherwise", strings.Replace(seatedSpring("", "kind = \"tube\"\ntie = \"cinched\""), "path = [", "slide = \"active\"\npath = [", 1), "active.tie: is \"cinched\", but slide is \"active\""},
		{"slide says none", strings.Replace(seatedSpring("", "kind = \"tube\"\ntie = \"left to slide\""), "path = [", "slide = \"none\"\npath = [", 1), "slide: is \"none\", but a slot has tie = \"left to slide\""},
		{"unknown kind", seatedSpring("", `kind = "hole"`), "active.kind: \"hole\" is not a known word here"},
		{"no height", strings.Replace(seatedSpring("", `kind = "tube"`), "height_mm = \"0.018in\"\n", "", 1), "active.height_mm: is missing"},
		{"no length", strings.Replace(seatedSpring("", `kind = "tube"`), "slot_length_mm = 3.5", "slot_length_mm = 0", 1), "active.slot_length_mm: is 0: a point stops no tipping"},
		{"no straight", strings.Replace(seatedSpring("", `kind = "tube"`), "{ straight_mm = 3.0 },\n", "", 1), "active.before_tying: is \"slid to rest\", but the path ends with no straight that could slide"},
	} {
		_, err := casefile.ReadSpring("spring.toml", []byte(row.file))
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %s", row.name, err, row.want)
		}
	}
}

// A case is seated in the usual way where it does not say: tubes of the usual depth, slid to rest
// in the active one and cinched; what it says goes before that. The spring as before is not touched.
func TestCaseTellsHowItIsSeated(t *testing.T) {
	t.Parallel()
	tube := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.559, DepthMM: 0.7112}
	for _, row := range []struct {
		name, anchor, active   string
		wantAnchor, wantActive spring.SlotHold
		slide, toRest          spring.Slide
	}{
		{"the usual way", "", "", tube, tube, spring.NoSlide, spring.SlideActive},
		{"tied fast", "\nhold = \"tied\"", "", spring.SlotHold{}, tube, spring.NoSlide, spring.SlideActive},
		{"left to slide", "", "\ntie = \"left to slide\"", tube, tube, spring.SlideActive, spring.NoSlide},
		{"bracket as measured", "", "\nkind = \"bracket\"\nbefore_tying = \"as measured\"", tube, spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.559}, spring.NoSlide, spring.NoSlide},
		{"hook", "", "\nhold = \"hook\"", tube, spring.SlotHold{Hook: true}, spring.NoSlide, spring.NoSlide},
	} {
		file := replaceIn(t, molarCase, "length_mm = 4.0", "length_mm = 4.0"+row.anchor)
		active := "length_mm = 3.5" + row.active
		if row.name == "hook" {
			active = "length_mm = 0" + row.active
			file = replaceIn(t, file, `title = "a molar"`, "title = \"a molar\"\nspring = \"cantilever\"")
			file = replaceIn(t, file, "enter = \"from behind\"\n", "")
		}
		c, err := casefile.ReadCase("case.toml", []byte(replaceIn(t, file, "length_mm = 3.5", active)))
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		s := c.SeatedSpring(spring.Path{})
		if diff := cmp.Diff([]spring.SlotHold{row.wantAnchor, row.wantActive}, []spring.SlotHold{s.AnchorHold, s.ActiveHold}, near); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
		if s.Slide != row.slide || s.SlidToRest != row.toRest {
			t.Errorf("%s: slides %v, slid to rest %v, want %v and %v", row.name, s.Slide, s.SlidToRest, row.slide, row.toRest)
		}
		if before := c.SpringFor(spring.Path{}); before.AnchorHold.Play || before.ActiveHold.Play || before.SlidToRest != spring.NoSlide {
			t.Errorf("%s: the spring as before is %+v", row.name, before)
		}
	}
}

// A wire that slides has no force along the arch: asked for beside it, it is refused, and not searched for.
func TestForceAlongTheArchNeedsAWireThatStays(t *testing.T) {
	t.Parallel()
	retracted := replaceIn(t, molarCase, "mesial_n = { min = -0.01, max = 0.06 }", "mesial_n = { min = 0.2, max = 0.5 }")
	retracted = replaceIn(t, retracted, "[goal]\n", "[goal]\nalong_mm = 11.5\n")
	for _, row := range []struct{ name, from, to, want string }{
		{"slid to rest", "length_mm = 3.5", "length_mm = 3.5\nbefore_tying = \"slid to rest\"", "active_slot.before_tying: is \"slid to rest\", but the target asks for a force along the arch"},
		{"left to slide", "length_mm = 4.0", "length_mm = 4.0\ntie = \"left to slide\"", "anchor_slot.tie: is \"left to slide\", but the target asks for a force along the arch"},
		{"slide", "title = \"a molar\"", "title = \"a molar\"\nslide = \"active\"", "slide: is \"active\", but the target asks for a force along the arch"},
	} {
		_, err := casefile.ReadCase("case.toml", []byte(replaceIn(t, retracted, row.from, row.to)))
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %s", row.name, err, row.want)
		}
		if _, err := casefile.ReadCase("case.toml", []byte(replaceIn(t, molarCase, row.from, row.to))); err != nil {
			t.Errorf("%s without a force along the arch: %v", row.name, err)
		}
	}
}
