package casefile_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

const testdata = "../../testdata"

func readSpring(t *testing.T, path string) spring.Spring {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := casefile.ReadSpring(path, data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSampleSpringsRead(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(testdata, "springs", "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no sample springs: %v", err)
	}
	for _, f := range files {
		if s := readSpring(t, f); s.Path.WireLengthMM() <= 0 {
			t.Errorf("%s has no wire", f)
		}
	}
}

// TestPassiveEndOfSolidSprings holds the path, its signs and the seats of spring files
// against the meshes of a general finite-element program (see source in the file).
func TestPassiveEndOfSolidSprings(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join(testdata, "solid", "solid3d.json"))
	if err != nil {
		t.Fatal(err)
	}
	var reference struct {
		Springs []struct {
			Name         string
			PassiveEnd   [3]float64    `json:"passive_end_mm"`
			Frame        [3][3]float64 `json:"passive_frame_rows"`
			Displacement [3]float64    `json:"displacement_mm"`
			Rotation     [3]float64    `json:"rotation_vector_deg"`
		}
	}
	if err := json.Unmarshal(data, &reference); err != nil {
		t.Fatal(err)
	}
	const tolerance = 2e-9 // the reference is written with 9 decimals
	vec := func(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }
	column := func(rows [3][3]float64, i int) r3.Vec { return r3.Vec{X: rows[0][i], Y: rows[1][i], Z: rows[2][i]} }
	for _, e := range reference.Springs {
		s := readSpring(t, filepath.Join(testdata, "solid", e.Name+".toml"))
		passive := beam.Pose{At: vec(e.PassiveEnd), D1: column(e.Frame, 0), D2: column(e.Frame, 1), D3: column(e.Frame, 2)}
		loaded := passive.Turned(r3.Scale(math.Pi/180, vec(e.Rotation)))
		loaded.At = r3.Add(passive.At, vec(e.Displacement))
		for _, p := range []struct {
			what      string
			got, want beam.Pose
		}{
			{"unloaded wire", s.Rod().UnloadedEnd(beam.Origin()), passive},
			{"end", s.End.Pose(s.Heading), passive},
			{"start", s.Start.Pose(s.Heading), loaded},
		} {
			off := max(r3.Norm(r3.Sub(p.got.At, p.want.At)), r3.Norm(r3.Sub(p.got.D1, p.want.D1)),
				r3.Norm(r3.Sub(p.got.D2, p.want.D2)), r3.Norm(r3.Sub(p.got.D3, p.want.D3)))
			if off > tolerance {
				t.Errorf("%s, %s: off by %.1e, pose %+v", e.Name, p.what, off, p.got)
			}
		}
	}
}
