package tooth

import (
	"math"
	"testing"
)

// Nothing is named by the first of its two words, so that a table of zeros reads the same in
// every quadrant.
func TestNothingHasTheFirstWord(t *testing.T) {
	t.Parallel()
	for _, s := range sides {
		m := s.pair.ActiveMember()
		for got, want := range map[string]string{
			m.ForceXWord(0): "mesial", m.ForceYWord(0): "buccal", m.ForceZWord(0): "intrusive", m.CoupleXWord(0): "buccal crown torque",
			m.CoupleYWord(0): "crown-mesial", m.CoupleZWord(0): "mesial-out",
		} {
			if got != want {
				t.Errorf("%v: 0 is %q, want %q", s.pair, got, want)
			}
		}
	}
}

func TestKindsOfTeeth(t *testing.T) {
	t.Parallel()
	for place, want := range map[Number]string{1: "incisor", 2: "incisor", 3: "", 4: "", 5: "", 6: "molar", 7: "molar", 8: "molar"} {
		for quadrant := Number(1); quadrant <= 4; quadrant++ {
			n := 10*quadrant + place
			if n.Incisor() != (want == "incisor") || n.Molar() != (want == "molar") {
				t.Errorf("%d: incisor %v, molar %v, want %q", n, n.Incisor(), n.Molar(), want)
			}
			if outer := n.OutwardWord(); (outer == "buccal") != (place >= 4) || outer != "buccal" && outer != "labial" {
				t.Errorf("%d: outer side %q", n, outer)
			}
		}
	}
}

// A root lies apically of its slot and on the inner side of it, in the size that is written in
// the sources beside the values.
func TestResistanceOfEveryTooth(t *testing.T) {
	t.Parallel()
	for place := Number(1); place <= 8; place++ {
		for quadrant := Number(1); quadrant <= 4; quadrant++ {
			n := 10*quadrant + place
			r := ResistanceOf(n)
			inward, distal, apical, rootMM := 4.0, 0.0, 10.0, 12.0
			switch {
			case place == 6:
				inward, distal, apical, rootMM = 4.94, 2.54, 7.86, 11
			case place > 6:
				inward, distal, apical, rootMM = 4.94, 2.54, 7.36, 11
			case place >= 4:
				apical = 9
			}
			if r.InwardMM != inward || r.DistalMM != distal || math.Abs(r.ApicalMM-apical) > 1e-12 {
				t.Errorf("%d: %+v, want %v inwards, %v distally, %v apically", n, r, inward, distal, apical)
			}
			if want := 0.068 * rootMM * rootMM; math.Abs(r.LeverMM2-want) > 1e-12 || !r.LeverGuess {
				t.Errorf("%d: lever %v mm², want %v, a guess", n, r.LeverMM2, want)
			}
			if measured := n == 16 || n == 26; r.Guess == measured || r.Source == "" {
				t.Errorf("%d: guess %v, source %q", n, r.Guess, r.Source)
			}
		}
	}
}

func TestComponents(t *testing.T) {
	t.Parallel()
	couples := 0
	for k := range Components {
		if k.Couple() {
			couples++
		}
	}
	if couples != 3 || !CoupleX.Couple() || ForceZ.Couple() {
		t.Errorf("%d couples, the first of them %v", couples, CoupleX.Couple())
	}
	if got := (Pair{36, 37}).ActiveMember().Sense(CoupleX, -1); got != "crown-lingual" {
		t.Errorf("the lower left molar is turned %q about −x", got)
	}
}
