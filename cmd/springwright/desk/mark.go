package desk

import (
	"context"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"springwright/cmd/springwright/lesson"
	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/export"
	"springwright/export/words"
	"springwright/optimize/classroom"
)

const markPath = "/api/v1/class/mark"

const (
	// mostHandedBytes bounds what a class hands in at once: a few dozen pictures of telephones (choice).
	mostHandedBytes = 1 << 30
	mostHanded      = 2 * course.MostStudents // pictures
	handingIn       = 5 * time.Minute         // until all of it has come, from this machine (choice)
)

// markRequest is a form of class, bands, lang, paper, across, up and, last, handed: the pictures, or a table.
type markRequest struct {
	class, bands, lang string
	sheet              sheetRequest
	dir                string // of the pictures
	in                 lesson.HandedIn
}

var errHanded = errors.New("a form of class, bands, lang and handed is expected")

// read reads the form; pictures go into the folder q.dir.
func (q *markRequest) read(parts *multipart.Reader, b func() *words.Book) error {
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if part.FormName() == "handed" {
			if err := q.hand(part, b()); err != nil {
				return err
			}
			continue
		}
		const longest = 1 << 12
		data, err := io.ReadAll(io.LimitReader(part, longest))
		if err != nil {
			return err
		}
		field := map[string]*string{"class": &q.class, "bands": &q.bands, "lang": &q.lang, "paper": &q.sheet.Paper, "across": &q.sheet.Across, "up": &q.sheet.Up}[part.FormName()]
		if field == nil {
			return errHanded
		}
		*field = string(data)
	}
}

