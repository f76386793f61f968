package classroom

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/design/photo"
	"springwright/design/photo/phototest"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/optimize/hand"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// testClass is a class of three about the demo, whose springs were found once.
func testClass(t testing.TB) course.Class {
	t.Helper()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	c.Heading = spring.Back
	class := course.Class{Case: c, Tag: 0x123, Bands: course.UsualBands()}
	for i, one := range [...]struct {
		alongMM, occlusalMM float64
		steps               string
	}{
		{13, 1, "1.5 10 4 85 3 -104 9 -85 1 -100 2 20 1"},
		{14.5, 1, "1.5 23 6.5 78 2 -113 7.5 -78 1 -90 1.5 10 1"},
		{13.5, 1.75, "1 22 6 84 1.5 -108 7 -75 2.5 -108 1 13 1"},
	} {
		c := c
		c.Now.CentreMM, c.Goal.CentreMM = r3.Vec{X: one.alongMM, Z: -one.occlusalMM}, r3.Vec{X: one.alongMM}
		steps := phototest.Steps(one.steps)
		for k := range steps {
			if steps[k].Kind != spring.Straight {
				steps[k].RadiusMM = c.Limits.BendRadiusMM
			}
		}
		s := course.Student{Number: i + 1, Case: c, Spring: c.SeatedSpring(spring.PathOf(steps...))}
		s.Case.Code = codeOf(c.Code, s.Number)
		if s.Evaluation, err = solve.Evaluate(t.Context(), s.Spring, solve.Options{AllowYield: true}); err != nil && !errors.Is(err, solve.ErrYield) {
			t.Fatal(err)
		}
		if s.Answer, err = course.AnswerOf(t.Context(), s.Case, s.Spring, s.Evaluation); err != nil {
			t.Fatal(err)
		}
		class.Students = append(class.Students, s)
	}
	return class
}

// bentBy is a student's spring as a student's hand bends it.
func bentBy(s course.Student, seed uint64) spring.Steps {
	c := s.Case
	c.Bender = StudentHand(c.Bender)
	c.Bender.Checks = false
	h := hand.New(c, s.Spring)
	noise := rand.New(rand.NewPCG(seed, uint64(s.Number)))
	z := make([]float64, h.Sources())
	for i := range z {
		z[i] = noise.NormFloat64()
	}
	return h.CameOut(z).Steps
}

// truth is the grade of what was really bent; legs are the first and the last straight, which pictures do not show.
func truth(s course.Student, bent spring.Steps, bands course.Bands, legs bool) (grade string, rad, mm float64) {
	for i, d := range s.Spring.Path.Steps() {
		switch {
		case d.Kind != spring.Straight:
			rad = math.Max(rad, math.Abs(bent[i].AngleRad-d.AngleRad))
		case legs || i > 0 && i < len(bent)-1:
			mm = math.Max(mm, math.Abs(bent[i].LengthMM-d.LengthMM))
		}
	}
	return bands.Grade(rad, mm, true), rad, mm
}

