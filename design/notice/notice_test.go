package notice

import (
	"encoding/json"
	"strings"
	"testing"
)

// Names of kinds and limits are for readers of files: all have one of their own.
func TestKindsAndLimitsHaveNames(t *testing.T) {
	seen := map[string]bool{}
	check := func(name string) {
		if name == "" || name != strings.ToLower(name) || seen[name] {
			t.Errorf("name %q", name)
		}
		seen[name] = true
	}
	for k := range Kinds {
		check(k.String())
	}
	for l := range Limits {
		check(l.String())
	}
}

func TestNoticesAsJSON(t *testing.T) {
	got, err := json.Marshal(List{
		NearYield{StressRatio: 0.93, TravelLeftMM: 2},
		StressInWay{},
		LimitInWay{Limit: FoldLimit},
		OpposedBends{Bends: []int{2, 3}, Worst: 3, Twist: true, StressRatio: 0.8, LimitRatio: 0.7},
	})
	want := `[{"kind":"near yield","stress_ratio":0.93,"travel_left_mm":2},{"kind":"stress in the way"},{"kind":"limit in the way","limit":"fold depth"},` +
		`{"kind":"opposed bends","bends":[2,3],"worst":3,"twist":true,"stress_ratio":0.8,"limit_ratio":0.7}]`
	if err != nil || string(got) != want {
		t.Errorf("%v\ngot  %s\nwant %s", err, got, want)
	}
}

// A rule of bending is for whoever bends; loads in doubt are for everybody.
func TestWorkOfNotices(t *testing.T) {
	for n, want := range map[*OpposedBends]Work{
		{StressRatio: 0.48, LimitRatio: 0.5}: Bending, {StressRatio: 0.6, LimitRatio: 0.5}: Anybody,
	} {
		if got := WorkOf(*n); got != want {
			t.Errorf("%+v is for work %v, want %v", *n, got, want)
		}
	}
	if WorkOf(Play{}) != Tying || WorkOf(NearYield{}) != Anybody {
		t.Error("play is for whoever ties the wire in, stress for anybody")
	}
}
