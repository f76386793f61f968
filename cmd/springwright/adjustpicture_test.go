package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/photo"
	"springwright/design/photo/phototest"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// A picture of a bent spring tells what came out, to what it says that it is off by.
func TestAdjustReadsAPicture(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("draws and reads a picture of four million pixels")
	}
	trial := phototest.Random(0, 2400)
	for i := 1; trial.Name != "rectangular loop"; i++ {
		trial = phototest.Random(i, 2400)
	}
	const cardPxPerMM = 28 // about 700 dots to the inch
	card := phototest.Card(cardPxPerMM)
	trial.Draw(card, nil)
	s := spring.Spring{
		Title: "drawn", Teeth: tooth.Pair{Anchor: 36, Active: 37}, Path: spring.PathOf(trial.Drawn...), Heading: spring.Back, Positions: 2,
		Wire:               wire.Wire{Alloy: "beta-titanium", EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: phototest.WireMM, WidthMM: 0.635},
		AnchorSlotLengthMM: 3, ActiveSlotLengthMM: 1,
	}
	end := s.Rod().UnloadedEnd(beam.Origin()).At
	s.Start, s.End = spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: 0.6})}, spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: 0.1})}
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	file := write("spring.toml", casefile.WriteSpring(s))
	picture := write("picture.jpg", trial.View.Encode(phototest.Picture(card, trial.Thing, trial.View)))
	var out, messages bytes.Buffer
	if code := run(t.Context(), []string{"adjust", file, "--picture", picture, "--springs", "10", "--json"}, console{stdout: &out, stderr: &messages}); code != exitDone {
		t.Fatalf("exit code %d:\n%s", code, messages.String())
	}
	var told struct {
		Steps []struct {
			Name      string
			Value, SD float64
			Measured  bool
		}
	}
	if err := json.Unmarshal(out.Bytes(), &told); err != nil {
		t.Fatal(err)
	}
	read := 0
	for i, step := range told.Steps {
		bent := trial.Bent.Steps[i]
		want := bent.LengthMM
		if bent.Kind != spring.Straight {
			want = quantity.Degree.Outside(bent.AngleRad)
		}
		if !step.Measured {
			continue
		}
		read++
		// What is wanted of a picture, 0.4° and 0.08 mm, half as much again by what the prior adds.
		limit := 0.6
		if bent.Kind == spring.Straight {
			limit = 0.12
		}
		if math.Abs(step.Value-want) > limit {
			t.Errorf("%s is told as %.2f, it came out as %.2f", step.Name, step.Value, want)
		}
	}
	if read != len(told.Steps)-2 { // all but the two straights that run into the legs
		t.Errorf("%d of %d steps were read", read, len(told.Steps))
	}
}

// What a picture does not tell well enough is not taken for measured, and the user is told which it is.
func TestPictureLeavesToTheHand(t *testing.T) {
	t.Parallel()
	o := photo.Outline{
		Straights: []photo.Straight{{Step: 0, Leg: true}, {Step: 2, LengthMM: 5, SEMM: 0.02}, {Step: 4, LengthMM: 7, SEMM: 0.6, ByHand: true}, {Step: 6, Leg: true}},
		Bends:     []photo.Bend{{Step: 1, Number: 1, AngleRad: 1, SERad: 0.001}, {Step: 3, Number: 2, AngleRad: 0.1, SERad: 0.05, ByHand: true}, {Step: 5, Number: 3, AngleRad: -1, SERad: 0.001}},
	}
	var taken []int
	for _, r := range o.Readings() {
		taken = append(taken, r.Step)
	}
	if want := []int{2, 1, 5}; !slices.Equal(taken, want) {
		t.Errorf("steps %v are taken, want %v", taken, want)
	}
	for _, test := range []struct {
		note photo.Note
		want string
	}{
		{photo.Note{Kind: photo.BendsByHand, Values: []float64{2}}, "how far these are bent, bend 2: measure that by hand"},
		{photo.Note{Kind: photo.StraightsByHand, Values: []float64{1, 2, 4}}, "the straight is behind bend 1, 2 and 4: measure that by hand"},
	} {
		if got := english().PictureNote(test.note); !strings.Contains(got, test.want) {
			t.Errorf("note %q, want %q in it", got, test.want)
		}
	}
}