// A class that bends with the errors of students' hands gets from a table the grades that it earned, and each
// spring's loads are those of the spring that was bent.
func TestGradesOfATableMatchTheTruth(t *testing.T) {
	t.Parallel()
	class := testClass(t)
	sheets := []casefile.ClassSheet{}
	table := "student"
	for _, k := range casefile.StepKeys(class.Students[0].Spring.Path) {
		table += "," + k
	}
	var all []spring.Steps
	for _, s := range class.Students {
		sheets = append(sheets, casefile.ClassSheet{Code: s.Code(), Spring: s.Spring, Bender: s.Case.Bender})
		bent := bentBy(s, 5)
		all = append(all, bent)
		table += "\n" + s.Code()
		for i, d := range s.Spring.Path.Steps() {
			v := bent[i].LengthMM
			if d.Kind != spring.Straight {
				v = bent[i].AngleRad / degree * math.Copysign(1, d.AngleRad)
			}
			table += fmt.Sprintf(",%.6f", v)
		}
	}
	table += "\nnobody,1\n"
	readings, err := casefile.ReadClassMeasured("r.csv", []byte(table), sheets)
	if err != nil {
		t.Fatal(err)
	}
	marks, err := Marker{Class: class, Bands: class.Bands}.Table(t.Context(), "r.csv", readings)
	if err != nil {
		t.Fatal(err)
	}
	if len(marks.Marks) != 3 || len(marks.NotRead) != 1 || !errors.Is(marks.NotRead[0].Err, course.BadNumbers) || len(marks.Missing) > 0 {
		t.Fatalf("%d marks, %+v, missing %v", len(marks.Marks), marks.NotRead, marks.Missing)
	}
	grades := map[string]bool{}
	for i, m := range marks.Marks {
		want, rad, mm := truth(m.Student, all[i], class.Bands, true)
		gotRad, gotMM := m.Worst()
		grades[m.Grade] = true
		if m.Grade != want || math.Abs(gotRad-rad) > 1e-6 || math.Abs(gotMM-mm) > 1e-5 { // six decimals in the table
			t.Errorf("%s: grade %s, off by %.2f° and %.2f mm; want %s, %.2f° and %.2f mm", m.Student.Code(), m.Grade, gotRad/degree, gotMM, want, rad/degree, mm)
		}
		if m.Report == nil && m.NotReckoned == nil {
			t.Errorf("%s: nothing is told of its loads", m.Student.Code())
		}
	}
	total := 0
	for _, n := range marks.Tallies() {
		total += n.Worst
	}
	if total != 2*len(marks.Marks) {
		t.Errorf("%d worst steps, want a bend and a straight of each", total)
	}
}

// The same from pictures; and what cannot be read stops no other.
func TestGradesOfPicturesMatchTheTruth(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("draws and reads pictures of four million pixels")
	}
	class := testClass(t)
	card := phototest.Card(28) // about 700 dots to the inch
	folder := fstest.MapFS{}
	view := phototest.View{Width: 2000, Height: 1400, Fill: 0.85, DistanceMM: 200, Paper: 225, Ink: 40, NoiseSD: 2, BlurPx: 1, Seed: 1, JPEG: 80}
	picture := func(s course.Student, owner photo.Owner, steps spring.Steps) []byte {
		bent := phototest.Bent{Steps: steps, LegsMM: [2]float64{5, 4}}
		middle, laid := bent.Laid(rand.New(rand.NewPCG(1, uint64(s.Number))), false, 1.2)
		if !laid {
			t.Fatal("the spring does not fit on the card")
		}
		wire := card.Like()
		wire.Line(middle, s.Spring.Wire.HeightMM())
		return view.Encode(phototest.Picture(card.Strip(owner), phototest.Thing{Wire: wire, WireTone: 70, Glare: card.Like(), GlareTone: 225}, view))
	}
	one, two, three := class.Students[0], class.Students[1], class.Students[2]
	bent := []spring.Steps{bentBy(one, 8), bentBy(two, 8)}
	folder["a.jpg"] = &fstest.MapFile{Data: picture(one, class.Owner(one), bent[0])}
	folder["b.jpg"] = &fstest.MapFile{Data: []byte("no picture")}
	folder["c.jpg"] = &fstest.MapFile{Data: picture(three, photo.Owner{Class: 0x124, Student: 3}, three.Spring.Path.Steps())}
	folder["d.jpg"] = folder["a.jpg"]
	folder[two.Code()+".jpg"] = &fstest.MapFile{Data: picture(two, photo.Owner{}, bent[1])} // a card without a strip
	folder["e.jpg"] = folder[two.Code()+".jpg"]
	folder["f.jpg"] = &fstest.MapFile{Data: picture(three, photo.Owner{Class: class.Tag, Student: 200}, three.Spring.Path.Steps())}
	names := []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", two.Code() + ".jpg", "e.jpg", "f.jpg"}
	marks, err := Marker{Class: class, Bands: class.Bands}.Pictures(t.Context(), folder, names)
	if err != nil {
		t.Fatal(err)
	}
	var reasons []string
	for _, n := range marks.NotRead {
		reason, _ := casefile.ReasonOf(n.Err)
		reasons = append(reasons, n.Source+": "+strings.Split(reason, ":")[0])
	}
	want := []string{
		"b.jpg: " + photo.NoPicture.String(), "c.jpg: " + course.OtherClass.Error(), "d.jpg: " + strings.Split(course.Twice.Error(), ":")[0],
		"e.jpg: " + strings.Split(course.NoOwner.Error(), ":")[0], "f.jpg: " + course.NoStudent.Error(),
	}
	if diff := cmp.Diff(want, reasons); diff != "" {
		t.Errorf("what was not read (-want +got):\n%s", diff)
	}
	if len(marks.Marks) != 2 || len(marks.Missing) != 1 || marks.Missing[0] != three.Code() {
		t.Fatalf("%d marks, missing %v", len(marks.Marks), marks.Missing)
	}
	for i, m := range marks.Marks {
		grade, rad, mm := truth(m.Student, bent[i], class.Bands, false)
		gotRad, gotMM := m.Worst()
		// What is wanted of a picture: 0.4° and 0.08 mm.
		if m.Grade != grade || math.Abs(gotRad-rad) > 0.4*degree || math.Abs(gotMM-mm) > 0.08 {
			t.Errorf("%s: grade %s, off by %.2f° and %.2f mm; want %s, %.2f° and %.2f mm", m.Student.Code(), m.Grade, gotRad/degree, gotMM, grade, rad/degree, mm)
		}
	}
}

