package batch

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"springwright/design/fault"
	"springwright/design/orders"
	"springwright/export"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
)

// quick is a case that is searched in half a second: tied slots, one starting point, two positions, no springs bent
// in trial.
func quick(t *testing.T, code string, changes ...string) orders.Order {
	t.Helper()
	text, _, err := presets.Case("l-loop")
	if err != nil {
		t.Fatal(err)
	}
	changes = append([]string{
		"starts = 0", "starts = 1", "springs = 1000", "springs = 0", "positions = 5", "positions = 2",
		"[active_slot]", "[active_slot]\nhold = \"tied\"", "[anchor_slot]", "[anchor_slot]\nhold = \"tied\"",
		"case = \"l-loop-23\"", fmt.Sprintf("case = %q", code),
	}, changes...)
	changed := strings.NewReplacer(changes...).Replace(string(text))
	if !strings.Contains(changed, fmt.Sprintf("case = %q", code)) || !strings.Contains(changed, "starts = 1\n") && !strings.Contains(changed, "starts = 1 ") {
		t.Fatalf("the preset has changed: %s", changed)
	}
	return orders.OfFile(code+".toml", 1, []byte(changed))
}

// mirrored are the changes of quick that lead to the other side.
var mirrored = []string{"active = 23", "active = 13", "anchor = 25", "anchor = 15", "joined = [26]", "joined = [16]"}

// folder is a folder of orders as the program writes it, without its care for what stands there.
type folder struct {
	dir string
	mu  sync.Mutex
	log []string // folders in the order in which they were written
}

func (f *folder) options(t *testing.T) Options {
	t.Helper()
	return Options{
		Dir: f.dir, Frame: export.Frame{Version: "0", Date: "2026-11-27"}, Program: "springwright 0", Imprint: "one",
		Render: func(job export.Job) ([]File, error) {
			bends, err := export.BendsCSV(job)
			return []File{{Name: "bends.csv", Data: bends}}, err
		},
		Write: func(_ context.Context, dir string, files []File) error {
			f.mu.Lock()
			f.log = append(f.log, filepath.Base(dir))
			f.mu.Unlock()
			if err := os.MkdirAll(dir, 0o777); err != nil {
				return err
			}
			for _, file := range files {
				if err := os.WriteFile(filepath.Join(dir, file.Name), file.Data, 0o666); err != nil {
					return err
				}
			}
			return nil
		},
		Standing: func(string) (bool, []string) { return true, nil },
	}
}

func papersOf(t *testing.T, all []Outcome) map[string]string {
	t.Helper()
	files, err := Papers(all, Day(all, "orders", export.Frame{Version: "0", Date: "2026-11-27"}, orders.UsualStockMM))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range files {
		out[f.Name] = string(f.Data)
	}
	return out
}

func treeOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		files[strings.TrimPrefix(name, dir)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func states(all []Outcome) string {
	var list []string
	for _, o := range all {
		fresh := ""
		if o.Fresh {
			fresh = "*"
		}
		list = append(list, fmt.Sprintf("%s%s: %s", o.Name, fresh, o.State))
	}
	return strings.Join(list, ", ")
}

// day is four orders: two that are each other's mirror image, one that no spring meets, and one with a fault.
func day(t *testing.T) []orders.Order {
	t.Helper()
	list := []orders.Order{
		quick(t, "a"), quick(t, "b", mirrored...),
		quick(t, "c", "extrusive_n = { min = 0.30, max = 0.60 }", "extrusive_n = { min = 0.30, max = 0.31 }", "room_distal_mm = ", "room_distal_mm = 2.0 # "),
		quick(t, "d", "active = 23", "active = 29"),
	}
	for i := range list {
		list[i].Row = i + 1
	}
	return orders.OfFiles(list)
}

// A second run makes nothing anew but what has changed; what was stopped goes on; parts, put together, are the
// whole, and so are any number of workers: same folders, same papers, byte for byte.
func TestRunAgainAndInParts(t *testing.T) {
	if testing.Short() {
		t.Skip("searches some ten springs")
	}
	t.Parallel()
	list := day(t)
	whole := &folder{dir: t.TempDir()}
	o := whole.options(t)
	var told fault.List
	o.Faulty = func(l fault.List) { told = l }
	last := Progress{}
	o.Progress = func(p Progress) { last = p }
	o.Workers = 1
	first, err := Run(t.Context(), list, o)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := states(first), "a*: made, b*: made, c*: target missed, d: faulty"; got != want {
		t.Fatalf("got %s, want %s", got, want)
	}
	if len(told) == 0 || told[0].File != "d.toml" || len(first[2].Lacking) == 0 || first[2].CutMM != 0 || first[0].CutMM <= 0 || first[1].CutMM != first[0].CutMM {
		t.Errorf("faults %v; c lacks %q, cut %g; a %g, b %g", told, first[2].Lacking, first[2].CutMM, first[0].CutMM, first[1].CutMM)
	}
	if last.Done != 4 || last.Total != 4 || last.Attention != 4 { // few of a and b would meet it
		t.Errorf("at the end progress was %+v; lacking %q, %q", last, first[0].Lacking, first[1].Lacking)
	}
	want, wantPapers := treeOf(t, whole.dir), papersOf(t, first)

	o.Workers = 3
	again, err := Run(t.Context(), list, o)
	if err != nil || states(again) != "a: made, b: made, c: target missed, d: faulty" {
		t.Errorf("a second run: %v, %s", err, states(again))
	}
	if diff := cmp.Diff(wantPapers, papersOf(t, again)); diff != "" {
		t.Error("a second run makes other papers")
	}

	parts, merged := &folder{dir: t.TempDir()}, &folder{dir: t.TempDir()}
	for number := 1; number <= 2; number++ {
		p := parts.options(t)
		p.Dir = filepath.Join(parts.dir, fmt.Sprint(number))
		p.Part, p.Workers = orders.Part{Number: number, Of: 2}, 3
		if _, err := Run(t.Context(), list, p); err != nil {
			t.Fatal(err)
		}
		if err := os.CopyFS(merged.dir, os.DirFS(p.Dir)); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(want, treeOf(t, merged.dir)); diff != "" {
		t.Errorf("the folders of two parts are not those of the whole:\n%s", diff)
	}
	all, err := Run(t.Context(), list, merged.options(t))
	if err != nil || len(merged.log) > 0 {
		t.Errorf("parts that are put together are made anew: %v, %v", merged.log, err)
	}
	if diff := cmp.Diff(wantPapers, papersOf(t, all)); diff != "" {
		t.Error("parts that are put together make other papers")
	}

	list[0] = quick(t, "a", "room_distal_mm", "room_distal_mm = 5.0 #")
	list[0].Row = 1
	list = orders.OfFiles(list)
	changed, err := Run(t.Context(), list, o)
	if err != nil || !changed[0].Fresh || changed[1].Fresh || changed[2].Fresh {
		t.Errorf("one changed order: %v, %s", err, states(changed))
	}
	o.Imprint = "another"
	other, err := Run(t.Context(), list, o)
	if err != nil || !other[0].Fresh || !other[1].Fresh || !other[2].Fresh {
		t.Errorf("another program: %v, %s", err, states(other))
	}
}

// A run that is stopped leaves its orders made or open, and the next one goes on.
func TestAStoppedRunGoesOn(t *testing.T) {
	if testing.Short() {
		t.Skip("searches three springs")
	}
	t.Parallel()
	list := day(t)[:3]
	f := &folder{dir: t.TempDir()}
	o := f.options(t)
	o.Workers = 1
	ctx, stop := context.WithCancel(t.Context())
	o.Progress = func(p Progress) {
		if p.Done == 1 {
			stop()
		}
	}
	stopped, err := Run(ctx, list, o)
	if !errors.Is(err, context.Canceled) || states(stopped) != "a*: made, b: open, c: open" {
		t.Fatalf("%v, %s", err, states(stopped))
	}
	papersOf(t, stopped)
	o.Progress = nil
	rest, err := Run(t.Context(), list, o)
	if err != nil || states(rest) != "a: made, b*: made, c*: target missed" {
		t.Errorf("%v, %s", err, states(rest))
	}
}

// An order that cannot be written, and one at which the program fails, stop no other.
func TestOneBadOrderStopsNoOther(t *testing.T) {
	if testing.Short() {
		t.Skip("searches a spring")
	}
	t.Parallel()
	list := []orders.Order{quick(t, "a"), quick(t, "b"), quick(t, "c")} // of one case
	for i := range list {
		list[i].Row = i + 1
	}
	list = orders.OfFiles(list)
	f := &folder{dir: t.TempDir()}
	o := f.options(t)
	render, write := o.Render, o.Write
	o.Render = func(job export.Job) ([]File, error) {
		if job.Case.Code == "a" {
			panic("no")
		}
		return render(job)
	}
	o.Write = func(ctx context.Context, dir string, files []File) error {
		if filepath.Base(dir) == "b" {
			return errors.New("the disk is full")
		}
		return write(ctx, dir, files)
	}
	all, err := Run(t.Context(), list, o)
	if err != nil || states(all) != "a*: not written, b*: not written, c*: made" || !slices.Equal(all[0].Lacking, []string{"a fault of the program: no"}) || !slices.Equal(all[1].Lacking, []string{"the disk is full"}) {
		t.Errorf("%v, %s, %q, %q", err, states(all), all[0].Lacking, all[1].Lacking)
	}
}

func TestLocks(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	whole, first, second := orders.Part{}, orders.Part{Number: 1, Of: 2}, orders.Part{Number: 2, Of: 2}
	lock := func(p orders.Part, free bool) func() {
		t.Helper()
		release, err := Lock(dir, p)
		if free != (err == nil) || err != nil && !errors.Is(err, ErrBusy) {
			t.Fatalf("%v: %v", p, err)
		}
		return release
	}
	all := lock(whole, true)
	lock(whole, false)
	lock(first, false)
	all()
	one, two := lock(first, true), lock(second, true)
	lock(first, false)
	lock(whole, false)
	one()
	lock(whole, false)
	lock(first, true)()
	two()
	lock(whole, true)()
	if _, err := Lock(filepath.Join(dir, "missing"), whole); err == nil || errors.Is(err, ErrBusy) {
		t.Errorf("a lock in no folder: %v", err)
	}
}

// A text of an order is no formula to a spreadsheet.
func TestSummaryHasNoFormulas(t *testing.T) {
	t.Parallel()
	all := []Outcome{{}}
	all[0].OrderOutcome.Order, all[0].Lacking, all[0].Share = "@x", []string{"=1+1"}, -1
	if got := summary(all); !bytes.Contains(got, []byte("\n'@x,")) || !bytes.Contains(got, []byte(",'=1+1,")) {
		t.Errorf("%s", got)
	}
}
