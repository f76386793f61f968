package desk

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"springwright/cmd/springwright/lesson"
	"springwright/design/course"
	"springwright/export/words"
	"springwright/optimize/classroom"
	"springwright/presets"
)

// largestClass bounds a class file: one of 200 students has some 200 kB.
const largestClass = 4 << 20

type classRequest struct {
	Case     string `json:"case"`   // a file of the folder
	Preset   string `json:"preset"` // or a case of the program
	Students int    `json:"students"`
	Seed     uint64 `json:"seed"`
	Bands    string `json:"bands"` // as on the command line; "" for the usual ones
	Lang     string `json:"lang"`
	Paper    string `json:"paper"`
	Across   string `json:"across"`
	Up       string `json:"up"`
}

// classLine is what making a class came to.
type classLine struct {
	Class struct {
		Folder string   `json:"folder"`
		Lines  []string `json:"lines"`
		Papers []link   `json:"papers"`
	} `json:"class"`
}

// makeClass makes a class into a new folder beside the cases, as "handout" does.
func (a *api) makeClass(w http.ResponseWriter, r *http.Request) {
	q, ok := request[classRequest](w, r)
	if !ok {
		return
	}
	b := book(q.Lang)
	frame, ok := a.framed(w, sheetRequest{Lang: q.Lang, Paper: q.Paper, Across: q.Across, Up: q.Up})
	if !ok {
		return
	}
	name, text, err := a.lessonCase(q)
	if err != nil {
		refuse(w, http.StatusNotFound, err, "")
		return
	}
	if q.Students < 1 || q.Students > course.MostStudents {
		said := b.Say("Write a whole number of students from 1 to %d.", course.MostStudents)
		answer(w, http.StatusUnprocessableEntity, failed{Error: said, Faults: []faultJSON{{Key: "students", Text: said}}})
		return
	}
	bands, err := bandsOf(b, q.Bands, course.UsualBands())
	if err != nil {
		refuseBands(w, err)
		return
	}
	a.alone(w, r, func(ctx context.Context, lines *lineWriter) any {
		told := newSteps(lines, b)
		made, err := lesson.HandOut(ctx, classroom.Course{File: name, Text: text, Students: q.Students, Seed: q.Seed, Bands: bands, Progress: told.tell}, q.Bands, frame, a.options.Keeper.Program)
		if err != nil {
			return noClass(b, ctx, err)
		}
		var out classLine
		if out.Class.Folder, err = a.folder.writeNew(madeStem(made.Class.Case.Code)+"-class", made.Files); err != nil {
			return failed{Error: reasonOf(err).Error()}
		}
		out.Class.Papers, out.Class.Lines = paperLinks(out.Class.Folder, made.Files), classLines(b, made.Class, out.Class.Folder)
		return out
	})
}

// lessonCase is the case to be varied.
func (a *api) lessonCase(q classRequest) (name string, text []byte, err error) {
	if q.Preset != "" {
		text, _, err = presets.Case(q.Preset)
		return q.Preset, text, err
	}
	text, _, err = a.folder.read(q.Case)
	if err != nil && !errors.Is(err, errName) {
		err = errors.New("there is no file " + q.Case)
	}
	return q.Case, text, err
}

// bandsOf reads bands as a field has them.
func bandsOf(b *words.Book, typed string, usual course.Bands) (course.Bands, error) {
	if strings.TrimSpace(typed) == "" {
		return usual, nil
	}
	bands, err := course.ParseBands(typed)
	if err != nil {
		return bands, errToldAs{err.Error(), b.Say("Write the best grade first, each with its degrees and mm, such as %s.", "A:2.5/0.5, B:5/1, C:7.5/1.5")}
	}
	return bands, nil
}

func refuseBands(w http.ResponseWriter, err error) {
	var told errToldAs
	errors.As(err, &told)
	answer(w, http.StatusUnprocessableEntity, failed{Error: told.text, Hint: told.hint, Faults: []faultJSON{{Key: "bands", Text: told.text, Hint: told.hint}}})
}

// noClass says why there is no class.
func noClass(b *words.Book, ctx context.Context, err error) failed {
	var few *classroom.TooFew
	switch {
	case ctx.Err() != nil:
		return failed{Error: b.Say("Stopped. Nothing was written.")}
	case errors.As(err, &few):
		return failed{
			Error: b.Say("Only %d of %d variants were found that are equally hard and unlike each other.", few.Found, few.Wanted),
			Hint:  b.Say("Ask for fewer students, try another class number, or give a case with more room."),
		}
	case errors.Is(err, classroom.ErrNotMet):
		return failed{Error: b.Say("No spring meets the target of the case itself."), Hint: b.Say("Open the case under One spring: it says what is missed, and what would do.")}
	case errors.Is(err, classroom.ErrHand), errors.Is(err, classroom.ErrFreePath):
		return failed{Error: b.Say("Of this case no variants can be made."), Hint: b.Say("Choose a case of another wire or kind of spring.")}
	}
	text := err.Error()
	faults := faultsOf(err)
	if faults != nil {
		text = b.Say("The case has faults: open it under One spring and mend them.")
	}
	return failed{Error: text, Faults: faults}
}

// classLines is what is told of a class.
func classLines(b *words.Book, class course.Class, folder string) []string {
	low, high := class.Students[0].Hardness.Share, class.Students[0].Hardness.Share
	for _, s := range class.Students {
		low, high = min(low, s.Hardness.Share), max(high, s.Hardness.Share)
	}
	lines := []string{b.Say("Students: %d. All springs have %d bends; of 100 bent by a student's hand %s to %s meet the target.",
		len(class.Students), class.Hardness.Bends, b.Number(100*low, 0), b.Number(100*high, 0))}
	if apart := class.LeastApart; apart != (course.Apart{}) {
		lines = append(lines, b.Say("The two sheets most alike differ by up to %s and %s mm: one bent over the other fails.", b.Degrees(apart.AngleRad), b.Number(apart.LengthMM, 1)))
	}
	return append(lines, b.Say("All is in the folder %s. Print the students' sheets at 100 %% and measure both bars. For practice: no spring of it is for a patient.", folder))
}

// madeStem makes of a code what a folder's name may begin with.
func madeStem(code string) string {
	return strings.TrimSuffix(madeFolder(code+".x"), "-springs")
}
