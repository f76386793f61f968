package casefile_test

import (
	"math"
	"os"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// The files in testdata/first are the first that the program ever wrote about: keys are only
// added, so they must be read for as long as there is a program. They are never brought up to date.
func TestFirstFilesAreStillRead(t *testing.T) {
	t.Parallel()
	read := func(name string) []byte {
		data, err := os.ReadFile("testdata/first/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	c, err := casefile.ReadCase("case.toml", read("case.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if c.Code != "demo-37" || c.Teeth != (tooth.Pair{Anchor: 36, Active: 37}) || c.Now.At(tooth.ForceX) != 12.5 || c.Now.At(tooth.ForceZ) != -2 || c.Goal.At(tooth.ForceZ) != 0 || c.Limits.FoldDepthMM != 8 {
		t.Errorf("the case is read as %+v", c)
	}
	s, err := casefile.ReadSpring("spring.toml", read("spring.toml"))
	if err != nil {
		t.Fatal(err)
	}
	steps := s.Path.Steps()
	if len(steps) != 5 || steps[3].Kind != spring.Twist || math.Abs(steps[3].AngleRad-15*math.Pi/180) > 1e-12 || s.Wire.HeightMM() != 0.4318 || s.Positions != 3 {
		t.Errorf("the spring is read as %+v", s)
	}
}
