package design_test

import (
	"strings"
	"testing"

	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// A spring fits the case that it is made for, rounded by a hand or not; else it is said which
// quantity differs, with both values.
func TestMisfitsNameTheQuantity(t *testing.T) {
	t.Parallel()
	c := designtest.LoopCase()
	own := c.SpringFor(spring.PathOf(spring.StraightStep(12)))
	for _, tt := range []struct {
		name   string
		change func(*spring.Spring)
		want   string // of the one misfit; "": none
	}{
		{"itself", func(*spring.Spring) {}, ""},
		{"rounded", func(s *spring.Spring) { s.Start.AtMM.Z += 0.009; s.End.Rotation.X -= 0.0009 }, ""},
		{"torque", func(s *spring.Spring) { s.End.Rotation.X += 0.1 }, "torque at the end is 5.73°, that of the case 0.00°"},
		{"tip", func(s *spring.Spring) { s.Start.Rotation.Y -= 0.1 }, "tip at the start is "},
		{"rotation", func(s *spring.Spring) { s.Start.Rotation.Z += 0.1 }, "rotation at the start is "},
		{"side", func(s *spring.Spring) { s.End.AtMM.Y += 0.5 }, "entry into the active slot across the arch (y) at the end is 0.50 mm, that of the case 0.00 mm"},
		{"height", func(s *spring.Spring) { s.End.AtMM.Z += 0.011 }, "entry into the active slot in height (z) at the end is 0.01 mm, that of the case 0.00 mm"},
		{"hardly below 0", func(s *spring.Spring) { s.Start.AtMM.Y = 0.012; c.Now.CentreMM.Y = -0.001 }, "entry into the active slot across the arch (y) at the start is 0.01 mm, that of the case 0.00 mm"},
		{"tube", func(s *spring.Spring) { s.ActiveSlotLengthMM++ }, "length of the active slot is "},
	} {
		c = designtest.LoopCase()
		s := own
		tt.change(&s)
		got := c.Misfits(s)
		switch {
		case tt.want == "" && len(got) != 0, tt.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0], tt.want)):
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		case tt.want == "":
		default:
			own, of, _ := strings.Cut(got[0], ", that of the case ")
			if strings.HasSuffix(own, " "+of) {
				t.Errorf("%s: both values read the same: %q", tt.name, got[0])
			}
		}
	}
}

// What is beside the plane seen from the cheek has a side; what lies in it has none.
func TestOneSided(t *testing.T) {
	t.Parallel()
	flat := spring.Spring{Path: spring.PathOf(spring.StraightStep(3), spring.BendStep(0.5, 1), spring.StraightStep(3)), Start: spring.Seat{AtMM: r3.Vec{X: 6, Z: 1}, Rotation: r3.Vec{Y: 0.1}}}
	if flat.OneSided() {
		t.Error("a flat spring has a side")
	}
	for name, change := range map[string]func(*spring.Spring){
		"twist": func(s *spring.Spring) {
			s.Path = spring.PathOf(append(s.Path.Steps(), spring.Step{Kind: spring.Twist, AngleRad: 0.2, LengthMM: 2})...)
		},
		"bend": func(s *spring.Spring) {
			s.Path = spring.PathOf(append(s.Path.Steps(), spring.Step{Kind: spring.Bend, AngleRad: 0.2, RadiusMM: 2, Order: 1})...)
		},
		"place":    func(s *spring.Spring) { s.End.AtMM.Y = 0.1 },
		"torque":   func(s *spring.Spring) { s.Start.Rotation.X = 0.1 },
		"rotation": func(s *spring.Spring) { s.End.Rotation.Z = 0.1 },
	} {
		s := flat
		change(&s)
		if !s.OneSided() {
			t.Errorf("%s: no side", name)
		}
	}
}

// The twin is for the same teeth on the other side; teeth that are not known stay so.
func TestMirroredSpringHasTheOtherTeeth(t *testing.T) {
	t.Parallel()
	s := designtest.LoopCase().SpringFor(spring.PathOf(spring.StraightStep(3)))
	if s.Teeth != designtest.LoopCase().Teeth || s.Teeth == (tooth.Pair{}) {
		t.Fatalf("teeth %v, want those of the case", s.Teeth)
	}
	if twin := s.Mirrored().Teeth; twin != s.Teeth.Mirrored() {
		t.Errorf("the twin of %v is for %v", s.Teeth, twin)
	}
	s.Teeth = tooth.Pair{}
	if twin := s.Mirrored().Teeth; twin != (tooth.Pair{}) {
		t.Errorf("the twin of nobody's teeth is for %v", twin)
	}
}
