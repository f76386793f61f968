package design_test

import (
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/wire"
	"springwright/presets"

	"gonum.org/v1/gonum/spatial/r3"
)

// Every preset names the kind that its task suits, or one that is tried beside it.
func TestSuitedKinds(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]struct {
		task     notice.Task
		families string
	}{
		presets.Demo:           {notice.OtherTask, design.RectangularLoopName},
		"t-loop":               {notice.SpaceClosed, design.TLoopName + ", " + design.ClosedVerticalLoopName},
		"closed-vertical-loop": {notice.SpaceClosed, design.TLoopName + ", " + design.ClosedVerticalLoopName},
		"root-torque":          {notice.RootAlone, design.RootSpringName},
		"cantilever":           {notice.PointForce, design.CantileverName + ", " + design.CantileverWithHelixName},
		"incisor-intrusion":    {notice.IncisorsIntruded, design.IntrusionArchName + ", " + design.CantileverName},
	} {
		_, c := presetCase(t, name)
		got := c.WithSuitedKind()
		families := strings.Join(append([]string{got.Family}, got.Choice.OtherFamilies...), ", ")
		if got.Choice.Task != want.task || families != want.families {
			t.Errorf("%s: %v, %s; want %v, %s", name, got.Choice.Task, families, want.task, want.families)
		}
		if err := got.Validate(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, c := presetCase(t, "t-loop")
	c.Now, c.Goal = c.Goal, c.Now
	if got := c.WithSuitedKind(); got.Choice.Task != notice.SpaceOpened || got.Family != design.OpenVerticalLoopName {
		t.Errorf("opening a space: %v, %s", got.Choice.Task, got.Family)
	}
	// The way in that is asked for goes before the task: only one kind enters from behind.
	c.Heading = spring.Back
	if got := c.WithSuitedKind(); got.Family != design.RectangularLoopName {
		t.Errorf("from behind: %s", got.Family)
	}
	// A turn with a force that is wanted is no turn of the root alone.
	_, c = presetCase(t, "root-torque")
	c.Target.Travel.ForceN[0] = target.Within(0.2, 0.5)
	if got := c.WithSuitedKind(); got.Choice.Task != notice.OtherTask {
		t.Errorf("a turn and a force: %v", got.Choice.Task)
	}
}

func TestVariantsAreEveryWireKindAndEntry(t *testing.T) {
	t.Parallel()
	_, c := presetCase(t, presets.Demo)
	if all := c.Variants(); len(all) != 1 || all[0].Family != c.Family || all[0].Heading != c.Heading {
		t.Errorf("nothing to choose: %d variants", len(all))
	}
	thin := wire.Drawer()[0].Wire()
	c.Heading = spring.On
	c.Choice = design.Choice{OtherWires: []wire.Wire{thin}, OtherFamilies: []string{design.LLoopName}, EitherEntry: true}
	var got []string
	for _, v := range c.Variants() {
		if len(v.Choice.OtherWires) > 0 || len(v.Choice.OtherFamilies) > 0 || v.Choice.EitherEntry {
			t.Error("a variant has a choice")
		}
		if inside := v.Limits.BendRadiusMM - v.Wire.HeightMM()/2; inside < 0.75-1e-9 || inside > 0.75+1e-9 {
			t.Errorf("pliers of %v mm", inside)
		}
		size := "thick"
		if v.Wire == thin {
			size = "thin"
		}
		got = append(got, size+" "+v.Family+" "+v.Heading.String())
	}
	want := []string{
		"thick rectangular loop on", "thick rectangular loop back", "thick L-loop on",
		"thin rectangular loop on", "thin rectangular loop back", "thin L-loop on",
	}
	if !slices.Equal(got, want) {
		t.Errorf("variants %q, want %q", got, want)
	}
}

// The reason of a choice stays with the case on the other side of the mouth.
func TestChoiceIsTheSameOnBothSides(t *testing.T) {
	t.Parallel()
	_, c := presetCase(t, presets.Demo)
	c.Heading = spring.On
	c.Goal.CentreMM = r3.Add(c.Now.CentreMM, r3.Vec{X: -2})
	a, b := c.WithSuitedKind(), c.Mirrored().WithSuitedKind()
	if a.Family != b.Family || a.Choice.Task != b.Choice.Task || a.Family != design.TLoopName {
		t.Errorf("%s and %s", a.Family, b.Family)
	}
}

func TestValidateRefusesKindsThatDoNotGoTogether(t *testing.T) {
	t.Parallel()
	_, c := presetCase(t, presets.Demo)
	c.Choice.OtherFamilies = []string{design.CantileverName}
	want := []string{`spring: "cantilever" cannot be tried beside a rectangular loop`}
	if got := said(t, c.Validate()); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
