package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
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
