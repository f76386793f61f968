package classroom

import (
	"context"
	"errors"
	"fmt"
	"hash/crc32"
	"runtime"
	"sync"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/optimize"
	"springwright/optimize/hand"
)

// triesEach is how many variants are drawn for each student at most, and triesMore beside them (choices: most
// presets take one or two).
const (
	triesEach  = 6
	triesMore  = 20
	sampleMore = 4 // variants beside one for each student that tell how hard one usually is
)

// Course is what a class is made of.
type Course struct {
	File     string // of the case, for its faults
	Text     []byte // of the case
	Students int
	Seed     uint64
	Bands    course.Bands
	Workers  int // 0: one for each core; the class is the same on any number
	// Progress is told of how many students have their variant; may be nil. Called from one goroutine.
	Progress func(done, total int)
}

// TooFew says that a case has not as many variants as the class has students.
type TooFew struct {
	Found, Wanted int
	Tried         course.Tried
}

func (e *TooFew) Error() string {
	return fmt.Sprintf("only %d of %d variants were found: of %d drawn %d miss their target, %d are of another kind, %d harder or easier, %d too like another",
		e.Found, e.Wanted, e.Tried.Drawn, e.Tried.Unmet, e.Tried.OtherKind, e.Tried.OtherHardness, e.Tried.Alike)
}

// ErrNotMet says that the teacher's case itself has no spring that meets its target.
var ErrNotMet = errors.New("no spring meets the target of the case itself")

// ErrHand says that springs of the case cannot be bent in trial, so that nothing tells how hard they are.
var ErrHand = errors.New("springs of this case are not bent in trial: nothing tells how hard they are")

// ErrFreePath says that a case takes its path from a spring file, which a variant would need as well.
var ErrFreePath = errors.New("a case with a spring_file of its own is not varied")

// fate is what became of a variant.
type fate int

const (
	taken fate = iota
	unmet
	otherKind
)

// Make makes a class. Same course, same class. The errors are those of casefile, ErrNotMet, ErrHand, TooFew, and
// those of the search that end all of them.
func Make(ctx context.Context, o Course) (course.Class, error) {
	c, err := casefile.ReadCase(o.File, o.Text)
	if err != nil {
		return course.Class{}, err
	}
	if c.SpringFile != "" {
		return course.Class{}, ErrFreePath
	}
	if o.Students < 1 || o.Students > course.MostStudents {
		return course.Class{}, fmt.Errorf("%d students (allowed: 1 to %d)", o.Students, course.MostStudents)
	}
	if err := o.Bands.Check(); err != nil {
		return course.Class{}, err
	}
	class := course.Class{Case: c, Bands: o.Bands, Seed: o.Seed, Tag: tagOf(o)}
	first, why, err := designed(ctx, c, workersOf(o.Workers))
	switch {
	case err != nil:
		return class, err
	case why == unmet:
		return class, ErrNotMet
	}
	most := triesEach*o.Students + triesMore
	sample := o.Students + sampleMore // that the usual hardness is taken from
	var drawn []drawnVariant
	for taken := 0; len(drawn) < most && len(class.Students) < o.Students; {
		more := make([]drawnVariant, min(workersOf(o.Workers), most-len(drawn)))
		var group sync.WaitGroup
		for i := range more {
			group.Go(func() { more[i] = draw(ctx, o, c, len(drawn)+i, &first) })
		}
		group.Wait()
		for _, d := range more { // in the order of their numbers, whoever came first
			if d.err != nil {
				return class, d.err
			}
		}
		drawn = append(drawn, more...)
		if len(drawn) >= sample {
			if taken == 0 {
				class.Hardness = usualHardness(drawn[:sample])
			}
			for ; taken < len(drawn) && len(class.Students) < o.Students; taken++ {
				take(&class, drawn[taken])
			}
		}
		if o.Progress != nil {
			o.Progress(max(len(class.Students), min(len(drawn), sample)*o.Students/(2*sample)), o.Students)
		}
	}
	if len(class.Students) < o.Students {
		return class, &TooFew{len(class.Students), o.Students, class.Tried}
	}
	return class, finish(ctx, &class)
}

func workersOf(n int) int {
	if n > 0 {
		return n
	}
	return runtime.GOMAXPROCS(0)
}

