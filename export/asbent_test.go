package export

import (
	"errors"
	"math"
	"testing"

	"springwright/design/spring"
)

// testAsBent is a spring of a job that came out a little otherwise, with every kind of correction.
func testAsBent(job Job) AsBent {
	a := AsBent{Frame: job.Frame, Case: job.Case, Drawn: job.Spring, Bent: job.Spring, Chance: 0.26, HasTarget: true}
	steps := job.Spring.Path.Steps()
	var bends, straights []int
	for i := range steps {
		if steps[i].Kind == spring.Straight {
			steps[i].LengthMM += 0.2
			straights = append(straights, i)
		} else {
			steps[i].AngleRad *= 1.02
			bends = append(bends, i)
		}
	}
	a.Bent.Path = spring.PathOf(steps...)
	last := straights[len(straights)-1]
	a.Ways = []BentWay{
		{Changes: []BentChange{{Step: bends[0], ByRad: 3 * degree}}, Chance: 0.84},
		{Changes: []BentChange{{Step: bends[1], ByRad: -2 * degree}, {Step: straights[1], Fresh: true, ByRad: 4 * degree}}, Chance: 0.92},
		{Changes: []BentChange{{Step: straights[0], Fresh: true, ByRad: -4 * degree}, {Step: last, Fresh: true, ByRad: 4 * degree}}, Chance: 0.93},
	}
	return a
}

// The sheet says what to correct, the wire is drawn at true size twice, and the sheet is the same each time.
func TestAsBentSheet(t *testing.T) {
	t.Parallel()
	a := testAsBent(testJob())
	doc, err := a.compose()
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range [...]string{
		"Of 100 springs that it may be 26 meet the target as bent.",
		"close bend 1 by 3° more, in the direction of its last bend", "open bend 2 by 2°, against the direction of its last bend",
		"Then 84 of 100 meet it.", "3:1",
	} {
		if !doc.Says(text) {
			t.Errorf("the sheet does not say %q", text)
		}
	}
	one, _, err := AsBentSheets(a)
	if err != nil {
		t.Fatal(err)
	}
	if again, _, err := AsBentSheets(a); err != nil || string(again) != string(one) {
		t.Errorf("drawn again it differs, %v", err)
	}
}

// What cannot be drawn is refused, all at once.
func TestAsBentFaults(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*AsBent){
		"no teeth":        func(a *AsBent) { a.Case.Teeth.Active = 0 },
		"steps lost":      func(a *AsBent) { a.Bent.Path = spring.PathOf(spring.StraightStep(3)) },
		"no wire":         func(a *AsBent) { a.Drawn.Path = spring.Path{} },
		"not finite":      func(a *AsBent) { a.Bent.Start.AtMM.X = math.NaN() },
		"no such step":    func(a *AsBent) { a.Ways[0].Changes[0].Step = 99 },
		"bend as fresh":   func(a *AsBent) { a.Ways[0].Changes[0].Fresh = true },
		"angle not known": func(a *AsBent) { a.Ways[0].Changes[0].ByRad = math.NaN() },
	} {
		a := testAsBent(testJob())
		change(&a)
		if _, _, err := AsBentSheets(a); !errors.Is(err, ErrJob) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
