package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// destination is a directory that a command is to write its files to.
type destination struct {
	set   outputSet
	dir   string
	force bool
	found standing // when the command began

	console console
	only    string // the file to print instead of writing any
	open    bool   // the sheet in the system's viewer
}

const (
	// writingName is a folder in an output directory that exists while a run replaces files
	// there. Making it is the lock: no system lets two runs make one folder.
	writingName = ".springwright-writing"
	earlierName = "earlier" // in it: the files that give way
	// writingWait is how long to wait for another run: it holds the lock for some
	// milliseconds, on a slow network drive for a tenth of a second (choice).
	writingWait = 2 * time.Second
)

// stagePrefix begins the name of the folders in which the files of a new directory are
// written, beside it; a number follows.
func stagePrefix(dir string) string {
	base := filepath.Base(dir)
	const longest = 200 // bytes; file systems allow 255
	if len(base) > longest {
		base = strings.ToValidUTF8(base[:longest], "")
	}
	return ".springwright-" + base + "-"
}

// prepare finds out before the work starts whether its result may be written to dir, and
// says what a run that was killed has left there.
func (c console) prepare(ctx context.Context, set outputSet, dir string, force bool) (*destination, error) {
	if dir == "" {
		return nil, wrongCommandLine("--out names no directory")
	}
	d := &destination{set: set, dir: dir, force: force}
	exists, err := d.exists()
	if err != nil {
		return nil, err
	}
	c.nameLeftovers(filepath.Dir(filepath.Clean(dir)), stagePrefix(filepath.Clean(dir)), "nothing in it is needed")
	if !exists {
		return d, nil
	}
	// Where version 0.1 had them.
	c.nameLeftovers(dir, ".springwright-", "files in it that end in .earlier are those of the run before, nothing else in it is needed")
	if err := d.awaitOthers(ctx, func() error {
		_, err := os.Lstat(d.writing())
		switch {
		case err == nil:
			return fs.ErrExist
		case errors.Is(err, fs.ErrNotExist):
			return nil
		}
		return err
	}); err != nil {
		return nil, err
	}
	if d.found, err = set.standingIn(dir); err != nil {
		return nil, err
	}
	return d, set.mayGive(d.found, dir, force)
}

// exists tells whether the directory is there; the error is about anything else of its name.
func (d *destination) exists() (bool, error) {
	info, err := os.Stat(d.dir)
	_, linkErr := os.Lstat(d.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist) && linkErr == nil:
		return false, (&failure{code: exitOutput, text: d.dir + " is a link that leads nowhere"}).hint("name another directory by --out")
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, unwritable(d.dir, err)
	case !info.IsDir():
		return false, (&failure{code: exitOutput, text: d.dir + " is a file, not a directory"}).hint("name another directory by --out")
	}
	return true, nil
}

// nameLeftovers says which folders in parent were left by a run that was killed before its
// output directory came to be, and what they are worth. They are only named: one may belong
// to a run that is writing.
func (c console) nameLeftovers(parent, prefix, worth string) {
	entries, err := os.ReadDir(parent)
	if err != nil {
		return // the directory above may not be readable, and need not be
	}
	for _, e := range entries {
		if number, ok := strings.CutPrefix(e.Name(), prefix); ok && number != "" && digits(number) && e.IsDir() {
			c.say("warning", filepath.Join(parent, e.Name())+" was left by a run that was killed while it wrote, unless one is writing now")
			c.say("hint", worth+": it may be deleted when no run is under way")
		}
	}
}

func (d *destination) writing() string { return filepath.Join(d.dir, writingName) }

// awaitOthers calls try until it no longer says that something exists, for as long as
// another run may take to write.
func (d *destination) awaitOthers(ctx context.Context, try func() error) error {
	const pause = 20 * time.Millisecond
	for deadline := time.Now().Add(writingWait); ; {
		err := try()
		switch {
		case err == nil:
			return nil
		case !errors.Is(err, fs.ErrExist):
			return unwritable(d.dir, err)
		case time.Now().After(deadline):
			return d.abandoned()
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pause):
		}
	}
}

// abandoned says what the folder of a run that was killed is.
func (d *destination) abandoned() error {
	text := d.writing() + " was left by a run that was killed while it wrote, unless one is still at it"
	earlier := filepath.Join(d.writing(), earlierName)
	if d.set.intact(d.dir) {
		return (&failure{code: exitOutput, text: text + "; the files beside it are complete"}).
			hint("nothing in it is needed: delete it, or name another directory by --out")
	}
	f := &failure{code: exitOutput, text: text + "; the files beside it may not be complete"}
	if entries, err := os.ReadDir(earlier); err == nil && len(entries) > 0 {
		return f.hint("the files of the run before are in %s: move them back or delete the folder, or name another directory by --out", earlier)
	}
	return f.hint("nothing in it is needed: delete it, or name another directory by --out")
}

func unwritable(dir string, err error) error {
	return (&failure{code: exitOutput, text: fmt.Sprintf("output cannot be written to %s: %v", dir, err)}).
		hint("name another directory by --out")
}

// write writes all files and the list of them, or none, and returns what it wrote. A new
// directory appears with all files in it by one rename. In one that exists files of an
// earlier run give way first, and come back if something fails or ctx ends; the new ones
// then come in one after the other, so that a run that is killed in between leaves fewer
// files than it should, but never new ones beside old ones.
func (d *destination) write(ctx context.Context, files []output) (all []output, err error) {
	if d.dir == dash {
		return nil, d.console.printOnly(files, d.only)
	}
	all, err = d.writeFiles(ctx, files)
	if err == nil && d.open {
		d.console.openSheet(ctx, d.dir, files)
	}
	return all, err
}

func (d *destination) writeFiles(ctx context.Context, files []output) (all []output, err error) {
	files = append(slices.Clone(files), output{d.set.list, listingOf(files).bytes()})
	exists, err := d.exists()
	switch {
	case err != nil:
		return nil, err
	case exists:
		return files, d.fill(ctx, files)
	}
	created, err := makeDirectories(filepath.Dir(filepath.Clean(d.dir)))
	if err != nil {
		removeEmpty(created)
		return nil, unwritable(d.dir, err)
	}
	if err := d.create(ctx, files); err != nil {
		removeEmpty(created)
		return nil, err
	}
	return files, nil
}

// create makes the directory with all files in it.
func (d *destination) create(ctx context.Context, files []output) error {
	dir := filepath.Clean(d.dir)
	stage, err := makeStage(filepath.Dir(dir), stagePrefix(dir))
	if err != nil {
		return unwritable(d.dir, err)
	}
	if err = writeStage(ctx, stage, files); err == nil {
		err = renameDirectory(stage, dir)
	}
	if err == nil {
		return nil
	}
	_ = removeStage(stage, files) // what stays is named by the next run
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if _, there := os.Lstat(dir); there == nil {
		return d.overtaken()
	}
	return unwritable(d.dir, err)
}

// overtaken says that another run was faster.
func (d *destination) overtaken() error {
	return (&failure{code: exitOutput, text: d.dir + " has changed since this run began: another one has written to it"}).
		hint("look at what is there, or name another directory by --out")
}

// makeStage makes a folder that no other run has. (os.MkdirTemp makes folders that nobody
// else may look into.)
func makeStage(parent, prefix string) (string, error) {
	const most = 10000 // leftovers, each of which was named at every run since
	for i := 1; ; i++ {
		stage := filepath.Join(parent, prefix+strconv.Itoa(i))
		if err := os.Mkdir(stage, 0o777); err == nil || !errors.Is(err, fs.ErrExist) || i == most {
			return stage, err
		}
	}
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
