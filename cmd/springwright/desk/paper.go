package desk

import (
	"errors"
	"net/http"
	"os"
	"strings"
	"time"

	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/quantity"
	"springwright/export"
	"springwright/export/words"
)

type sheetRequest struct {
	Text   string `json:"text"`
	Spring string `json:"spring"`
	Lang   string `json:"lang"`
	Paper  string `json:"paper"`
	Across string `json:"across"` // what the bars of 100 mm measure on paper; "": not measured
	Up     string `json:"up"`
}

// framed is what the page asks of paper and printer; what cannot be printed on is refused.
func (a *api) framed(w http.ResponseWriter, q sheetRequest) (export.Frame, bool) {
	frame, err := q.frame(a.options.Version)
	if err != nil {
		refuse(w, http.StatusBadRequest, err, "")
	}
	return frame, err == nil
}

// frame is what the page asks of paper and printer.
func (q sheetRequest) frame(version string) (export.Frame, error) {
	frame := export.Frame{Version: version}
	var faults []error
	note := func(err error) {
		if err != nil {
			faults = append(faults, err)
		}
	}
	b := book(q.Lang)
	var err error
	frame.Language, err = words.Parse(q.Lang)
	note(err)
	if q.Paper != "" {
		frame.Paper, err = export.ParsePaper(q.Paper)
		note(err)
	}
	var bars fault.List
	for _, bar := range []struct {
		key, typed string
		mm         *float64
	}{{"across", q.Across, &frame.Printer.LevelMM}, {"up", q.Up, &frame.Printer.UprightMM}} {
		typed := strings.Replace(strings.TrimSpace(bar.typed), ",", ".", 1)
		if typed == "" {
			continue
		}
		mm, err := quantity.ParseBare(typed, quantity.Millimetre)
		switch {
		case err != nil:
			bars = append(bars, fault.Fault{Key: bar.key, Text: b.Say("write what the bar measures in mm, such as %s", b.Number(99.4, 1))})
		case mm < export.ShortestBarMM || mm > export.LongestBarMM:
			bars = append(bars, fault.Fault{Key: bar.key, Text: b.Say("only %s to %s mm are put down to the printer: check the viewer's size, it must be 100 %%", b.Number(export.ShortestBarMM, 0), b.Number(export.LongestBarMM, 0))})
		}
		*bar.mm = mm
	}
	frame.Date, err = export.Date(os.LookupEnv, time.Now)
	note(err)
	note(bars.Err())
	return frame, errors.Join(faults...)
}

func (a *api) sheet(w http.ResponseWriter, r *http.Request) {
	q, ok := request[sheetRequest](w, r)
	if !ok {
		return
	}
	frame, ok := a.framed(w, q)
	if !ok {
		return
	}
	made, err := a.reportOf(r.Context(), q.Text, q.Spring)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	frame.Fingerprint = casefile.Fingerprint([]byte(q.Text), made.Case.Search)
	file, _, err := export.Sheets(export.Job{Frame: frame, Report: made})
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	pdf(w, file)
}

func (a *api) measuring(w http.ResponseWriter, r *http.Request) {
	q, ok := request[sheetRequest](w, r)
	if !ok {
		return
	}
	frame, ok := a.framed(w, q)
	if !ok {
		return
	}
	file, _, err := export.Measuring(frame)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	pdf(w, file)
}

func pdf(w http.ResponseWriter, file []byte) {
	w.Header().Set("Content-Type", "application/pdf")
	w.Write(file)
}
