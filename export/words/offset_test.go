package words

import (
	"slices"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"
)

// Where the free end lies off, as a hand sees it. Worked out from the mouth alone: beside 37, x runs backwards, seen from
// the left cheek to the right of the viewer, and z down to the root, so that y points at the viewer; beside 13, x runs
// forwards, seen from the right cheek to the right as well, and z up, so that y points away.
func TestOffsetsAreToldAsTheyAreSeen(t *testing.T) {
	t.Parallel()
	b := NewBook(English)
	for _, c := range []struct {
		teeth tooth.Pair
		off   [tooth.Components]float64 // mm, then degrees
		want  []string
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.ForceX: 0.4, tooth.ForceZ: -0.3}, []string{"0.3 mm occlusal", "0.4 mm distal"}},
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.ForceX: -0.05, tooth.ForceZ: 0.049}, []string{"0.1 mm mesial"}},
		{tooth.Pair{Anchor: 16, Active: 13}, [tooth.Components]float64{tooth.ForceX: 0.4, tooth.ForceZ: 0.3}, []string{"0.3 mm apical", "0.4 mm mesial"}},
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.CoupleY: 2}, []string{"turned 2° anticlockwise, seen from the cheek"}},
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.CoupleY: -2}, []string{"turned 2° clockwise, seen from the cheek"}},
		{tooth.Pair{Anchor: 16, Active: 13}, [tooth.Components]float64{tooth.CoupleY: 2}, []string{"turned 2° clockwise, seen from the cheek"}},
		{tooth.Pair{Anchor: 37, Active: 36}, [tooth.Components]float64{tooth.CoupleY: 2}, []string{"turned 2° clockwise, seen from the cheek"}},       // x runs to the viewer's left
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.CoupleZ: 3}, []string{"turned 3° clockwise, seen from the biting side"}}, // z points away
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.CoupleX: -3}, []string{"turned 3° anticlockwise, seen along the arch from the anchor tooth"}},
		{tooth.Pair{Anchor: 36, Active: 37}, [tooth.Components]float64{tooth.CoupleX: 0.49, tooth.CoupleY: -0.49, tooth.CoupleZ: 0.49}, nil},
	} {
		for _, k := range [...]tooth.Component{tooth.CoupleX, tooth.CoupleY, tooth.CoupleZ} {
			c.off[k] *= degree
		}
		s := spring.Spring{Teeth: c.teeth}
		if got := append(b.shifts(s, c.off), b.turns(s, c.off)...); !slices.Equal(got, c.want) {
			t.Errorf("%v, %v: %q, want %q", c.teeth, c.off, got, c.want)
		}
	}
}
