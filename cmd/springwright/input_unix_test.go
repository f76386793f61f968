//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestPipeThatNobodyWritesToCanBeInterrupted reads a named pipe, which waits, at every place
// where a file is read.
func TestPipeThatNobodyWritesToCanBeInterrupted(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe.toml")
	if err := syscall.Mkfifo(pipe, 0o666); err != nil {
		t.Skip(err)
	}
	spring := filepath.Join("testdata", "straight.toml")
	for _, args := range [][]string{
		{"design", pipe},
		{"evaluate", pipe},
		{"compare", "--spring", pipe},
		{"sheet", pipe, "--active", "37", "--anchor", "36"},
		{"sheet", spring, "--cases", pipe},
	} {
		for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
			command := exec.Command("springwright", args...)
			var stderr strings.Builder
			command.Stderr = &stderr
			if err := command.Start(); err != nil {
				t.Fatal(err)
			}
			hung := time.AfterFunc(20*time.Second, func() { _ = command.Process.Kill() }) // a machine may be busy
			writer := opened(t, pipe)
			if err := command.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			_ = command.Wait() // the code tells
			hung.Stop()
			_ = writer.Close()
			if got, want := stderr.String(), "springwright: error: interrupted, nothing was written\n"; command.ProcessState.ExitCode() != exitInterrupted || got != want {
				t.Errorf("%v by %v: exit code %d, want %d; it says %q", args, signal, command.ProcessState.ExitCode(), exitInterrupted, got)
			}
		}
	}
}

// opened opens a named pipe for writing as soon as somebody reads it.
func opened(t *testing.T, pipe string) *os.File {
	t.Helper()
	for range 2000 { // 20 s
		if writer, err := os.OpenFile(pipe, os.O_WRONLY|syscall.O_NONBLOCK, 0); err == nil {
			return writer
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("nobody reads the pipe")
	return nil
}
