package export

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"springwright/export/bend"
	"springwright/export/pdf"
	"springwright/export/phrase"
	"springwright/export/sheet"
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

// BendList returns the bend table as text for a terminal.
func BendList(job Job) (string, error) {
	if err := job.check(); err != nil {
		return "", err
	}
	t := bend.TableOf(job.Spring, job.Case.Teeth)
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	row := func(cells ...string) { fmt.Fprintln(w, strings.Join(cells, "\t")+"\t") }
	row("step", "mark mm", "feed mm", "turn", "bend", "seen from the cheek", "radius mm")
	for _, r := range t.Rows {
		row(fmt.Sprint(r.Step), sheet.Number(r.MarkMM, 2), sheet.Number(r.FeedMM, 2),
			turnText(r), bendText(r), seenText(nil, r), radiusText(r))
	}
	row("end", sheet.Number(t.DevelopedMM, 2), sheet.Number(t.EndFeedMM, 2), "", "", "", "")
	w.Flush() // a strings.Builder takes everything
	fmt.Fprintf(&b, "%s\n", lengthsText(nil, t))
	return b.String(), nil
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
