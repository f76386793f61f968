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

// Where the loads told are those with play, tied slots are what would be.
func TestPlayOfASeatedSpring(t *testing.T) {
	b := NewBook(English)
	n := notice.Play{
		Teeth: tooth.Pair{Anchor: 36, Active: 37}, Seated: true, Component: tooth.ForceZ, Tied: 0.71, Played: 0.56,
		ActiveCoupleNMM: 0.6, AnchorCoupleNMM: 2,
	}
	want := "loads hold for a wire with play in its slots; tied tightly into them, the intrusive force at the start would be 0.71 instead of 0.56 N, and the couples would differ by up to 0.6 N·mm on the active tooth and 2.0 N·mm on the anchor"
	if got, hint := b.Notice(n); got != want || strings.HasPrefix(hint, "tie the wire in") {
		t.Errorf("%q, hint %q, want %q", got, hint, want)
	}
}
