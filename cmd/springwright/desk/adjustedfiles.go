package desk

import (
	"errors"
	"net/http"
	"strings"

	"springwright/design/casefile"
	"springwright/export"
)

// adjustedRequest asks for what the command "adjust" writes of the same readings.
type adjustedRequest struct {
	reading
	Paper  string `json:"paper"`
	Across string `json:"across"`
	Up     string `json:"up"`
	Name   string `json:"name"` // of the case file; its files are put beside it
}

// filesOf are the files of a report: the sheet, the springs that corrections make, and what was typed; of a
// spring that is half bent the one to go on with.
func (a *api) filesOf(w http.ResponseWriter, r *http.Request, needsName bool) (q adjustedRequest, files []export.File, ok bool) {
	q, ok = request[adjustedRequest](w, r)
	if !ok {
		return q, nil, false
	}
	if err := fileName(q.Name); needsName && err != nil {
		refuse(w, http.StatusBadRequest, err, "")
		return q, nil, false
	}
	frame, ok := a.framed(w, sheetRequest{Lang: q.Lang, Paper: q.Paper, Across: q.Across, Up: q.Up})
	if !ok {
		return q, nil, false
	}
	made, err := a.adjustedOf(r.Context(), book(q.Lang), q.reading)
	if err != nil {
		cannotTell(w, err)
		return q, nil, false
	}
	if made.soFar != nil {
		files = []export.File{{Name: "spring.toml", Data: casefile.WriteSpring(made.soFar.Spring)}}
	} else {
		frame.Fingerprint = casefile.FingerprintOf(made.origin)
		if files, err = export.AsBentFiles(frame, made.c, made.drawn, made.report); err != nil {
			refuse(w, http.StatusUnprocessableEntity, err, "")
			return q, nil, false
		}
	}
	if made.measured != nil {
		files = append(files, export.File{Name: "measured.csv", Data: made.measured})
	}
	return q, files, true
}

func (a *api) adjustedSheet(w http.ResponseWriter, r *http.Request) {
	_, files, ok := a.filesOf(w, r, false)
	if !ok {
		return
	}
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".pdf") {
			pdf(w, f.Data)
			return
		}
	}
	refuse(w, http.StatusUnprocessableEntity, errors.New("a spring that is half bent has no sheet of its own"), "take its numbers, and open the sheet of the spring")
}

func (a *api) adjustedFiles(w http.ResponseWriter, r *http.Request) {
	q, files, ok := a.filesOf(w, r, true)
	if !ok {
		return
	}
	dir, err := a.folder.writeNew(strings.TrimSuffix(q.Name, caseSuffix)+"-as-bent", files)
	if err != nil {
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	answer(w, http.StatusOK, map[string]string{"text": book(q.Lang).Say("Written into the folder %s: %s.", dir, strings.Join(names, ", "))})
}
