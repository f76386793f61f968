package export

import (
	"springwright/export/bend"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Sheets returns all pages as one PDF file and as one SVG file a page. Same job, same bytes. The
// error wraps ErrJob where something cannot be drawn or does not fit.
func Sheets(job Job) (file []byte, pages [][]byte, err error) {
	doc, err := compose(job)
	if err != nil {
		return nil, nil, err
	}
	return job.written(doc, job.title(), job.subject())
}

// SheetFile is Sheets without the SVG files, which take as long again.
func SheetFile(job Job) ([]byte, error) {
	doc, err := compose(job)
	if err != nil {
		return nil, err
	}
	return job.file(doc, job.title(), job.subject())
}

// Lacking lists the characters of a text that the typeface of the sheets lacks. A text that
// has any cannot be printed.
func Lacking(text string) ([]rune, error) {
	doc, err := sheet.NewDocument(A4.SizeMM())
	if err != nil {
		return nil, err
	}
	return doc.Lacking(text), nil
}

// BendsCSV returns the bend table as CSV (RFC 4180).
func BendsCSV(job Job) ([]byte, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	return bend.TableOf(job.Spring, job.Case.Teeth).CSV(), nil
}

// CornersCSV returns the corner points of the centreline, both ends included, as CSV (RFC
// 4180), on the axes of the mechanics, mm.
func CornersCSV(job Job) ([]byte, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	return bend.CornersCSV(bend.Corners(job.Spring.Path)), nil
}

// LRACSV returns the lengths, rotations and angles of the wire from cut end to cut end as CSV (RFC 4180).
func LRACSV(job Job) ([]byte, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	return bend.LRACSV(bend.Motions(job.Spring)), nil
}

// XYZCSV returns the wire from cut end to cut end as one point a bend and its radius, as CSV (RFC 4180).
func XYZCSV(job Job) ([]byte, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	return bend.XYZCSV(bend.Vertices(job.Spring)), nil
}

func (j Job) subject() string {
	return words.NewBook(j.Language).Say("Bending template at true scale: print at 100 %%")
}

func (j Job) title() string {
	words := words.NewBook(j.Language)
	title := words.Say("Bending template")
	if j.Case.Code != "" {
		title = words.Say("Bending template %s", j.Case.Code)
	}
	if j.Case.Title != "" {
		title += ": " + j.Case.Title
	}
	if j.Spring.Shortfall != nil {
		title = words.Say("%s (does not meet its target)", title)
	}
	return title
}
