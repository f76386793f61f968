package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"time"
)

// fill writes files into the directory, which exists, in place of those that stood there
// when the command began.
func (d *destination) fill(ctx context.Context, files []output) (err error) {
	stage := d.writing() // making it is the lock
	if err := d.awaitOthers(ctx, func() error { return os.Mkdir(stage, 0o777) }); err != nil {
		return err
	}
	earlier := filepath.Join(stage, earlierName)
	keep := false // what is in the stage is needed
	defer func() {
		if keep {
			return
		}
		if left := removeStage(stage, files); left != nil && err == nil {
			err = &failure{code: exitOutput, text: "all files are written, but " + stage + " cannot be removed: do that before the next run"}
		}
	}()

	found, err := d.set.standingIn(d.dir)
	if err != nil {
		return err
	}
	if err := d.set.mayGive(found, d.dir, d.force); err != nil {
		return err
	}
	if !slices.Equal(found.names, d.found.names) || !bytes.Equal(found.list, d.found.list) {
		return d.overtaken()
	}
	if err := writeStage(ctx, stage, files); err != nil {
		return d.failed(ctx, err)
	}
	if err := os.Mkdir(earlier, 0o777); err != nil {
		return unwritable(d.dir, err)
	}

	var done exchanged
	err = d.exchange(ctx, &done, found, files)
	if err == nil {
		for _, name := range found.names {
			_ = os.Remove(filepath.Join(earlier, name)) // what stays is found by the caller
		}
		_ = os.Remove(earlier)
		return nil
	}
	if undone := done.undo(); undone != nil {
		keep = true
		return (&failure{code: exitOutput, text: unwritable(d.dir, err).Error(), details: []string{"what was done cannot be taken back: " + undone.Error()}}).
			hint("the files of the run before are in %s: move them back", earlier)
	}
	_ = os.Remove(earlier)
	return d.failed(ctx, err)
}

// failed is the error of a run that has changed nothing.
func (d *destination) failed(ctx context.Context, err error) error {
	var f *failure
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.As(err, &f):
		return f
	case errors.Is(err, fs.ErrExist):
		return d.overtaken()
	}
	return unwritable(d.dir, err)
}

// exchange moves away what stands and puts the new files in. The list goes last and comes
// first: whenever the run is killed, all that stands is in it.
func (d *destination) exchange(ctx context.Context, done *exchanged, found standing, files []output) error {
	stage := d.writing()
	earlier := filepath.Join(stage, earlierName)
	var listed listing
	if found.list != nil {
		var err error
		if listed, err = d.set.parseListing(found.list); err != nil {
			return err
		}
	}
	names := slices.DeleteFunc(slices.Clone(found.names), func(name string) bool { return name == d.set.list })
	for _, name := range names {
		moved := filepath.Join(earlier, name)
		if err := done.aside(filepath.Join(d.dir, name), moved); err != nil {
			return err
		}
		// Somebody may have saved the file in between; here nobody comes by.
		if err := unchanged(moved, listed[name]); err != nil {
			return (&failure{code: exitOutput, text: filepath.Join(d.dir, name) + " was changed after it was written"}).
				hint("move it away, or name another directory by --out")
		}
	}
	if found.list != nil {
		if err := done.aside(filepath.Join(d.dir, d.set.list), filepath.Join(earlier, d.set.list)); err != nil {
			return err
		}
	}
	for _, f := range slices.Backward(files) { // the list is the last of them
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := done.in(filepath.Join(stage, f.name), filepath.Join(d.dir, f.name)); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// exchanged remembers what was put where, to take it back.
type exchanged []exchangedFile

type exchangedFile struct {
	from, to string
	ours     bool // a new file: nothing is lost with it
}

// aside puts an earlier file into a folder of our own, where nothing is in its way.
func (e *exchanged) aside(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return err
	}
	*e = append(*e, exchangedFile{from, to, false})
	return nil
}

// in puts a new file into the user's directory.
func (e *exchanged) in(from, to string) error {
	if err := renameToNew(from, to); err != nil {
		return err
	}
	*e = append(*e, exchangedFile{from, to, true})
	return nil
}

func (e exchanged) undo() error {
	var errs []error
	for _, f := range slices.Backward(e) {
		if f.ours {
			errs = append(errs, os.Remove(f.to))
		} else {
			errs = append(errs, renameToNew(f.to, f.from))
		}
	}
	return errors.Join(errs...)
}

// renameToNew gives a file a name that no other file has. Rename alone would replace the
// other one: making a second name for a file never does. Where the file system knows no second
// names (FAT), the name is first taken by an empty file of our own, which rename may replace.
func renameToNew(from, to string) error {
	err := os.Link(from, to)
	switch {
	case err == nil:
		_ = os.Remove(from) // in a folder of our own; what stays there is found at the end
		return nil
	case errors.Is(err, fs.ErrExist), errors.Is(err, fs.ErrNotExist):
		return err
	}
	taken, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	err = taken.Close()
	if err == nil {
		err = os.Rename(from, to)
	}
	if err != nil {
		_ = os.Remove(to)
	}
	return err
}

// writeStage writes files into a folder of our own, and sees them on the disk: a file that
// is renamed and not yet written would be empty after a power cut.
func writeStage(ctx context.Context, stage string, files []output) error {
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := writeNew(filepath.Join(stage, f.name), f.data); err != nil {
			return err
		}
	}
	return ctx.Err()
}

func writeNew(path string, data []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	synced := file.Sync()
	if errors.Is(synced, errors.ErrUnsupported) { // some network drives cannot
		synced = nil
	}
	return errors.Join(err, synced, file.Close())
}

// removeStage removes a folder of our own with the files that we wrote into it, and nothing
// else.
func removeStage(stage string, files []output) error {
	for _, f := range files {
		_ = os.Remove(filepath.Join(stage, f.name))
	}
	return os.Remove(stage)
}

// renameDirectory renames a folder. On Windows a program that looks at new files, such as
// a virus scanner, keeps it from being renamed for a moment.
func renameDirectory(from, to string) error {
	const tries, pause = 20, 50 * time.Millisecond // one second: choice
	for i := 1; ; i++ {
		err := os.Rename(from, to)
		if err == nil || i == tries || runtime.GOOS != "windows" || !errors.Is(err, fs.ErrPermission) {
			return err
		}
		time.Sleep(pause)
	}
}
