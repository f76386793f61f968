package casefile_test

import (
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

const molarCase = `case = "m-37.b"
title = "a molar"

[teeth]
active = 37
anchor = 36

[anchor_slot]
height_mm = "0.022in"
length_mm = 4.0

[active_slot]
height_mm = "0.022in"
length_mm = 3.5
enter = "from behind"

[now]
along_mm = 12.5
apical_mm = -2.0
buccal_mm = 0.5
crown_mesial_tip_deg = 6
buccal_crown_torque_deg = -4
mesial_in_rotation_deg = 2

[goal]
apical_mm = 0.0
crown_mesial_tip_deg = 0

[travel]
positions = 5

[wire]
alloy = "beta-titanium"
thickness_mm = "0.017in"
width_mm = "0.025in"

[limits]
fold_depth_mm = 8.0
gum_clearance_mm = 1.5
loop_width_mm = 11
room_mesial_mm = 6.0
room_distal_mm = 5.0
pliers_radius_mm = 0.6
shortest_straight_mm = 1.2
largest_pre_bend_deg = 25

[target]
force_until_mm = 0.4

[target.start]
intrusive_n = { min = "30gf", max = 0.60 }

[target.travel]
mesial_n = { min = -0.01, max = 0.06 }
buccal_n = { value = 0.02, tolerance = 0.05 }
intrusive_n = { min = 0.05 }
crown_mesial_nmm = { min = -0.1, max = 0.5 }
buccal_crown_torque_nmm = "free"
mesial_in_nmm = { max = 0.3 }

[search]
length_step_mm = 0.25
angle_step_deg = 2
seed = 7
starts = 12
`

func TestReadCase(t *testing.T) {
	t.Parallel()
	degree := math.Pi / 180
	free := target.FreeWindow()
	inf := math.Inf(1)
	// Lower left, the active tooth distal of the anchor, seen from the cheek: x points to
	// the viewer's right and distally, z (apical) down, so y = z × x points out to the
	// viewer, towards the cheek. Hence crown-mesial is about +y, buccal crown torque about
	// +x and mesial-in, which takes the mesial (−x) side towards the tongue, about +z.
	want := design.Case{
		Code: "m-37.b", Title: "a molar", Teeth: tooth.Pair{Anchor: 36, Active: 37},
		AnchorSlot: spring.Slot{HeightMM: 0.559, LengthMM: 4},
		ActiveSlot: spring.Slot{HeightMM: 0.559, LengthMM: 3.5},
		Heading:    spring.Back,
		Resistance: design.Resistances{Active: tooth.ResistanceOf(37), Anchor: tooth.ResistanceOf(36)},
		Now:        design.Placement{CentreMM: r3.Vec{X: 12.5, Y: 0.5, Z: -2}, Rotation: r3.Vec{X: -4 * degree, Y: 6 * degree, Z: 2 * degree}},
		Goal:       design.Placement{CentreMM: r3.Vec{X: 12.5, Y: 0.5}, Rotation: r3.Vec{X: -4 * degree, Z: 2 * degree}},
		Positions:  5,
		Family:     design.RectangularLoopName,
		Choice:     design.Choice{Task: notice.OtherTask},
		Limits: design.Limits{
			LoopHeightMM: 6.5, FoldDepthMM: 8, LoopWidthMM: 11, RoomMesialMM: 6, RoomDistalMM: 5,
			BendRadiusMM: 0.6 + 0.4318/2, ShortestStraightMM: 1.2, LargestPreBendRad: 25 * degree,
		},
		Target: target.Target{
			ForceUntilMM: 0.4,
			Start:        target.LoadWindow{ForceN: [3]target.Window{2: {Min: 0.2941995, Max: 0.6}}},
			Travel: target.LoadWindow{
				ForceN:    [3]target.Window{{Min: -0.06, Max: 0.01}, {Min: -0.03, Max: 0.07, Aimed: true}, {Min: 0.05, Max: inf}},
				CoupleNMM: [3]target.Window{free, {Min: -0.1, Max: 0.5}, {Min: -inf, Max: 0.3}},
			},
		},
		Search: design.Search{LengthStepMM: 0.25, AngleStepRad: 2 * degree, Seed: 7, Starts: 12},
		Bender: design.SkilledBender(),
	}
	want.Wire.Alloy, want.Wire.EMPa, want.Wire.Poisson, want.Wire.YieldMPa = "beta-titanium", 65000, 0.30, 900
	want.Wire.ThicknessMM, want.Wire.WidthMM = 0.4318, 0.635
	want.Wire.CornerRadiusMM = 0.22 * 0.4318 // a size in inches is a name
	got, err := casefile.ReadCase("case.toml", []byte(molarCase))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, near); diff != "" {
		t.Errorf("case (-want +got):\n%s", diff)
	}
}

