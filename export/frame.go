package export

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"springwright/export/pdf"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Frame is what every page of every document tells about itself: its foot, its paper, its language
// and the printer that it is drawn for.
type Frame struct {
	Version     string // of the program
	Fingerprint string // short, of the inputs; may be empty
	Date        string // such as "2026-11-24"; may be empty
	Paper       Paper
	Language    words.Language // of the printed words
	Printer     Printer        // that the pages are corrected for
}

// check finds faults of what the frame of every page shows.
func (frame Frame) check(fault func(format string, args ...any)) {
	if frame.Paper != A4 && frame.Paper != Letter {
		fault("paper %d is unknown", int(frame.Paper))
	}
	if !frame.Language.Valid() {
		fault("%v is unknown", frame.Language)
	}
	frame.Printer.check(fault)
	if frame.Date != "" {
		if _, err := time.Parse(time.DateOnly, frame.Date); err != nil {
			fault("date %q is not a date such as 2026-11-24", frame.Date)
		}
	}
}

// faults collects all that is wrong with what is to be drawn; each error wraps ErrJob.
type faults []error

func (f *faults) add(format string, args ...any) {
	*f = append(*f, fmt.Errorf("%w: "+format, append([]any{ErrJob}, args...)...))
}

func (f *faults) err() error { return errors.Join(*f...) }

// written is a document as both kinds of files.
func (frame Frame) written(doc *sheet.Document, title, subject string) (file []byte, pages [][]byte, err error) {
	if file, err = frame.file(doc, title, subject); err != nil {
		return nil, nil, err
	}
	pages, err = doc.SVG(title, words.NewBook(frame.Language).Say("%s, %s paper", subject, frame.Paper.String()))
	return file, pages, err
}

// file is a document as PDF alone.
func (frame Frame) file(doc *sheet.Document, title, subject string) ([]byte, error) {
	return doc.PDF(pdf.Info{
		Title: title, Subject: subject, Producer: strings.TrimSpace("springwright " + frame.Version), Date: frame.Date,
	})
}
