package desk

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"path/filepath"

	"springwright/cmd/springwright/batch"
	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/orders"
	"springwright/export"
	"springwright/export/words"
)

type ordersRequest struct {
	orderSource
	Folder string `json:"folder"` // that the springs are made into
	Anyway bool   `json:"anyway"`
	Lang   string `json:"lang"`
	Paper  string `json:"paper"`
	Across string `json:"across"`
	Up     string `json:"up"`
}

// orderLine is what became of one order.
type orderLine struct {
	Order orderRow `json:"order"`
}

type orderRow struct {
	Name    string   `json:"name"` // of its folder
	Code    string   `json:"code"`
	Row     int      `json:"row"`
	Due     string   `json:"due"`
	Teeth   string   `json:"teeth"`
	Wire    string   `json:"wire"`
	Share   string   `json:"share"`
	State   string   `json:"state"` // as in files
	Said    string   `json:"said"`  // in words
	Lacking []string `json:"lacking"`
	Sheet   string   `json:"sheet"` // its address; "" where there is none
}

// dayLine is what a run came to.
type dayLine struct {
	Day struct {
		Folder  string     `json:"folder"`
		Orders  []orderRow `json:"orders"`
		Papers  []link     `json:"papers"`
		Lines   []string   `json:"lines"`
		Stopped bool       `json:"stopped"`
	} `json:"day"`
}

// makeOrders makes the springs of a list into a folder beside the cases, as "batch" does.
func (a *api) makeOrders(w http.ResponseWriter, r *http.Request) {
	q, ok := request[ordersRequest](w, r)
	if !ok {
		return
	}
	b := book(q.Lang)
	frame, ok := a.framed(w, sheetRequest{Lang: q.Lang, Paper: q.Paper, Across: q.Across, Up: q.Up})
	if !ok {
		return
	}
	if !folderName.MatchString(q.Folder) {
		refuse(w, http.StatusBadRequest, errFolderName, "")
		return
	}
	of, err := a.listOf(q.orderSource)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	a.alone(w, r, func(ctx context.Context, lines *lineWriter) any {
		return a.makeDay(ctx, lines, b, of, q, frame)
	})
}

// makeDay makes a list, and returns its last line.
func (a *api) makeDay(ctx context.Context, lines *lineWriter, b *words.Book, of listed, q ordersRequest, frame export.Frame) any {
	keeper := a.options.Keeper
	if err := a.folder.root.Mkdir(q.Folder, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return failed{Error: reasonOf(err).Error()}
	}
	if info, err := a.folder.root.Lstat(q.Folder); err != nil || !info.IsDir() { // no link either
		return failed{Error: b.Say("%s is no folder.", q.Folder), Hint: b.Say("Choose another name for the folder.")}
	}
	dir := filepath.Join(a.options.Folder, q.Folder)
	release, err := batch.Lock(dir, orders.Part{})
	switch {
	case errors.Is(err, batch.ErrBusy):
		return failed{Error: b.Say("Another run is at work in the folder %s.", q.Folder), Hint: b.Say("Wait until it has ended, or choose another name for the folder.")}
	case err != nil:
		return failed{Error: reasonOf(err).Error()}
	}
	defer release()
	write, err := keeper.Papers(ctx, dir)
	if err != nil {
		return failed{Error: err.Error(), Hint: b.Say("Choose another name for the folder.")}
	}
	all, err := batch.Run(ctx, of.orders, batch.Options{
		Dir: dir, Frame: frame, Anyway: q.Anyway, Program: keeper.Program, Imprint: keeper.Imprint(),
		Render: keeper.Render, Write: keeper.Write, Standing: keeper.Standing,
		FreePath: func(_ context.Context, caseFile string, text []byte, wanted *design.Case) ([]byte, error) {
			return casefile.WithFreePath(caseFile, text, wanted, a.caseFile)
		},
		Each: func(o batch.Outcome) { lines.write(orderLine{rowOf(b, q.Folder, o)}) },
		Progress: func(p batch.Progress) {
			lines.write(stepLine{p.Done, p.Total, leftSaid(b, p.Left)})
		},
	})
	stopped := err != nil
	day := batch.Day(all, of.name, frame, orders.UsualStockMM)
	day.Fingerprint = of.fingerprint
	papers, err := batch.Papers(all, day)
	if err == nil {
		err = write(context.WithoutCancel(ctx), papers) // what is done is told even if the run was stopped
	}
	if err != nil {
		return failed{Error: err.Error(), Hint: b.Say("Choose another name for the folder.")}
	}
	var out dayLine
	out.Day.Folder, out.Day.Stopped, out.Day.Orders, out.Day.Papers = q.Folder, stopped, []orderRow{}, paperLinks(q.Folder, papers)
	for _, o := range all {
		out.Day.Orders = append(out.Day.Orders, rowOf(b, q.Folder, o))
	}
	out.Day.Lines = dayLines(b, all, q.Folder, stopped)
	return out
}

// dayLines is the day in short.
func dayLines(b *words.Book, all []batch.Outcome, folder string, stopped bool) []string {
	counts, fresh := batch.Counts(all), 0
	for _, o := range all {
		if o.Fresh {
			fresh++
		}
	}
	lines := []string{b.Say("Springs: %d, made by this run %d.", len(all), fresh)}
	for s := orders.InTheWay; s >= orders.Open; s-- { // what needs looking after first
		if n := counts[s]; n > 0 {
			lines = append(lines, words.Capital(export.StateText(b, s))+": "+b.Number(float64(n), 0))
		}
	}
	if stopped {
		lines = append(lines, b.Say("Stopped. What is made stays: go on whenever you like."))
	}
	return append(lines, b.Say("All is in the folder %s, a folder for each spring.", folder))
}

// rowOf is an order's row.
func rowOf(b *words.Book, folder string, o batch.Outcome) orderRow {
	line := batch.Day([]batch.Outcome{o}, "", export.Frame{}, orders.UsualStockMM).Orders[0]
	row := orderRow{
		Name: line.Name, Code: line.Code, Row: line.Row, Due: line.Due, Teeth: line.TeethInShort(), Wire: line.Wire, Share: line.Share,
		State: line.State.String(), Said: export.StateText(b, line.State), Lacking: append([]string{}, line.Lacking...),
	}
	if line.Twin {
		row.Code = b.Say("%s, twin", line.Code)
	}
	if line.CutMM > 0 {
		row.Sheet = "api/v1/made/" + folder + "/" + line.Name + "/template.pdf"
	}
	return row
}
