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
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/optimize"
	"springwright/optimize/hand"
)

// MostStudents is how many students a class may have: what the strip of a card can tell, and more than sit in a
// room (choice).
const MostStudents = 200

// triesEach is how many variants are drawn for each student at most, and triesMore beside them (choices: most
// presets take one or two).
const (
	triesEach  = 6
	triesMore  = 20
	sampleMore = 8 // variants beside one for each student that tell how hard one usually is
)

// Course is what a class is made of.
type Course struct {
	File     string // of the case, for its faults
	Text     []byte // of the case
	Students int
	Seed     uint64
	Bands    Bands
	Workers  int // 0: one for each core; the class is the same on any number
	// Progress is told of how many students have their variant; may be nil. Called from one goroutine.
	Progress func(done, total int)
}

// Class is what a course hands out.
type Class struct {
	Case     design.Case // the teacher's
	Hardness Hardness    // the usual one of its variants, which all students' are held against
	Tag      uint16      // of 12 bits; tells cards of one class from those of another
	Bands    Bands
	Students []Student
	Tried    Tried
	// LeastApart is the smallest distance between two students' sheets.
	LeastApart Apart
}

// Student is one student's variant.
type Student struct {
	Number     int    // from 1
	Code       string // the case code
	CaseText   []byte
	Case       design.Case
	Spring     spring.Spring
	Evaluation solve.Evaluation
	Hardness   Hardness
	Answer     Answer
}

// Tried says what became of the variants that were drawn.
type Tried struct {
	Drawn, Unmet, OtherKind, OtherHardness, Alike int
}

// TooFew says that a case has not as many variants as the class has students.
type TooFew struct {
	Found, Wanted int
	Tried         Tried
}

func (e *TooFew) Error() string {
	return fmt.Sprintf("only %d of %d variants were found: of %d drawn %d miss their target, %d are of another kind, %d harder or easier, %d too like another",
		e.Found, e.Wanted, e.Tried.Drawn, e.Tried.Unmet, e.Tried.OtherKind, e.Tried.OtherHardness, e.Tried.Alike)
}

// ErrNotMet says that the teacher's case itself has no spring that meets its target.
var ErrNotMet = errors.New("no spring meets the target of the case itself")

// ErrHand says that springs of the case cannot be bent in trial, so that nothing tells how hard they are.
var ErrHand = errors.New("springs of this case are not bent in trial: nothing tells how hard they are")

// fate is what became of a variant.
type fate int

const (
	taken fate = iota
	unmet
	otherKind
)

// Make makes a class. Same course, same class. The errors are those of casefile, ErrNotMet, ErrHand, TooFew, and
// those of the search that end all of them.
func Make(ctx context.Context, o Course) (Class, error) {
	c, err := casefile.ReadCase(o.File, o.Text)
	if err != nil {
		return Class{}, err
	}
	if o.Students < 1 || o.Students > MostStudents {
		return Class{}, fmt.Errorf("%d students (allowed: 1 to %d)", o.Students, MostStudents)
	}
	if err := o.Bands.Check(); err != nil {
		return Class{}, err
	}
	class := Class{Case: c, Bands: o.Bands, Tag: tagOf(o), LeastApart: farApart()}
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
			group.Go(func() { more[i] = class.draw(ctx, o, len(drawn)+i, &first) })
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
				class.take(drawn[taken])
			}
		}
		if o.Progress != nil {
			o.Progress(max(len(class.Students), min(len(drawn), sample)*o.Students/(2*sample)), o.Students)
		}
	}
	if len(class.Students) < o.Students {
		return class, &TooFew{len(class.Students), o.Students, class.Tried}
	}
	return class, class.finish(ctx, o)
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
	student Student
	why     fate
	err     error
}

// draw designs a variant; its spring has to be of the kind of the teacher's.
func (k *Class) draw(ctx context.Context, o Course, number int, first *Student) (d drawnVariant) {
	text, err := variant(o.Text, codeOf(k.Case.Code, 1), o.Seed, number)
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
func designed(ctx context.Context, c design.Case, workers int) (Student, fate, error) {
	c.Bender.Springs = 0
	chosen, err := optimize.SearchChoices(ctx, c, optimize.Options{Workers: workers})
	switch {
	case ctx.Err() != nil:
		return Student{}, unmet, ctx.Err()
	case errors.Is(err, optimize.ErrNothingSolved), errors.Is(err, solve.ErrYield):
		return Student{}, unmet, nil
	case err != nil:
		return Student{}, unmet, err
	case !chosen.Result.Met():
		return Student{}, unmet, nil
	}
	s := Student{Case: chosen.Case, Spring: chosen.Result.Spring, Evaluation: chosen.Result.Evaluation}
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
func (k *Class) take(d drawnVariant) {
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
		a := ApartOf(s.Spring.Path, d.student.Spring.Path, k.Bands)
		if !a.Enough() {
			k.Tried.Alike++
			return
		}
		least = least.closer(a)
	}
	k.LeastApart = least
	d.student.Number = len(k.Students) + 1
	k.Students = append(k.Students, d.student)
}

// finish gives every student a code and the answers.
func (k *Class) finish(ctx context.Context, o Course) error {
	for i := range k.Students {
		s := &k.Students[i]
		s.Code = codeOf(k.Case.Code, s.Number)
		text, err := casefile.Edit(s.CaseText, casefile.Entry{Key: "case", Value: casefile.Quoted(s.Code)})
		if err != nil {
			return err
		}
		s.CaseText, s.Case.Code = text, s.Code
		if s.Answer, err = AnswerOf(ctx, s.Case, s.Spring, s.Evaluation); err != nil {
			return err
		}
	}
	return nil
}
