package export

import (
	"testing"

	"springwright/design/tooth"
)

func TestTeethHaveTheirOwnWordForOutwards(t *testing.T) {
	for _, test := range [...]struct {
		number     tooth.Number
		text, want string
	}{
		{16, "crown-labial", "crown-buccal"},
		{13, "crown-buccal", "crown-labial"},
		{35, "a labial force of 0.13 N would cancel that", "a buccal force of 0.13 N would cancel that"},
		{47, "lingual crown torque", "lingual crown torque"},
	} {
		if got := outwardOf(test.number, test.text); got != test.want {
			t.Errorf("of tooth %d: %q, want %q", test.number, got, test.want)
		}
	}
}
