package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"springwright/cmd/springwright/batch"
	"springwright/design/orders"
	"springwright/export"
	"springwright/presets"
)

// orderStarts are what the rows of a list may start from.
func orderStarts(ctx context.Context, list string) orders.Starts {
	return orders.Starts{
		Presets: presets.Names(),
		Preset: func(name string) ([]byte, error) {
			text, _, err := presets.Case(name)
			return text, err
		},
		CaseFile: func(name string) ([]byte, error) { return readInput(ctx, besideList(list, name)) },
	}
}

// renderOrder makes the files of an order: those of a design but for the SVG files, of which a hundred orders
// would have six hundred.
func renderOrder(job export.Job) ([]batch.File, error) {
	template, err := export.SheetFile(job)
	if err != nil {
		return nil, err
	}
	data, err := renderData(job)
	files := []batch.File{{Name: "template.pdf", Data: template}}
	for _, f := range data {
		files = append(files, batch.File{Name: f.name, Data: f.data})
	}
	return files, err
}

func outputsOf(files []batch.File) []output {
	var out []output
	for _, f := range files {
		out = append(out, output{f.Name, f.Data})
	}
	return out
}

// prepareOver prepares a directory whose earlier files of the set give way, after what a run that was killed has
// left of them: the lock of the batch tells that nobody else is at it.
func prepareOver(ctx context.Context, set outputSet, dir string) (*destination, error) {
	set.removeLeftovers(dir)
	return console{stderr: io.Discard}.prepare(ctx, set, dir, true)
}

// writeOrder writes the files of an order into a folder of its own.
func writeOrder(ctx context.Context, dir string, files []batch.File) error {
	set := orderOutputs()
	if err := set.own(dir); err != nil {
		return err
	}
	place, err := prepareOver(ctx, set, dir)
	if err == nil {
		_, err = place.write(ctx, outputsOf(files))
	}
	return err
}

// own tells whether a folder is missing, empty, or one that the program made: an order is not to be laid among
// what the user keeps there, nor where a link leads.
func (s outputSet) own(dir string) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return withoutOperation(dir, err)
	case !info.IsDir():
		return fmt.Errorf("%s is no folder, and in the way of the order", dir)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return withoutOperation(dir, err)
	}
	used := false
	for _, e := range entries {
		if e.Name() == s.list {
			return nil
		}
		used = used || !strings.HasPrefix(e.Name(), ".")
	}
	if used {
		return fmt.Errorf("%s is a folder that no batch has made, and in the way of the order", dir)
	}
	return nil
}

// removeLeftovers removes what runs that were killed have left of a set beside and in a directory: folders of the
// program's own with files of the set's names, and nothing else.
func (s outputSet) removeLeftovers(dir string) {
	dir = filepath.Clean(dir)
	parent, prefix := filepath.Dir(dir), stagePrefix(dir)
	if stages, err := filepath.Glob(filepath.Join(globSafe(parent), globSafe(prefix)+"*")); err == nil {
		for _, stage := range stages {
			if number := strings.TrimPrefix(filepath.Base(stage), prefix); number != "" && digits(number) {
				s.removeOwn(stage)
			}
		}
	}
	writing := filepath.Join(dir, writingName)
	s.removeOwn(filepath.Join(writing, earlierName))
	s.removeOwn(writing)
}

// globSafe is a name that stands for itself in a pattern.
func globSafe(name string) string {
	if filepath.Separator == '\\' {
		return name // Windows takes no * ? in names, and \ does not escape there
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(name)
}

func (s outputSet) removeOwn(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		if s.owns(e.Name()) && e.Type().IsRegular() {
			_ = os.Remove(filepath.Join(folder, e.Name()))
		}
	}
	_ = os.Remove(folder) // stays where something else is in it, and is then named
}

// orderStanding tells whether all files of an order are there, and which were changed since they were written.
func orderStanding(dir string) (whole bool, changed []string) {
	set := orderOutputs()
	set.removeLeftovers(dir)
	found, err := set.standingIn(dir)
	if err != nil || found.list == nil {
		return false, nil
	}
	listed, err := set.parseListing(found.list)
	if err != nil {
		return false, nil
	}
	for _, name := range found.names {
		if sum, known := listed[name]; known {
			if unchanged(filepath.Join(dir, name), sum) != nil {
				changed = append(changed, name)
			}
			delete(listed, name)
		}
	}
	return len(listed) == 0, changed
}