// A spring bent exactly over a neighbour's sheet gets no grade that passes, one bent over its own the best.
func TestANeighboursSheetFails(t *testing.T) {
	t.Parallel()
	class := testClass(t)
	for _, own := range class.Students {
		for _, copied := range class.Students {
			var readings []spring.StepReading
			for i, s := range copied.Spring.Path.Steps() {
				v := s.LengthMM
				if s.Kind != spring.Straight {
					v = s.AngleRad
				}
				readings = append(readings, spring.StepReading{Step: i, Value: v})
			}
			got := course.Measure(own, "", readings).Graded(class.Bands).Grade
			apart := course.ApartOf(own.Spring.Path, copied.Spring.Path, class.Bands)
			if want := "A"; own.Number == copied.Number && (got != want || apart.Enough()) {
				t.Errorf("%d over its own sheet: %s, want %s", own.Number, got, want)
			} else if own.Number != copied.Number && (got != class.Bands.Below || !apart.Enough()) {
				t.Errorf("%d over the sheet of %d: %s, %+v", own.Number, copied.Number, got, apart)
			}
		}
	}
}

// The answers hold by statics and by solving the changed spring.
func TestAnswers(t *testing.T) {
	t.Parallel()
	for _, s := range testClass(t).Students {
		a := s.Answer
		force, moment := a.Balance()
		for _, v := range [...]float64{force.X, force.Y, force.Z, moment.X, moment.Y, moment.Z} {
			if math.Abs(v) > 1e-7 { // as the solver holds balance
				t.Errorf("%s: together %v N, %v N·mm", s.Code(), force, moment)
			}
		}
		if !a.HasNothing || a.Class == 0 || !a.Seated || a.Bend != 3 {
			t.Fatalf("%+v", a)
		}
		// The force alone, at that place, does to the active tooth what the spring does.
		share := a.NothingMM / a.ArmMM.X
		x, z := (share-1)*a.ArmMM.X, (share-1)*a.ArmMM.Z
		if got := z*a.Active.ForceN.X - x*a.Active.ForceN.Z; math.Abs(got-a.Active.CoupleNMM.Y) > 1e-9 {
			t.Errorf("%s: the force at %.2f mm turns by %v N·mm, the spring by %v", s.Code(), a.NothingMM, got, a.Active.CoupleNMM.Y)
		}
		changed := s.Spring
		steps := changed.Path.Steps()
		steps[5].AngleRad -= 5 * degree // the third bend, bent to the right
		changed.Path = spring.PathOf(steps...)
		e, err := solve.Evaluate(t.Context(), changed, solve.Options{AllowYield: true})
		if err != nil && !errors.Is(err, solve.ErrYield) {
			t.Fatal(err)
		}
		if diff := cmp.Diff(e.Record.Positions[0].Active, a.WhatIf[0]); diff != "" {
			t.Errorf("%s, bend 3 more (-want +got):\n%s", s.Code(), diff)
		}
	}
}

