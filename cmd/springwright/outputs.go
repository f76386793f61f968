package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// output is a file to be written.
type output struct {
	name string // inside the output directory
	data []byte
}

// pageFiles are the files of pages: one that holds all, and one for each.
func pageFiles(name string, file []byte, pages [][]byte) []output {
	files := []output{{name + ".pdf", file}}
	for i, page := range pages {
		files = append(files, output{fmt.Sprintf("%s-%d.svg", name, i+1), page})
	}
	return files
}

// written lists the files that were written.
func (t *tableText) written(dir string, files []output) {
	t.line("written to %s:", dir)
	for _, f := range files {
		t.line("  %s", filepath.Join(dir, f.name))
	}
}

// outputSet is what a command writes: files of fixed names, and pages and the like whose
// number its input decides.
type outputSet struct {
	names []string
	pages []string // patterns
}

func designOutputs() outputSet {
	return outputSet{names: []string{"template.pdf", "spring.toml", "record.json", "bends.csv", "corners.csv"}, pages: []string{"template-*.svg", "alternative-*.toml"}}
}

func comparisonOutputs() outputSet {
	return outputSet{names: []string{"comparison.pdf"}, pages: []string{"comparison-*.svg"}}
}

func springsOutputs() outputSet {
	return outputSet{names: []string{"springs.pdf"}, pages: []string{"springs-*.svg"}}
}

func measuringOutputs() outputSet {
	return outputSet{names: []string{"measuring.pdf"}, pages: []string{"measuring-*.svg"}}
}

// check finds out before the work starts whether its result may be written to dir.
func (s outputSet) check(dir string, force bool) error {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return unwritable(dir, err)
	case !info.IsDir():
		return (&failure{code: exitOutput, text: dir + " is a file, not a directory"}).hint("name another directory by --out")
	case force:
		return nil
	}
	existing, err := s.standing(dir)
	if err != nil {
		return unwritable(dir, err)
	}
	if len(existing) > 0 {
		return (&failure{code: exitOutput, text: fmt.Sprintf("%s holds %s already", dir, strings.Join(existing, ", "))}).
			hint("--force overwrites, --out DIR writes elsewhere")
	}
	return nil
}

// standing lists the files of an earlier run in dir, sorted.
func (s outputSet) standing(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		page := slices.ContainsFunc(s.pages, func(pattern string) bool {
			match, err := filepath.Match(pattern, e.Name())
			return match && err == nil
		})
		if page || slices.Contains(s.names, e.Name()) {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

func unwritable(dir string, err error) error {
	return (&failure{code: exitOutput, text: fmt.Sprintf("output cannot be written to %s: %v", dir, err)}).
		hint("name another directory by --out")
}

// write writes all files to dir, which it creates where needed, or none: they are
// written beside their places first and then renamed. The files of an earlier design give
// way, and come back if something fails or ctx ends.
func (s outputSet) write(ctx context.Context, dir string, files []output, force bool) (err error) {
	created, err := makeDirectories(dir)
	defer func() {
		if err != nil {
			removeEmpty(created)
		}
	}()
	if err != nil {
		return unwritable(dir, err)
	}
	if err := s.check(dir, force); err != nil { // much may have happened during the search
		return err
	}
	stage, err := os.MkdirTemp(dir, ".springwright-*")
	if err != nil {
		return unwritable(dir, err)
	}
	defer os.RemoveAll(stage)

	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(stage, f.name), f.data, 0o666); err != nil {
			return unwritable(dir, err)
		}
	}
	var moves renames
	defer func() {
		if err != nil {
			err = errors.Join(err, moves.undo())
		}
	}()
	earlier, err := s.standing(dir)
	if err != nil {
		return unwritable(dir, err)
	}
	for _, name := range earlier {
		if err := moves.do(filepath.Join(dir, name), filepath.Join(stage, name+".earlier")); err != nil {
			return unwritable(dir, err)
		}
	}
	for _, f := range files {
		if err := moves.do(filepath.Join(stage, f.name), filepath.Join(dir, f.name)); err != nil {
			return unwritable(dir, err)
		}
	}
	return ctx.Err()
}

// renames remembers what was renamed, to take it back.
type renames []struct{ from, to string }

func (r *renames) do(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return err
	}
	*r = append(*r, struct{ from, to string }{from, to})
	return nil
}

func (r renames) undo() error {
	var errs []error
	for _, move := range slices.Backward(r) {
		errs = append(errs, os.Rename(move.to, move.from))
	}
	return errors.Join(errs...)
}

// makeDirectories makes dir and what is missing above it, and returns what it made, the
// outermost first.
func makeDirectories(dir string) (created []string, err error) {
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); err == nil || at == filepath.Dir(at) {
			break
		}
		created = append(created, at)
	}
	slices.Reverse(created)
	return created, os.MkdirAll(dir, 0o777)
}

// removeEmpty removes directories again, the innermost first. One that somebody has
// meanwhile put something into stays.
func removeEmpty(created []string) {
	for _, dir := range slices.Backward(created) {
		_ = os.Remove(dir)
	}
}
