package words

import (
	"testing"

	"springwright/design/effect"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
)

func TestHeardFollowsTheFigures(t *testing.T) {
	t.Parallel()
	teeth := tooth.Pair{Anchor: 36, Active: 37}
	for _, c := range []struct {
		heard effect.Heard
		want  string
	}{
		{
			effect.Heard{Saying: effect.WireForceLarger, FromMM: 2, ToMM: 3, Holds: 8, Of: 8, Least: 1.54, Most: 3.66},
			"“At 2 to 3 mm the straight wire's force is clearly larger”: holds, 1.5 to 3.7 times as much as with the spring.",
		},
		{
			effect.Heard{Saying: effect.WireCoupleLarger, FromMM: 2, ToMM: 2, Holds: 0, Of: 4, Least: 0.3, Most: 0.9},
			"“At 2 mm its couple on tooth 36 is clearly larger, too”: does not hold, 0.3 to 0.9 times as much as with the spring.",
		},
		{
			effect.Heard{Saying: effect.SmallTravelWire, FromMM: 1, ToMM: 1, Holds: 3, Of: 4},
			"“Small travel, 1 mm: the straight wire will do”: holds in 3 of 4 cases.",
		},
		{
			effect.Heard{Saying: effect.WireForceLarger, FromMM: 2, ToMM: 2, Holds: 2, Of: 4, Only: effect.StrongestData, Least: 1.16, Most: 1.84},
			"“At 2 mm the straight wire's force is clearly larger”: holds with the strongest data alone, 1.2 to 1.8 times as much as with the spring.",
		},
		{effect.Heard{Saying: effect.LargeTravelLoop, FromMM: 2.25, ToMM: 2.25, Of: 4}, "“Large travel, 2.25 mm: a loop”: does not hold."},
	} {
		if got := NewBook(English).Heard(teeth, c.heard); got != c.want {
			t.Errorf("got\n%s, want\n%s", got, c.want)
		}
	}
	want := []string{
		"For each newton tooth 36 feels 4.2 to 5.6 N·mm from the straight wire at 2 mm, 10.0 N·mm from the spring.",
		"The straight wire comes down to the spring's first force of 0.45 N with 0.4 to 1.2 mm left, and puts 3.8 to 5.0 N·mm on tooth 36 then; the spring puts 4.5 N·mm.",
		"Going on into the slot of tooth 35, the straight wire puts 1.2 N·mm less couple on tooth 36 at 2 mm, and 0.16 N more force.",
	}
	if diff := cmp.Diff(want, NewBook(English).ArgumentFigures(teeth, sampleArgument())); diff != "" {
		t.Errorf("figures (-want +got):\n%s", diff)
	}
}
