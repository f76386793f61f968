package export

import (
	"errors"
	"fmt"
	"strings"

	"springwright/export/pdf"
	"springwright/export/phrase"
	"springwright/export/sheet"
)

// Imprint is what a sheet without a design of its own tells about itself.
type Imprint struct {
	Version     string // of the program
	Fingerprint string // short, of the inputs; may be empty
	Date        string // such as "2026-11-24"; may be empty
	Paper       Paper
	Language    phrase.Language // of the printed words
	Printer     Printer         // that the sheet is corrected for
}

// job is the imprint as far as the frame of a page shows it.
func (i Imprint) job() Job {
	return Job{Version: i.Version, Fingerprint: i.Fingerprint, Date: i.Date, Paper: i.Paper, Language: i.Language, Printer: i.Printer}
}

// faults collects all that is wrong with a job; each error wraps ErrJob.
type faults []error

func (f *faults) add(format string, args ...any) {
	*f = append(*f, fmt.Errorf("%w: "+format, append([]any{ErrJob}, args...)...))
}

func (f *faults) err() error { return errors.Join(*f...) }

// written is a document as both kinds of files.
func (i Imprint) written(doc *sheet.Document, title, subject string) (file []byte, pages [][]byte, err error) {
	file, err = doc.PDF(pdf.Info{
		Title: title, Subject: subject, Producer: strings.TrimSpace("springwright " + i.Version), Date: i.Date,
	})
	if err != nil {
		return nil, nil, err
	}
	pages, err = doc.SVG(title, phrase.NewBook(i.Language).Say("%s, %s paper", subject, i.Paper.String()))
	return file, pages, err
}
