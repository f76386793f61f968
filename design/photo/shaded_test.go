package photo_test

import (
	"bytes"
	"math"
	"os"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"
)

// A shadow lies beside most of the wire, whose side is darker than its upper face: no bend comes out too sharp.
// The picture is drawn by a program of its own, with the wire as a bar on the printed page.
func TestShadowBesideMostOfTheWire(t *testing.T) {
	picture, err := os.ReadFile("testdata/shaded.jpg")
	if err != nil {
		t.Fatal(err)
	}
	o, err := photo.Read(bytes.NewReader(picture), photo.Expect{
		Steps:  phototest.Steps("1.5 11@0.9532 3 90@0.9532 4 -102@0.9532 9 -80@0.9532 3.5 -111@0.9532 2 18@0.9532 1"),
		WireMM: 0.4572, HeightMM: 0.4572, LegsMM: [2]float64{3, 1}, AnchorLeft: true,
	})
	if err != nil {
		t.Fatal(err)
	}
	if !o.TurnedOver {
		t.Error("the spring lies on its other face")
	}
	// As it was drawn.
	for i, want := range [...]float64{12.443, 89.205, -105.816, -77.499, -112.651, 12.481} {
		if off := o.Bends[i].AngleRad/degree - want; math.Abs(off) > math.Max(0.4, 3*o.Bends[i].SERad/degree) {
			t.Errorf("bend %d is off by %.2f°, its standard error is %.2f°", i+1, off, o.Bends[i].SERad/degree)
		}
	}
	for i, want := range [...]float64{3.1626, 4.0292, 8.7987, 3.9596, 2.1013} {
		if off := o.Straights[i+1].LengthMM - want; math.Abs(off) > math.Max(0.08, 3*o.Straights[i+1].SEMM) {
			t.Errorf("straight %d is off by %.3f mm, its standard error is %.3f mm", i+2, off, o.Straights[i+1].SEMM)
		}
	}
}
