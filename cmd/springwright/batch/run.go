package batch

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/orders"
	"springwright/export"
)

// File is a file to be written, by its name inside its folder.
type File = export.File

// Options sets how a list is made. Render, Write and FreePath are those of the program.
type Options struct {
	Dir     string // where the folders of the orders are; it exists
	Part    orders.Part
	Frame   export.Frame
	Anyway  bool   // the nearest spring is drawn where none meets the target
	Program string // name and version, as files tell
	Imprint string // tells this program from any other that may make other files
	Workers int    // orders at a time; 0: one for each core

	// Render makes the files of a spring.
	Render func(export.Job) ([]File, error)
	// Write writes all files of an order or none into a folder of Dir, in place of what an earlier run has
	// written there as it wrote it; anything else stops it.
	Write func(ctx context.Context, dir string, files []File) error
	// Standing tells whether all files that Write wrote into a folder are there, and which of them were changed since.
	Standing func(dir string) (whole bool, changed []string)
	// FreePath reads the spring file that a case asks for, and adds it to the text that decides the design.
	FreePath func(ctx context.Context, caseFile string, text []byte, c *design.Case) ([]byte, error)
	// Faulty is told what is wrong with orders, all at once, before the others are made; may be nil.
	Faulty func(fault.List)
	// Each is told what became of each order once that is known, by one goroutine at a time; may be nil.
	Each func(Outcome)
	// Progress is told how far the run is, by one goroutine at a time; may be nil.
	Progress func(Progress)
}

// Progress is how far a run is.
type Progress struct {
	Done, Total int           // springs
	Attention   int           // of those done, how many are not simply made
	Left        time.Duration // 0: not known yet
}

// Outcome is what became of an order.
type Outcome struct {
	Order orders.Order
	casefile.OrderOutcome
	State  orders.State
	Faults error // of a faulty order: a fault.List
	Fresh  bool  // made by this run, not by an earlier one
}

// Run makes the orders of the list that belong to the part, and returns what became of them in the order of the
// day. Orders that an earlier run has made of the same input are left as they are. At the end of ctx the orders
// that are not made yet are Open, and the error is that of ctx.
func Run(ctx context.Context, list []orders.Order, o Options) ([]Outcome, error) {
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var all []Outcome
	for _, order := range orders.OfTheDay(list) {
		if o.Part.Has(order) {
			all = append(all, Outcome{Order: order, OrderOutcome: casefile.OrderOutcome{
				Order: order.Code, Name: order.Name, Twin: order.Twin, Row: order.Row, Due: order.Due.String(), Share: -1,
			}})
		}
	}
	r := &run{Options: o, all: all, begun: time.Now()}
	keys := make([]string, len(all))
	sideBySide(workers, len(all), func(i int) {
		if ctx.Err() == nil {
			keys[i] = r.look(ctx, &all[i])
		}
	})
	var groups [][]int // those of one case, on either side of the mouth, the most urgent first
	place := map[string]int{}
	for i, key := range keys {
		if key == "" {
			r.done++
			r.count(all[i])
			r.tellOf(all[i])
			continue
		}
		at, known := place[key]
		if !known {
			at = len(groups)
			place[key] = at
			groups = append(groups, nil)
		}
		groups[at] = append(groups[at], i)
	}
	r.before = r.done
	r.tellFaults()
	r.tell()
	each := max(1, workers/max(1, len(groups))) // of a search, where there are fewer searches than cores
	sideBySide(workers, len(groups), func(g int) {
		r.makeGroup(ctx, groups[g], each)
	})
	return all, ctx.Err()
}

// tellFaults tells all faults in the order of the list. Those of a twin are those of its spring.
func (r *run) tellFaults() {
	var faults fault.List
	seen := map[fault.Fault]bool{}
	for _, o := range r.all {
		list, ok := o.Faults.(fault.List)
		if o.Faults != nil && !ok {
			list = fault.List{{Key: o.Name, Text: o.Faults.Error()}}
		}
		for _, f := range list {
			if !seen[f] {
				seen[f] = true
				faults = append(faults, f)
			}
		}
	}
	if err := faults.Err(); err != nil && r.Faulty != nil {
		r.Faulty(err.(fault.List))
	}
}

// run is a run under way.
type run struct {
	Options
	all   []Outcome
	begun time.Time

	mu              sync.Mutex
	done, attention int
	before          int // done by earlier runs
}

