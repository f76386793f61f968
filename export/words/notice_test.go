package words

import (
	"strings"
	"testing"

	"springwright/design/notice"
	"springwright/design/tooth"
)

// The load along the travel is told, on its own name and with tied slots above 0.
func TestPlayIsToldOnTheNameOfTheLoad(t *testing.T) {
	b := NewBook(English)
	for want, n := range map[string]notice.Play{
		"play takes the distal force at the start from 1.06 to 0.81 N and":            {Component: tooth.ForceX, Tied: -1.06, Played: -0.81},
		"play takes the intrusive force at the start from 0.02 to −0.01 N and":        {Component: tooth.ForceZ, Tied: 0.02, Played: -0.01},
		"play takes the labial crown torque at the start from 7.25 to 4.50 N·mm and":  {Component: tooth.CoupleX, Tied: -7.25, Played: -4.5},
		"play takes the crown-distal couple at the start from 2.00 to 1.00 N·mm and ": {Component: tooth.CoupleY, Tied: 2, Played: 1},
	} {
		n.Teeth = tooth.Pair{Anchor: 15, Active: 13} // +x mesial, −y labial
		n.ActiveCoupleNMM, n.AnchorCoupleNMM = 1.8, 1.5
		got, _ := b.Notice(n)
		if !strings.Contains(got, want) || !strings.Contains(got, "tied tightly into both slots") || !strings.Contains(got, "up to 1.8 N·mm on the active tooth and 1.5 N·mm on the anchor") {
			t.Errorf("%q, want %q", got, want)
		}
		n.Hook = true
		if got, _ := b.Notice(n); strings.Contains(got, "both slots") || !strings.HasSuffix(got, "the couple on the anchor tooth by up to 1.5 N·mm") {
			t.Errorf("of a hook: %q", got)
		}
	}
}
