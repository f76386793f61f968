package optimize

import (
	"context"
	"errors"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/wire"

	"github.com/google/go-cmp/cmp"
)

// withDrawer is a case whose own wire cannot do its job, and may be replaced by another one.
func withDrawer(t *testing.T) design.Case {
	t.Helper()
	c := demoCase(t)
	c.Bender.Springs = 0
	soft := wire.Stock{Alloy: "beta-titanium", Size: wire.Size{ThicknessMil: 16, WidthMil: 22}}.Wire()
	c = c.WithWire(wire.Stock{Alloy: "stainless steel", Size: wire.Size{ThicknessMil: 19, WidthMil: 25}}.Wire())
	c.Choice.OtherWires = []wire.Wire{soft}
	return c
}

// The search takes the wire that meets the target, says what each gives, and does so on any number
// of cores.
func TestSearchChoosesTheWire(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("whole searches in short mode")
	}
	c := withDrawer(t)
	one, err := SearchChoices(t.Context(), c, Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	soft := notice.NameOf(c.Choice.OtherWires[0])
	if !one.Met() || notice.NameOf(one.Case.Wire) != soft || notice.NameOf(one.Spring.Wire) != soft {
		t.Errorf("met %v with %v", one.Met(), one.Spring.Wire)
	}
	if len(one.Variants) != 2 || one.Variants[0].Met || !one.Variants[1].Met || !one.Variants[1].Searched {
		t.Errorf("variants %+v", one.Variants)
	}
	if v := one.Variants[0]; v.Err == nil && v.Shortfall.None() {
		t.Error("nothing is said of the wire that does not do")
	}
	want := notice.List{notice.WireChosen{Wire: soft, Among: 2}}
	got := slices.DeleteFunc(slices.Clone(one.Evaluation.Record.Chosen), func(n notice.Notice) bool { return n.Kind() == notice.ShapeKind })
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("chosen (-want +got):\n%s", diff)
	}
	three, err := SearchChoices(t.Context(), c, Options{Workers: 3})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(one.Settings, three.Settings); diff != "" {
		t.Errorf("on one and three cores (-one +three):\n%s", diff)
	}
	for i := range one.Variants {
		if one.Variants[i].Share != three.Variants[i].Share || one.Variants[i].Drive != three.Variants[i].Drive {
			t.Errorf("variant %d differs on one and three cores", i)
		}
	}
}

// Without a choice the search is the same as ever.
func TestNothingToChooseIsASearch(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Search.Starts = 3
	c.Bender.Springs = 0
	want, err := Search(t.Context(), c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := SearchChoices(t.Context(), c, Options{})
	if err != nil || len(got.Variants) > 0 {
		t.Fatalf("%d variants, %v", len(got.Variants), err)
	}
	if diff := cmp.Diff(want.Settings, got.Settings); diff != "" {
		t.Errorf("(-search +choices):\n%s", diff)
	}
}

func TestChoicesStopWithTheContext(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := SearchChoices(ctx, withDrawer(t), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	if _, err := Advise(ctx, Chosen{Case: withDrawer(t)}, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("advice: error %v", err)
	}
}

// What is proposed was tried: a whole search of the case with the change meets its target. Room that
// was measured is proposed only where nothing else does.
func TestAdviceWorks(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("whole searches in short mode")
	}
	c := withDrawer(t)
	c.Choice = design.Choice{}
	list, err := Advise(t.Context(), Chosen{Case: c}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wires := 0
	for _, n := range list {
		switch n := n.(type) {
		case notice.WireRelief:
			wires++
			if n.Drive.Start < 0.3 || n.Drive.Start > 0.6 || n.Drive.End < 0.05 {
				t.Errorf("a wire that would do gives %+v", n.Drive)
			}
			changed := c.WithWire(wire.Stock{Alloy: n.Alloy, Size: n.Size}.Wire())
			if r, err := Search(t.Context(), changed, Options{}); err != nil || !r.Met() {
				t.Errorf("%s %v was said to do: met %v, %v", n.Alloy, n.Size, r.Met(), err)
			}
		case notice.LimitRelief:
			if n.Limit.Measured() {
				t.Errorf("%v is proposed beside other ways", n.Limit)
			}
		case notice.HeightRelief, notice.NoRelief:
			t.Errorf("%#v", n)
		}
	}
	if wires != 1 {
		t.Errorf("%d wires among %#v", wires, list)
	}
}

// Wires and kinds that the search has tried are not tried again.
func TestAdviceDoesNotRepeatTheSearch(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	all := len(otherWires(c))
	if all < 3 {
		t.Fatalf("%d wires", all)
	}
	for _, s := range wire.Drawer() {
		c.Choice.OtherWires = append(c.Choice.OtherWires, s.Wire())
	}
	for _, w := range otherWires(c) {
		for _, s := range wire.Drawer() {
			if notice.NameOf(w.cases[0].Wire) == notice.NameOf(s.Wire()) {
				t.Errorf("%v is tried again", s)
			}
		}
	}
	c.Choice.OtherFamilies = []string{design.LLoopName}
	for _, k := range otherKinds(c) {
		if name := k.cases[0].Family; name == design.LLoopName || name == c.Family {
			t.Errorf("a %s is tried again", name)
		}
	}
	if c.Choice.EitherEntry = true; len(otherEntry(c)) > 0 {
		t.Error("the entry is tried again")
	}
}

// Every change that is tried is a sound case.
func TestChangesAreSound(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Heading = spring.Back
	c.Target.Travel.ForceN[0] = target.Within(-0.06, 0.06)
	for _, sort := range [][]change{otherWires(c), otherKinds(c), otherEntry(c), twoVisits(c), limitChanges(c, false), limitChanges(c, true)} {
		if len(sort) == 0 {
			t.Error("a sort of change has nothing to try")
		}
		for _, one := range sort {
			for _, trial := range one.cases {
				if err := trial.Validate(); err != nil {
					t.Errorf("%#v: %v", one.told(notice.Drive{}), err)
				}
			}
		}
	}
}
