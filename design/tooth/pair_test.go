package tooth

import (
	"fmt"
	"strings"
	"testing"
)

// Worked out by hand. Stand at the cheek and look at the teeth. On the patient's right
// (quadrants 1 and 4) the front of the mouth is on your right, on the left (2 and 3) on
// your left. In the upper jaw the roots point up, in the lower jaw down.
//
// On the viewer's axes right R, left L, up U, down D and towards the viewer V, R × U = V.
// With the active tooth distal, x distally, y = z × x is
//
//	quadrant 1: z U, x L: U × L = V, towards the cheek
//	quadrant 2: z U, x R: U × R = −V, towards the tongue
//	quadrant 3: z D, x R: D × R = V, towards the cheek
//	quadrant 4: z D, x L: D × L = −V, towards the tongue
//
// and the other way for an active tooth mesial of its anchor.
var sides = []struct {
	pair        Pair
	right       bool
	mesial, out float64
	reason      string
}{
	{Pair{16, 17}, false, -1, 1, "upper right, distally is left; up × left is towards the viewer"},
	{Pair{17, 16}, true, 1, -1, "upper right, mesially is right; up × right is away"},
	{Pair{26, 27}, true, -1, -1, "upper left, distally is right; up × right is away"},
	{Pair{27, 26}, false, 1, 1, "upper left, mesially is left; up × left is towards the viewer"},
	{Pair{36, 37}, true, -1, 1, "lower left, distally is right; down × right is towards the viewer"},
	{Pair{37, 36}, false, 1, -1, "lower left, mesially is left; down × left is away"},
	{Pair{46, 47}, false, -1, -1, "lower right, distally is left; down × left is away"},
	{Pair{47, 46}, true, 1, 1, "lower right, mesially is right; down × right is towards the viewer"},
}

func TestSidesInAllQuadrants(t *testing.T) {
	t.Parallel()
	for _, s := range sides {
		if got := s.pair.XPointsRight(); got != s.right {
			t.Errorf("%v: x points right is %v, want %v (%s)", s.pair, got, s.right, s.reason)
		}
		if got := s.pair.MesialSign(); got != s.mesial {
			t.Errorf("%v: mesial sign is %v, want %v (%s)", s.pair, got, s.mesial, s.reason)
		}
		if got := s.pair.BuccalSign(); got != s.out {
			t.Errorf("%v: buccal sign is %v, want %v (%s)", s.pair, got, s.out, s.reason)
		}
	}
}

// The same by vectors in the mouth: R to the patient's left (the right of somebody who
// looks at the face), U up, F to the front.
func TestSidesMatchTheMouth(t *testing.T) {
	t.Parallel()
	type vec [3]int // patient's left, up, front
	cross := func(a, b vec) vec {
		// left × up = front, for somebody who looks at the patient's face.
		return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	}
	scale := func(k int, v vec) vec { return vec{k * v[0], k * v[1], k * v[2]} }
	for _, s := range sides {
		// Beside the molars mesial is to the front, and the cheek is outward.
		mesial, cheek, apical := vec{0, 0, 1}, vec{1, 0, 0}, vec{0, 1, 0}
		if s.pair.Active.PatientRight() {
			cheek = scale(-1, cheek)
		}
		if !s.pair.Active.Upper() {
			apical = scale(-1, apical)
		}
		x := scale(int(s.pair.MesialSign()), mesial)
		if y, want := cross(apical, x), scale(int(s.pair.BuccalSign()), cheek); y != want {
			t.Errorf("%v: y = z × x is %v, buccal sign makes it %v", s.pair, y, want)
		}
		// From the cheek, looking inwards with up at the top, right is up × cheek.
		right := cross(vec{0, 1, 0}, cheek)
		if (x == right) != s.pair.XPointsRight() {
			t.Errorf("%v: x is %v and right is %v, but XPointsRight is %v", s.pair, x, right, s.pair.XPointsRight())
		}
	}
}