// tagOf is the class's tag.
func tagOf(o Course) uint16 {
	sum := crc32.ChecksumIEEE(fmt.Appendf(nil, "%d %d %s", o.Students, o.Seed, o.Text))
	return uint16(sum^sum>>12) & 0xfff
}

// drawnVariant is a variant and what became of it.
type drawnVariant struct {
	student course.Student
	why     fate
	err     error
}

// draw designs a variant; its spring has to be of the kind of the teacher's.
func draw(ctx context.Context, o Course, of design.Case, number int, first *course.Student) (d drawnVariant) {
	text, err := variant(o.Text, codeOf(of.Code, 1), o.Seed, number)
	if err != nil {
		return drawnVariant{err: err}
	}
	c, err := casefile.ReadCase(o.File, text)
	if err != nil { // measurements that do not go together are no variant
		return drawnVariant{why: unmet}
	}
	d.student, d.why, d.err = designed(ctx, c, 1)
	d.student.CaseText = text
	if d.err != nil || d.why != taken {
		return d
	}
	if !sameKind(d.student.Spring, first.Spring) {
		d.why = otherKind
	}
	return d
}

// sameKind tells whether two springs have as many steps of the same kinds, and the same wire.
func sameKind(a, b spring.Spring) bool {
	x, y := a.Path.Steps(), b.Path.Steps()
	if len(x) != len(y) || a.Wire != b.Wire || a.Heading != b.Heading {
		return false
	}
	for i := range x {
		if x[i].Kind != y[i].Kind {
			return false
		}
	}
	return true
}

// designed designs a case and measures how hard its spring is.
func designed(ctx context.Context, c design.Case, workers int) (course.Student, fate, error) {
	c.Bender.Springs = 0
	chosen, err := optimize.SearchChoices(ctx, c, optimize.Options{Workers: workers})
	switch {
	case ctx.Err() != nil:
		return course.Student{}, unmet, ctx.Err()
	case errors.Is(err, optimize.ErrNothingSolved), errors.Is(err, solve.ErrYield):
		return course.Student{}, unmet, nil
	case err != nil:
		return course.Student{}, unmet, err
	case !chosen.Result.Met():
		return course.Student{}, unmet, nil
	}
	s := course.Student{Case: chosen.Case, Spring: chosen.Result.Spring, Evaluation: chosen.Result.Evaluation}
	trial := s.Case
	trial.Bender = StudentHand(trial.Bender)
	r, err := hand.Bent(ctx, trial, s.Spring, springsInTrial, 1, workers)
	if errors.Is(err, hand.ErrSuperelastic) {
		return s, unmet, ErrHand
	}
	if err != nil {
		return s, unmet, err
	}
	s.Hardness = hardnessOf(s.Spring, r)
	return s, taken, nil
}

// take puts a variant into the class where it is as hard as the others and unlike all of them.
func take(k *course.Class, d drawnVariant) {
	k.Tried.Drawn++
	switch d.why {
	case unmet:
		k.Tried.Unmet++
		return
	case otherKind:
		k.Tried.OtherKind++
		return
	}
	if !d.student.Hardness.AsHardAs(k.Hardness) {
		k.Tried.OtherHardness++
		return
	}
	least := k.LeastApart
	for _, s := range k.Students {
		a := course.ApartOf(s.Spring.Path, d.student.Spring.Path, k.Bands)
		if !a.Enough() {
			k.Tried.Alike++
			return
		}
		least = least.Closer(a)
	}
	k.LeastApart = least
	d.student.Number = len(k.Students) + 1
	k.Students = append(k.Students, d.student)
}

// finish gives every student a code and the answers.
func finish(ctx context.Context, k *course.Class) error {
	for i := range k.Students {
		s := &k.Students[i]
		s.Case.Code = codeOf(k.Case.Code, s.Number)
		text, err := casefile.Edit(s.CaseText, casefile.Entry{Key: "case", Value: casefile.Quoted(s.Code())})
		if err != nil {
			return err
		}
		s.CaseText = text
		if s.Answer, err = course.AnswerOf(ctx, s.Case, s.Spring, s.Evaluation); err != nil {
			return err
		}
	}
	return nil
}
