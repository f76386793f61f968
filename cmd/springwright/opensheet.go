package main

import (
	"context"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// openSheet opens the first PDF file of those that were written in the system's viewer. A system without one is
// told so; the files stand all the same.
func (c console) openSheet(ctx context.Context, dir string, files []output) {
	for _, f := range files {
		if !strings.HasSuffix(f.name, ".pdf") {
			continue
		}
		path := filepath.Join(dir, f.name)
		if absolute, err := filepath.Abs(path); err == nil {
			path = absolute
		}
		if err := openFile(ctx, path); err != nil {
			c.say("warning", "no viewer for "+path+" could be opened")
			c.say("hint", "open that file in a program that shows PDF, and print at 100 %")
		}
		return
	}
}

// openFile has the system open a file. Some systems show it in the process itself, which is left to run then.
func openFile(ctx context.Context, path string) error {
	const soon = 3 * time.Second // a system without a viewer says so at once (choice)
	name, args := systemOpener(path)
	viewer := exec.Command(name, args...)
	if err := viewer.Start(); err != nil {
		return err
	}
	done := make(chan error, 1)
	go func() { done <- viewer.Wait() }()
	select {
	case err := <-done:
		return err
	case <-time.After(soon):
	case <-ctx.Done():
	}
	return nil
}