// TestWordsOfACaseAreTheWordsOfThePair reads a positive value of each word in all four
// quadrants, on either side of the anchor, and asks tooth.Pair to name it.
func TestWordsOfACaseAreTheWordsOfThePair(t *testing.T) {
	t.Parallel()
	for _, teeth := range []tooth.Pair{
		{Anchor: 16, Active: 17},
		{Anchor: 17, Active: 15},
		{Anchor: 26, Active: 27},
		{Anchor: 26, Active: 24},
		{Anchor: 36, Active: 37},
		{Anchor: 36, Active: 34},
		{Anchor: 46, Active: 47},
		{Anchor: 46, Active: 44},
	} {
		text := strings.NewReplacer(
			"active = 37", "active = "+number(int(teeth.Active)),
			"anchor = 36", "anchor = "+number(int(teeth.Anchor)),
			"buccal_crown_torque_deg = -4", "buccal_crown_torque_deg = 4",
			`buccal_crown_torque_nmm = "free"`, `buccal_crown_torque_nmm = { value = 3, tolerance = 1 }`,
			"crown_mesial_nmm = { min = -0.1, max = 0.5 }", "crown_mesial_nmm = { value = 3, tolerance = 1 }",
			"force_until_mm = 0.4", "against_travel = \"meant\"",
			"mesial_in_nmm = { max = 0.3 }", "mesial_in_nmm = { value = 3, tolerance = 1 }",
			"mesial_n = { min = -0.01, max = 0.06 }", "mesial_n = { value = 3, tolerance = 1 }",
			"buccal_n = { value = 0.02, tolerance = 0.05 }", "buccal_n = { value = 3, tolerance = 1 }",
		).Replace(molarCase)
		c, err := casefile.ReadCase("case.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		force, couple := c.Target.Travel.ForceN, c.Target.Travel.CoupleNMM
		of := teeth.ActiveMember()
		got := []string{
			of.ForceXWord(force[0].Min),
			of.ForceYWord(force[1].Min), of.CoupleXWord(couple[0].Min), of.CoupleYWord(couple[1].Min), of.CoupleZWord(couple[2].Min),
			of.ForceYWord(c.Now.CentreMM.Y), of.CoupleXWord(c.Now.Rotation.X), of.CoupleYWord(c.Now.Rotation.Y), of.CoupleZWord(c.Now.Rotation.Z),
		}
		want := []string{
			"mesial", "buccal", "buccal crown torque", "crown-mesial", "mesial-in",
			"buccal", "buccal crown torque", "crown-mesial", "mesial-in",
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%d held at %d (-want +got):\n%s", teeth.Active, teeth.Anchor, diff)
		}
	}
}

func number(n int) string { return string(rune('0'+n/10)) + string(rune('0'+n%10)) }

func TestReadCaseDefaults(t *testing.T) {
	t.Parallel()
	text := func(active, anchor string) string {
		return `case = "c1"
teeth = { active = ` + active + `, anchor = ` + anchor + ` }
anchor_slot = { height_mm = 0.56, length_mm = 0 }
active_slot = { height_mm = 0.56, length_mm = 0, enter = "from the anchor" }
now = { along_mm = 8 }
goal = { apical_mm = 0.6 }
wire = { alloy = "beta-titanium", diameter_mm = 0.4 }
limits = { room_mesial_mm = 6, room_distal_mm = 5 }
target.start.intrusive_n = { min = 0.1, max = 0.3 }
`
	}
	upper, err := casefile.ReadCase("case.toml", []byte(text("16", "15")))
	if err != nil {
		t.Fatal(err)
	}
	lower, err := casefile.ReadCase("case.toml", []byte(text("46", "45")))
	if err != nil {
		t.Fatal(err)
	}
	limits := design.Limits{
		LoopHeightMM: 8, LoopWidthMM: 12, RoomMesialMM: 6, RoomDistalMM: 5,
		BendRadiusMM: 0.95, ShortestStraightMM: 1, LargestPreBendRad: math.Pi / 6,
	}
	if diff := cmp.Diff(limits, upper.Limits, near); diff != "" {
		t.Errorf("upper limits (-want +got):\n%s", diff)
	}
	limits.LoopHeightMM = 6
	if diff := cmp.Diff(limits, lower.Limits, near); diff != "" {
		t.Errorf("lower limits (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(design.Search{LengthStepMM: 0.5, AngleStepRad: math.Pi / 180, Seed: 1}, upper.Search, near); diff != "" {
		t.Errorf("search (-want +got):\n%s", diff)
	}
	if upper.Positions != 7 || upper.Goal.CentreMM.X != 8 || !cmp.Equal(upper.Target.ForceUntilMM, 0.3, near) {
		t.Errorf("defaults: %+v", upper)
	}
}
