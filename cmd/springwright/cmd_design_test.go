package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		step float64
		want int
	}{{1, 0}, {5, 0}, {0.5, 1}, {0.25, 2}, {0.1, 1}, {0.001, 2}, {0, 0}} {
		if got := decimals(c.step); got != c.want {
			t.Errorf("decimals(%v) = %d, want %d", c.step, got, c.want)
		}
	}
}

// interrupter ends the context at the first line of progress: in the middle of the search.
type interrupter struct {
	text      bytes.Buffer // not embedded: io.WriteString would pass Write by
	interrupt context.CancelFunc
}

func (i *interrupter) Write(p []byte) (int, error) {
	if strings.Contains(string(p), "searching") {
		i.interrupt()
	}
	return i.text.Write(p)
}

func TestInterruptLeavesNothingBehind(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	stderr := &interrupter{interrupt: cancel}
	var stdout strings.Builder
	out := filepath.Join(t.TempDir(), "new", "out")
	code := run(ctx, []string{"design", "--out", out}, console{stdout: &stdout, stderr: stderr, live: true})
	if code != exitInterrupted {
		t.Errorf("exit code %d, want %d: %s", code, exitInterrupted, stderr.text.String())
	}
	if stdout.Len() > 0 || !strings.HasSuffix(stderr.text.String(), "springwright: error: interrupted, nothing was written\n") {
		t.Errorf("stdout %q, stderr %q", stdout.String(), stderr.text.String())
	}
	if _, err := os.Stat(filepath.Dir(out)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the output directory stays behind: %v", err)
	}
}
