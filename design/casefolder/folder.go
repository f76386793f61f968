// Package casefolder reads the folder of a case: its case file, its springs and the history of its visits,
// to which it appends.
package casefolder

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/solve"
	"springwright/design/spring"
)

// The names of files in a case folder.
const (
	CaseName   = "case.toml"
	VisitsName = "visits.toml"
	lockName   = "visits.toml.adding"
)

// ErrChanged means that somebody else has written to the history meanwhile.
var ErrChanged = errors.New("the history was changed meanwhile")

// Folder is what a case folder holds.
type Folder struct {
	Dir      string
	CaseData []byte
	Case     design.Case
	Visits   []design.Visit // all, in the order of the history
	Stand    []int          // the indices of those that stand

	history []byte // "" before the first visit
	of      casefile.VisitsOf
}

// Open reads a case folder. read reads a file by its path; its errors are passed on, and so are the
// fault.List of the case file and that of the history.
func Open(ctx context.Context, dir string, read func(path string) ([]byte, error)) (*Folder, error) {
	f := &Folder{Dir: dir}
	var err error
	path := filepath.Join(dir, CaseName)
	if f.CaseData, err = read(path); err != nil {
		return nil, err
	}
	if f.Case, err = casefile.ReadCase(path, f.CaseData); err != nil {
		return nil, err
	}
	f.of = casefile.VisitsOf{
		Case: f.Case, Check: casefile.FingerprintOf(f.CaseData),
		Spring: func(name string) (spring.Spring, string, error) {
			at := filepath.Join(dir, filepath.FromSlash(name))
			data, err := read(at)
			if err != nil {
				return spring.Spring{}, "", errors.New("cannot be read")
			}
			s, err := casefile.ReadSpring(at, data)
			if err != nil {
				return spring.Spring{}, "", errors.New("is no spring file, or a faulty one")
			}
			return s, casefile.FingerprintOf(data), nil
		},
		Gauge: func(s spring.Spring) *casefile.GaugeWay {
			e, err := solve.Evaluate(ctx, s, solve.Options{AllowYield: true})
			if err != nil && !errors.Is(err, solve.ErrYield) || !e.Gauge.Solved {
				return nil
			}
			return &casefile.GaugeWay{Axis: e.Gauge.Axis, TravelMM: e.Gauge.TravelMM}
		},
	}
	path = filepath.Join(dir, VisitsName)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return f, nil
	}
	if f.history, err = read(path); err != nil {
		return nil, err
	}
	f.Visits, f.Stand, err = casefile.ReadHistory(path, f.history, f.of)
	return f, err
}

// Standing are the visits that stand.
func (f *Folder) Standing() []design.Visit {
	var list []design.Visit
	for _, i := range f.Stand {
		list = append(list, f.Visits[i])
	}
	return list
}

// Form is the blank form of the next visit.
func (f *Folder) Form() []byte { return casefile.VisitForm(f.Case, f.Standing()) }

// With reads a filled-in form, and returns the folder as it would be with it in its history.
func (f *Folder) With(name string, form []byte) (*Folder, error) {
	v, corrects, err := casefile.ReadVisit(name, form, f.of, f.Visits, f.Stand)
	if err != nil {
		return nil, err
	}
	with := *f
	with.Visits = append(f.Visits[:len(f.Visits):len(f.Visits)], v)
	with.Stand = nil
	for _, i := range f.Stand {
		if i+1 != corrects {
			with.Stand = append(with.Stand, i)
		}
	}
	with.Stand = append(with.Stand, len(f.Visits))
	with.history, err = casefile.AppendVisit(f.history, form, v, f.of)
	if err != nil {
		return nil, err
	}
	// What is written must read back.
	_, _, err = casefile.ReadHistory(filepath.Join(f.Dir, VisitsName), with.history, f.of)
	return &with, err
}

// Append writes the history of a folder that With has returned in place of that of the folder it was
// asked of. Nothing is written where the file is no longer what was read. The file is there in full or as
// it was before.
func (f *Folder) Append(with *Folder) (err error) {
	path, lock := filepath.Join(f.Dir, VisitsName), filepath.Join(f.Dir, lockName)
	file, err := os.OpenFile(lock, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%w: %s is there; where no other program is adding a visit, delete it", ErrChanged, lock)
		}
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(lock))
		}
	}()
	_, err = file.Write(with.history)
	if err == nil {
		err = file.Sync()
	}
	if closing := file.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return err
	}
	now, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		now, err = nil, nil
	}
	if err != nil {
		return err
	}
	if !bytes.Equal(now, f.history) {
		return ErrChanged
	}
	return os.Rename(lock, path)
}

// Fingerprint is the check value of all that the folder's report is made of.
func (f *Folder) Fingerprint() string { return casefile.FingerprintOf(f.CaseData, f.history) }
