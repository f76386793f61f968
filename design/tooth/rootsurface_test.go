package tooth_test

import (
	"math"
	"strings"
	"testing"

	"springwright/design/tooth"
)

// The published figures, as printed: upper teeth by Chiang Mai Dent J 2019;40(1):57–66, lower
// ones by J Periodontol 2002;73:1095–1100. What is remembered says so.
func TestRootSurfacesAreThePublishedOnes(t *testing.T) {
	t.Parallel()
	for n, want := range map[tooth.Number]float64{
		11: 208.5, 22: 193.9, 13: 275.5, 24: 258.7, 15: 233.4, 26: 447.4, 17: 386.3,
		33: 275.9, 44: 251.5, 35: 271.8,
	} {
		source := "Chiang Mai Dent J 2019"
		if !n.Upper() {
			source = "J Periodontol 2002"
		}
		if r := tooth.RootSurfaceOf(n); r.AreaMM2 != want || r.Guess || !strings.HasPrefix(r.Source, source) {
			t.Errorf("tooth %d: %+v, want %v mm² by %s", n, r, want, source)
		}
	}
	for n, between := range map[tooth.Number][2]float64{31: {155, 170}, 42: {155, 170}, 36: {430, 450}, 47: {390, 430}, 18: {100, 386.3}, 38: {100, 410}} {
		if r := tooth.RootSurfaceOf(n); r.AreaMM2 < between[0] || r.AreaMM2 > between[1] || !r.Guess || r.Source != "from memory" {
			t.Errorf("tooth %d: %+v, want %v mm², from memory", n, r, between)
		}
	}
	for place := 1; place <= 8; place++ {
		for quadrant := 1; quadrant <= 4; quadrant++ {
			n := tooth.Number(10*quadrant + place)
			if r := tooth.RootSurfaceOf(n); r != tooth.RootSurfaceOf(n.Mirrored()) || !(r.AreaMM2 > 0) || r.Source == "" {
				t.Errorf("tooth %d: %+v, and %d %+v", n, r, n.Mirrored(), tooth.RootSurfaceOf(n.Mirrored()))
			}
		}
	}
}

// Neighbours stand half of both crowns apart, and the ways add up.
func TestTeethStandByTheirCrowns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to tooth.Number
		want     float64
	}{{36, 35, -(11 + 7) / 2.}, {36, 37, (11 + 10.5) / 2}, {36, 34, -(11+7)/2. - 7}, {11, 12, 7.5}, {26, 26, 0}} {
		if got := c.from.DistalMM(c.to); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%d lies %v mm distal of %d, want %v", c.to, got, c.from, c.want)
		}
		if back := c.to.DistalMM(c.from); math.Abs(back+c.want) > 1e-12 {
			t.Errorf("%d lies %v mm distal of %d, want %v", c.from, back, c.to, -c.want)
		}
	}
	if tooth.Number(43).AcrossMM() != 0 || tooth.Number(46).AcrossMM() != tooth.Number(36).AcrossMM() {
		t.Errorf("across: %v, %v, %v mm", tooth.Number(43).AcrossMM(), tooth.Number(46).AcrossMM(), tooth.Number(36).AcrossMM())
	}
}