// hand takes a file that was handed in.
func (q *markRequest) hand(part *multipart.Part, b *words.Book) error {
	name := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:`, r) {
			return '-'
		}
		return r
	}, part.FileName())
	mixed := errToldAs{b.Say("Pictures and a table, or several tables, were given at once."), b.Say("Give either pictures or one table.")}
	if !lesson.IsPicture(name) {
		data, err := io.ReadAll(io.LimitReader(part, largestFile+1))
		switch {
		case err != nil:
			return err
		case len(data) > largestFile:
			return errToldAs{b.Say("%s is too large for a table of readings.", name), b.Say("Give pictures (PNG or JPEG) or one table (CSV).")}
		case q.in.Table != "" || len(q.in.Pictures) > 0:
			return mixed
		}
		q.in.Table, q.in.Data = name, data
		return nil
	}
	switch {
	case q.in.Table != "":
		return mixed
	case len(q.in.Pictures) == mostHanded:
		return errToldAs{b.Say("More than %d pictures were given at once.", mostHanded), b.Say("Give those of one class.")}
	case slices.Contains(q.in.Pictures, name):
		return errToldAs{b.Say("Two pictures have the name %s.", name), b.Say("Give one of them another name.")}
	}
	file, err := os.OpenFile(filepath.Join(q.dir, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return errToldAs{b.Say("The picture %s cannot be kept while it is read: %s.", name, reasonOf(err).Error()), b.Say("Give it another name.")}
	}
	n, err := io.Copy(file, io.LimitReader(part, mostPictureBytes+1))
	if err = errors.Join(err, file.Close()); err != nil {
		return err
	}
	if n > mostPictureBytes {
		return errToldAs{b.Say("The picture %s is larger than %d MB.", name, mostPictureBytes>>20), b.Say("Save it smaller.")}
	}
	q.in.Pictures = append(q.in.Pictures, name)
	return nil
}

// marksLine is what marking came to.
type marksLine struct {
	Marks struct {
		Folder  string            `json:"folder"`
		Papers  []link            `json:"papers"`
		Bands   string            `json:"bands"`
		Count   string            `json:"count"`
		Worst   string            `json:"worst"`
		Grades  []string          `json:"grades"`
		Bars    []export.MarksBar `json:"bars"`
		Rows    [][]string        `json:"rows"`
		NotRead [][3]string       `json:"notRead"`
		Missing string            `json:"missing"`
		Warning string            `json:"warning"`
		Lines   []string          `json:"lines"`
	} `json:"marks"`
}

// markClass marks what a class has handed in, as "mark" does; its files go into a new folder beside that of the class.
func (a *api) markClass(w http.ResponseWriter, r *http.Request) {
	parts, err := r.MultipartReader()
	if err != nil {
		refuse(w, http.StatusBadRequest, errHanded, "")
		return
	}
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(handingIn)) // where there is none the server's own holds
	var q markRequest
	if q.dir, err = os.MkdirTemp("", "springwright-handed-"); err != nil {
		refuse(w, http.StatusInternalServerError, reasonOf(err), "")
		return
	}
	defer os.RemoveAll(q.dir)
	if err := q.read(parts, func() *words.Book { return book(q.lang) }); err != nil {
		var large *http.MaxBytesError
		var told errToldAs
		switch {
		case errors.As(err, &large):
			refuse(w, http.StatusRequestEntityTooLarge, err, "")
		case errors.As(err, &told):
			cannotTell(w, err)
		default:
			refuse(w, http.StatusBadRequest, err, "")
		}
		return
	}
	b := book(q.lang)
	q.sheet.Lang = q.lang
	frame, err := q.sheet.frame(a.options.Version)
	switch {
	case err != nil:
		refuse(w, http.StatusBadRequest, err, "")
		return
	case !folderName.MatchString(q.class):
		refuse(w, http.StatusBadRequest, errFolderName, "")
		return
	case q.in.Table == "" && len(q.in.Pictures) == 0:
		cannotTell(w, errToldAs{b.Say("Nothing was handed in yet."), b.Say("Give pictures (PNG or JPEG) or one table (CSV).")})
		return
	}
	slices.Sort(q.in.Pictures) // as a folder lists them
	q.in.Folder = os.DirFS(q.dir)
	a.alone(w, r, func(ctx context.Context, lines *lineWriter) any { return a.marked(ctx, lines, b, q, frame) })
}

// marked marks, and returns the last line.
func (a *api) marked(ctx context.Context, lines *lineWriter, b *words.Book, q markRequest, frame export.Frame) any {
	class, text, err := lesson.Open(ctx, q.class, func(name string) ([]byte, error) {
		return a.folder.fileUpTo(filepath.ToSlash(name), largestClass)
	})
	if err != nil {
		return failed{Error: b.Say("The class in the folder %s cannot be read: %s.", path.Base(q.class), firstLine(err)), Hint: b.Say("Leave the files of a class as they were written, or make it anew.")}
	}
	bands, err := bandsOf(b, q.bands, class.Bands)
	var told errToldAs
	if errors.As(err, &told) {
		return failed{Error: told.text, Hint: told.hint, Faults: []faultJSON{{Key: "bands", Text: told.text, Hint: told.hint}}}
	}
	steps := newSteps(lines, b)
	m := classroom.Marker{Class: class, Bands: bands, LevelMM: frame.Printer.LevelMM, UprightMM: frame.Printer.UprightMM, Progress: steps.tell}
	a.pictures.Lock() // one picture at a time is in memory
	made, err := lesson.Mark(ctx, m, q.in, text, frame, a.options.Keeper.Program)
	a.pictures.Unlock()
	switch {
	case ctx.Err() != nil:
		return failed{Error: b.Say("Stopped. Nothing was written.")}
	case err != nil:
		reason, hint := casefile.ReasonOf(err)
		return failed{Error: reason, Hint: hint}
	}
	var out marksLine
	of := &out.Marks
	if of.Folder, err = a.folder.writeNew(q.class+"-marks", made.Files); err != nil {
		return failed{Error: reasonOf(err).Error()}
	}
	t := export.MarksTextOf(made.Marks, b.Language())
	of.Papers, of.Bands, of.Count, of.Worst = paperLinks(of.Folder, made.Files), t.Bands, t.Count, t.Worst
	of.Grades, of.Bars, of.Rows, of.Missing = t.Grades, t.Bars, t.Rows, t.Missing
	of.NotRead = [][3]string{}
	for i, n := range t.NotRead {
		if errors.Is(made.Marks.NotRead[i].Err, course.BadNumbers) { // its own text says which
			reason, hint := casefile.ReasonOf(made.Marks.NotRead[i].Err)
			n[1], n[2] = n[1]+": "+reason, hint
		}
		of.NotRead = append(of.NotRead, n)
	}
	if wider := bands.Widest(); wider.AngleRad > class.Bands.Widest().AngleRad || wider.LengthMM > class.Bands.Widest().LengthMM {
		of.Warning = b.Say("These grades allow more than those that the class was made with: a spring bent over a neighbour's sheet may pass.")
	}
	of.Lines = []string{b.Say("Written into the folder %s: %s.", of.Folder, "marks.pdf, marks.csv")}
	return out
}

// firstLine is an error in short.
func firstLine(err error) string {
	text, _, _ := strings.Cut(err.Error(), "\n")
	return text
}
