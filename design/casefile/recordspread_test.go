package casefile_test

import (
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
)

func TestWriteRecordWithSpread(t *testing.T) {
	t.Parallel()
	r := spring.Record{Title: "bent", Spread: &spring.Spread{
		Springs: 1000, Met: 870, Unseated: 2, Low: 0.848, High: 0.889, Influence: "angle at bend 3", InfluenceShare: 1.0 / 3, MostMissed: "mesial force", MissedShare: 0.12,
		Positions: []spring.PositionSpread{{TravelLeftMM: 2, ActiveForceZN: spring.Band{Low: 0.1, Median: 0.2, High: 0.3}, AnchorCoupleYNMM: spring.Band{High: 4}}},
	}}
	const want = recordHead + `  "title": "bent",
` + recordWire + `  "positions": [],
  "bent_springs": {
    "springs": 1000,
    "met": 870,
    "unseated": 2,
    "share_95": [0.848, 0.889],
    "largest_influence": "angle at bend 3",
    "influence_share": 0.333333333,
    "most_missed": "mesial force",
    "missed_share": 0.12,
    "positions": [
      {
        "travel_left_mm": 2,
        "active_force_z_n": [0.1, 0.2, 0.3],
        "active_couple_y_nmm": [0, 0, 0],
        "anchor_force_z_n": [0, 0, 0],
        "anchor_couple_y_nmm": [0, 0, 4]
      }
    ]
  }
}
`
	got, err := casefile.WriteRecord(origin, sampleWire, r)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	r.Spread.Positions[0].ActiveForceZN.Low = math.NaN()
	if _, err := casefile.WriteRecord(origin, sampleWire, r); err == nil || !strings.Contains(err.Error(), "bent_springs, position 1") {
		t.Errorf("a band that is not a number: %v", err)
	}
}