// A class is the same on any number of workers: every sheet as hard as the others, and unlike them.
func TestMakeOnAnyNumberOfWorkers(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("designs many cases")
	}
	preset, _, err := presets.Case("l-loop") // of which a spring is found and bent in trial in half a second, made quick
	if err != nil {
		t.Fatal(err)
	}
	text := []byte(strings.NewReplacer("\n[anchor_slot]\n", "\n[anchor_slot]\nhold = \"tied\"\n", "\n[active_slot]\n", "\n[active_slot]\nhold = \"tied\"\n",
		"\nstarts = 0", "\nstarts = 1", "\nsprings = 1000", "\nsprings = 60", "\npositions = 5", "\npositions = 2").Replace(string(preset)))
	var written [][]byte
	for _, workers := range [...]int{1, 3} {
		class, err := Make(t.Context(), Course{File: "l-loop", Text: text, Students: 2, Seed: 1, Bands: course.UsualBands(), Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		data, err := casefile.WriteClass(casefile.Origin{Program: "test"}, class)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range class.Students {
			data = append(append(data, s.CaseText...), casefile.WriteSpring(s.Spring)...)
			read, err := casefile.ReadCase("c", s.CaseText)
			if err != nil || read.Code != codeOf(class.Case.Code, i+1) || len(read.Misses(s.Evaluation.Record)) > 0 || !s.Hardness.AsHardAs(class.Hardness) {
				t.Errorf("student %d: code %q, %+v beside %+v (%v)", i+1, read.Code, s.Hardness, class.Hardness, err)
			}
		}
		if !class.LeastApart.Enough() {
			t.Errorf("the sheets are too like: %+v", class.LeastApart)
		}
		written = append(written, data)
	}
	if !bytes.Equal(written[0], written[1]) {
		t.Errorf("one worker and three make different classes:\n%s", cmp.Diff(string(written[0]), string(written[1])))
	}
}

// What no class can be made of is refused before anything is searched.
func TestMakeRefuses(t *testing.T) {
	t.Parallel()
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	free, err := casefile.Edit(text, casefile.Entry{Key: "spring"}, casefile.Entry{Key: "spring_file", Value: `"own.toml"`})
	if err != nil {
		t.Fatal(err)
	}
	usual := course.UsualBands()
	for name, o := range map[string]Course{
		"no student":   {Text: text, Bands: usual},
		"a multitude":  {Text: text, Students: 10000, Bands: usual},
		"no bands":     {Text: text, Students: 2},
		"no case":      {Text: []byte("case = 3"), Students: 2, Bands: usual},
		"its own path": {Text: free, Students: 2, Bands: usual},
	} {
		if class, err := Make(t.Context(), o); err == nil || len(class.Students) > 0 {
			t.Errorf("%s: %v, %d students", name, err, len(class.Students))
		}
	}
}

// The variant of a number is always the same, its code has room, and whatever it varies is still a case.
func TestVariantsAreCases(t *testing.T) {
	t.Parallel()
	for _, name := range presets.Names() {
		text, base, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		valid := 0
		for number := range 20 {
			one, err := variant(text, codeOf(strings.Repeat("x", 40), 199), 3, number)
			if err != nil {
				t.Fatalf("%s, %d: %v", name, number, err)
			}
			if again, _ := variant(text, codeOf(strings.Repeat("x", 40), 199), 3, number); !bytes.Equal(one, again) {
				t.Fatalf("%s, %d: differs from itself", name, number)
			}
			c, err := casefile.ReadCase("v", one)
			if err != nil {
				continue
			}
			valid++
			if c.Now.CentreMM.X*base.Now.CentreMM.X <= 0 || c.Now.CentreMM.Z*base.Now.CentreMM.Z < 0 {
				t.Errorf("%s, %d: the slot stands at %v, before at %v", name, number, c.Now.CentreMM, base.Now.CentreMM)
			}
		}
		if valid < 10 {
			t.Errorf("%s: %d of 20 variants are cases", name, valid)
		}
	}
}