// The name of a load is the first of its two where its value on the trade's sign is above 0.
func TestNamesAgreeWithClinicalSigns(t *testing.T) {
	t.Parallel()
	for _, s := range sides {
		p, inward := s.pair, s.pair.Active.InwardWord()
		for _, value := range []float64{0.7, -0.7} {
			for component, names := range map[Component][2]string{
				ForceX:  {"mesial force", "distal force"},
				ForceY:  {"buccal force", inward + " force"},
				ForceZ:  {"intrusive force", "extrusive force"},
				CoupleX: {"buccal crown torque", inward + " crown torque"},
				CoupleY: {"crown-mesial couple", "crown-distal couple"},
				CoupleZ: {"mesial-in couple", "mesial-out couple"},
			} {
				want := names[0]
				if p.ClinicalSign(component)*value < 0 {
					want = names[1]
				}
				if got := p.ActiveMember().LoadName(component, value); got != want {
					t.Errorf("%v, component %d: %v is %q, want %q", p, component, value, got, want)
				}
			}
		}
	}
}

// By hand for the lower left, active tooth distal: x distally, y buccally, z down.
func TestCoupleWordsByHand(t *testing.T) {
	t.Parallel()
	p := Pair{36, 37}.ActiveMember()
	canine := Pair{16, 13}
	for _, test := range []struct{ got, want, reason string }{
		{p.CoupleXWord(1), "buccal crown torque", "about +x what lies at −z, the crown, goes to +y: x × (−z) = y, the cheek"},
		{p.CoupleYWord(1), "crown-mesial", "about +y the crown goes to y × (−z) = −x, mesially"},
		{p.CoupleZWord(1), "mesial-in", "about +z the mesial side, at −x, goes to z × (−x) = −y, inwards"},
		{p.ForceYWord(1), "buccal", "+y is the cheek"},
		{p.ForceYWord(-1), "lingual", "−y is the tongue"},
		{Pair{16, 17}.ActiveMember().ForceYWord(-1), "palatal", "the inner side of an upper tooth"},
		{canine.ActiveMember().ForceYWord(-1), "labial", "upper right, x mesially: −y is outwards, and a front tooth has a lip"},
		{canine.AnchorMember().ForceYWord(-1), "buccal", "its anchor is a molar, and has the cheek"},
		{canine.ActiveMember().CoupleXWord(-1), "labial crown torque", "about −x the crown goes to −y"},
		{canine.AnchorMember().CoupleXWord(-1), "buccal crown torque", "the same on the molar"},
		{canine.AnchorMember().CoupleXWord(1), "palatal crown torque", "the inner side is palatal for both"},
		{Pair{43, 45}.ActiveMember().LoadName(ForceY, -1), "buccal force", "a premolar: lower right, x distally, −y is outwards"},
		{Pair{43, 45}.AnchorMember().LoadName(ForceY, -1), "labial force", "the canine that holds it"},
		{canine.OutwardWord(), "outward", "no word holds for both"},
		{Pair{36, 37}.OutwardWord(), "buccal", "both are molars"},
		{Pair{13, 12}.OutwardWord(), "labial", "both are front teeth"},
		{p.ForceZWord(1), "intrusive", "+z is apical"},
		{p.ForceZWord(-1), "extrusive", "−z is occlusal"},
	} {
		if test.got != test.want {
			t.Errorf("%q, want %q: %s", test.got, test.want, test.reason)
		}
	}
}

func TestNumbers(t *testing.T) {
	t.Parallel()
	for n, want := range map[Number]string{
		11: "upper right central incisor", 23: "upper left canine", 37: "lower left second molar",
		44: "lower right first premolar", 48: "lower right third molar",
	} {
		if got := n.Name(); got != want || !n.Valid() {
			t.Errorf("%d is %q (valid %v), want %q", n, got, n.Valid(), want)
		}
	}
	valid := 0
	for n := Number(-50); n < 200; n++ {
		if n.Valid() {
			valid++
			if n.Molar() && n.Incisor() {
				t.Errorf("%d is both", n)
			}
		} else if !strings.HasSuffix(n.Name(), fmt.Sprint(int(n))) {
			t.Errorf("%d, which is no tooth, is called %q", n, n.Name())
		}
	}
	if valid != 32 {
		t.Errorf("%d teeth, want 32", valid)
	}
	if !(Pair{36, 37}).SameQuadrant() || (Pair{36, 46}).SameQuadrant() {
		t.Error("quadrants are told apart wrongly")
	}
}
