//go:build unix

package main

import (
	"errors"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestHalfAFileIsTakenAway: a file of its own that finds no room, as on a full disk, is not left cut short. A plate
// without its upper part would print.
func TestHalfAFileIsTakenAway(t *testing.T) { // not parallel: the limit holds for the whole process
	const roomBytes = 4096
	var before syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &before); err != nil {
		t.Skip(err)
	}
	signal.Ignore(syscall.SIGXFSZ) // the write then fails, as on a full disk
	tight := before
	tight.Cur = roomBytes
	name := filepath.Join(t.TempDir(), "jig.stl")
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &tight); err != nil {
		t.Skip(err)
	}
	err := writeOwnFile(name, make([]byte, 3*roomBytes))
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &before); err != nil {
		t.Fatal(err)
	}
	signal.Reset(syscall.SIGXFSZ)
	var f *failure
	if !errors.As(err, &f) || f.code != exitOutput || len(f.hints) == 0 || strings.Contains(f.hints[0], "does not exist yet") {
		t.Errorf("%v: want exit code %d and a hint about room", err, exitOutput)
	}
	if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file cut short is left (%v)", err)
	}
}
