package desk

import (
	"context"
	"fmt"
	"net/http"
	"path/filepath"
	"strings"

	"springwright/design/casefolder"
	"springwright/design/timeline"
	"springwright/export"
	"springwright/export/words"
	"springwright/optimize/visit"
)

// hasVisits tells whether a case has a history of visits beside it: that of a case folder has.
func (f *folder) hasVisits(name string) bool {
	if name != casefolder.CaseName {
		return false
	}
	info, err := f.root.Stat(casefolder.VisitsName)
	return err == nil && info.Mode().IsRegular()
}

// visitsAnswer is what the command "visit" tells, as a table each of its parts, and its page.
type visitsAnswer struct {
	Headline string      `json:"headline"`
	Lines    []string    `json:"lines"`
	Tables   []toldTable `json:"tables"`
	Page     string      `json:"page"` // SVG: the time line
	Label    string      `json:"label"`
}

type toldTable struct {
	Title string     `json:"title"`
	Note  string     `json:"note"`
	Rows  [][]string `json:"rows"` // the first has the headings
}

func (a *api) visits(w http.ResponseWriter, r *http.Request) {
	q, ok := request[struct {
		Lang string `json:"lang"`
	}](w, r)
	if !ok {
		return
	}
	frame, ok := a.framed(w, sheetRequest{Lang: q.Lang})
	if !ok {
		return
	}
	read := func(path string) ([]byte, error) { // by way of the root: no name of a history leads out of the folder
		name, err := filepath.Rel(a.options.Folder, path)
		if err != nil {
			return nil, err
		}
		return a.folder.file(filepath.ToSlash(name))
	}
	of, err := casefolder.Open(r.Context(), a.options.Folder, read)
	if err == nil && len(of.Stand) == 0 {
		err = fmt.Errorf("%s has no visit yet", casefolder.VisitsName)
	}
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	if !a.begin(r.Context()) {
		cannotTell(w, errBusy)
		return
	}
	defer a.searches.Unlock()
	ctx, stop := context.WithCancel(r.Context())
	defer stop()
	a.running.set(ctx, stop)
	defer a.running.clear()
	report, err := visit.Read(ctx, visit.Job{Case: of.Case, Visits: of.Standing(), Seed: 1})
	if err != nil {
		cannotTell(w, toldAs(book(q.Lang), err))
		return
	}
	frame.Fingerprint = of.Fingerprint()
	_, pages, err := export.VisitSheets(export.Visit{Frame: frame, Report: report})
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	out := visitsTold(book(q.Lang), report)
	if len(pages) > 0 {
		out.Page = string(pages[0])
	}
	answer(w, http.StatusOK, out)
}

// visitsTold is what the page tells of the visits, without the picture.
func visitsTold(b *words.Book, report timeline.Report) visitsAnswer {
	t := export.VisitTextOf(report, b.Language())
	out := visitsAnswer{Headline: t.Headline, Label: b.Say("The page of the last visit, with the way of the tooth and the force over the weeks")}
	for _, lines := range [...][]string{t.Todo, t.Why, t.Anchor, t.Doubts} {
		out.Lines = append(out.Lines, lines...)
	}
	for _, table := range [...]toldTable{
		{b.Say("Visits"), "", t.History},
		{b.Say("Where the slots stand"), t.WhereNote, t.Where},
		{b.Say("What the spring gives now"), t.LoadsNote, t.Loads},
		{b.Say("What was guessed, and what the movement tells"), strings.Join(append(t.Fitted, t.FitsNote), " "), t.Fits},
	} {
		if len(table.Rows) > 1 {
			out.Tables = append(out.Tables, table)
		}
	}
	return out
}
