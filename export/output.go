package export

import (
	"strings"

	"springwright/export/bend"
	"springwright/export/pdf"
	"springwright/export/phrase"
)

// Sheet returns all pages as one PDF file. Same job, same bytes.
func Sheet(job Job) ([]byte, error) {
	doc, err := compose(job)
	if err != nil {
		return nil, err
	}
	return doc.PDF(pdfInfo(job))
}

// Untranslated lists what the pages say in English because the language of the job lacks it.
func Untranslated(job Job) ([]string, error) {
	doc, err := compose(job)
	if err != nil {
		return nil, err
	}
	return doc.Untranslated, nil
}

func pdfInfo(job Job) pdf.Info {
	return pdf.Info{
		Title:    job.title(),
		Subject:  job.subject(),
		Producer: strings.TrimSpace("springwright " + job.Version),
		Date:     job.Date,
	}
}

// SVG returns one file a page. Same job, same bytes.
func SVG(job Job) ([][]byte, error) {
	doc, err := compose(job)
	if err != nil {
		return nil, err
	}
	return doc.SVG(job.title(), phrase.NewBook(job.Language).Say("%s, %s paper", job.subject(), job.Paper.String()))
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

func (j Job) subject() string {
	return phrase.NewBook(j.Language).Say("Bending template at true scale: print at 100 %%")
}

func (j Job) title() string {
	words := phrase.NewBook(j.Language)
	title := words.Say("Bending template")
	if j.Case.Code != "" {
		title = words.Say("Bending template %s", j.Case.Code)
	}
	if j.Case.Title != "" {
		title += ": " + j.Case.Title
	}
	return title
}