func (r *run) count(o Outcome) {
	if o.State != orders.Made || len(o.Lacking) > 0 {
		r.attention++
	}
}

// tick notes that an order is done.
func (r *run) tick(o Outcome) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done++
	r.count(o)
	r.tellOf(o)
	r.tell()
}

func (r *run) tellOf(o Outcome) {
	if r.Each != nil {
		r.Each(o)
	}
}

func (r *run) tell() {
	if r.Progress == nil {
		return
	}
	p := Progress{Done: r.done, Total: len(r.all), Attention: r.attention}
	if fresh := r.done - r.before; fresh > 0 {
		p.Left = time.Since(r.begun) * time.Duration(p.Total-p.Done) / time.Duration(fresh)
	}
	r.Progress(p)
}

// CaseNames are those of the files of a folder that are its cases, in the order given: a spring file that the desk
// keeps beside its case is none.
func CaseNames(files []string) []string {
	const ending = ".toml"
	var cases []string
	for _, name := range files {
		stem, isTOML := strings.CutSuffix(name, ending)
		of, isSpring := strings.CutSuffix(stem, "-spring")
		if isTOML && !strings.HasPrefix(stem, ".") && !(isSpring && slices.Contains(files, of+ending)) {
			cases = append(cases, name)
		}
	}
	return cases
}

// sideBySide calls do for every number below n, so many at a time, the lower ones first.
func sideBySide(workers, n int, do func(i int)) {
	next := make(chan int)
	var ended sync.WaitGroup
	for range min(workers, n) {
		ended.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	ended.Wait()
}

// look reads an order and what an earlier run has made of it. Where it is to be made, it returns a key that is
// the same for orders of one case on either side of the mouth; else "".
func (r *run) look(ctx context.Context, o *Outcome) (key string) {
	text, c, err := r.read(ctx, o.Order)
	if err != nil {
		o.State, o.Faults = orders.Faulty, err
		o.Lacking = faultLines(err)
		return ""
	}
	o.Teeth = c.Teeth
	o.Input = r.input(o.Order, text)
	o.Fingerprint = casefile.Fingerprint(text, c.Search)
	if r.standing(o) {
		return ""
	}
	return sameCase(c)
}

func (r *run) read(ctx context.Context, o orders.Order) (text []byte, c design.Case, err error) {
	if text, c, err = o.Case(); err != nil || c.SpringFile == "" {
		return text, c, err
	}
	text, err = r.FreePath(ctx, o.CaseFile(), text, &c)
	return text, c, err
}

// input is a check value of all that decides the files of an order.
func (r *run) input(o orders.Order, text []byte) string {
	f := r.Frame
	f.Date, f.Fingerprint = "", "" // the day on which it was made stands on it, and makes no other spring
	h := sha256.New()
	fmt.Fprintf(h, "%s\x00%q %v %#v %v\x00", r.Imprint, o.Code, o.Twin, f, r.Anyway)
	h.Write(text)
	return hex.EncodeToString(h.Sum(nil))[:inputDigits]
}

const inputDigits = 32 // of SHA-256: nobody finds another input of the same value

// sameCase is the same for cases that differ in code, title and side of the mouth alone.
func sameCase(c design.Case) string {
	if c.Hand() < 0 {
		c = c.Mirrored()
	}
	c.Code, c.Title = "", ""
	sum := sha256.Sum256(fmt.Appendf(nil, "%#v", c))
	return hex.EncodeToString(sum[:])
}

// faultLines says what an error tells, an item a fault: where a list is at fault, the order's row is told beside it.
func faultLines(err error) []string {
	var lines []string
	list, _ := err.(fault.List)
	for _, f := range list {
		text := f.Text
		if f.Key != "" && !strings.HasPrefix(f.Key, "row ") {
			text = f.Key + ": " + text
		}
		if f.Hint != "" {
			text += " (" + f.Hint + ")"
		}
		lines = append(lines, text)
	}
	if list != nil {
		return lines
	}
	for line := range strings.Lines(err.Error()) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// Imprint tells a program from others: the check value of its own file, in which all of it is.
func Imprint() string {
	name, err := os.Executable()
	if err != nil {
		return ""
	}
	data, err := os.ReadFile(filepath.Clean(name))
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
