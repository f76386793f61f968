package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestLeftoverInTheDirectoryIsNamed has a run find what a killed one left where it was
// replacing files. What is to be done with it depends on how far that had come.
func TestLeftoverInTheDirectoryIsNamed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		files        map[string]string // in the directory
		text, advice string
	}{
		{"before anything was there", map[string]string{writingName + "/spring.toml": "new"}, "the files beside it may not be complete", "nothing in it is needed"},
		{"before the earlier files went", join(setOf(earlierDesign(), nil), writingName+"/spring.toml", "new"), "the files beside it are complete", "nothing in it is needed"},
		{"between the two", map[string]string{writingName + "/earlier/spring.toml": "old"}, "the files beside it may not be complete", "are in DIR/.springwright-writing/earlier: move them back"},
		{"after all had come", join(setOf(newDesignFiles(), nil), writingName+"/earlier/spring.toml", "old"), "the files beside it are complete", "nothing in it is needed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			put(t, dir, c.files)
			f := asFailure(writeSet(t.Context(), dir, newDesignFiles(), true))
			want := filepath.Join(dir, writingName) + " was left by a run that was killed while it wrote, unless one is still at it; " + c.text
			if f.code != exitOutput || f.text != want {
				t.Errorf("exit code %d; got\n%s\nwant\n%s", f.code, f.text, want)
			}
			advice := strings.ReplaceAll(filepath.FromSlash(c.advice), "DIR", dir)
			if len(f.hints) != 1 || !strings.Contains(f.hints[0], advice) {
				t.Errorf("hints %q, want %q", f.hints, advice)
			}
			if got := len(tree(t, dir)); got != len(c.files) {
				t.Errorf("%d files, before it were %d", got, len(c.files))
			}
		})
	}
}

func join(files map[string]string, name, text string) map[string]string {
	files[name] = text
	return files
}

// TestLeftoverBesideTheDirectoryIsNamed has it find the folder of a run that was killed
// before its directory came to be: that stops nobody.
func TestLeftoverBesideTheDirectoryIsNamed(t *testing.T) {
	t.Parallel()
	for _, base := range []string{"out", strings.Repeat("歯", 80)} { // 240 bytes: the name beside it is cut
		parent := t.TempDir()
		dir := filepath.Join(parent, base)
		left := stagePrefix(dir) + "1"
		others := stagePrefix(filepath.Join(parent, "another")) + "1"
		put(t, parent, map[string]string{left + "/spring.toml": "killed", others + "/spring.toml": "of another directory"})
		var stderr bytes.Buffer
		d, err := console{stderr: &stderr}.prepare(t.Context(), designOutputs(), dir, false)
		if err == nil {
			_, err = d.write(t.Context(), newDesignFiles())
		}
		if err != nil {
			t.Fatal(err)
		}
		want := "springwright: warning: " + filepath.Join(parent, left) + " was left by a run that was killed while it wrote, unless one is writing now\n" +
			"springwright: hint: nothing in it is needed: it may be deleted when no run is under way\n"
		if stderr.String() != want {
			t.Errorf("got\n%s\nwant\n%s", stderr.String(), want)
		}
		if data, err := os.ReadFile(filepath.Join(parent, left, "spring.toml")); err != nil || string(data) != "killed" {
			t.Errorf("the leftover holds %q, %v", data, err)
		}
	}
}

// Earlier versions wrote in a folder of another name, in the directory itself.
func TestLeftoverOfAnEarlierVersionIsNamed(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	left := filepath.Join(dir, ".springwright-1208497600")
	put(t, left, map[string]string{"spring.toml.earlier": "old"})
	var stderr bytes.Buffer
	if _, err := (console{stderr: &stderr}).prepare(t.Context(), designOutputs(), dir, false); err != nil {
		t.Fatal(err)
	}
	want := "springwright: warning: " + left + " was left by a run that was killed while it wrote, unless one is writing now\n" +
		"springwright: hint: files in it that end in .earlier are those of the run before, nothing else in it is needed: it may be deleted when no run is under way\n"
	if stderr.String() != want {
		t.Errorf("got\n%s\nwant\n%s", stderr.String(), want)
	}
}

// TestRunWaitsForAnotherOne lets a run that is at work end, and an interrupt end the waiting.
func TestRunWaitsForAnotherOne(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	lock := filepath.Join(dir, writingName)
	if err := os.Mkdir(lock, 0o777); err != nil {
		t.Fatal(err)
	}
	ctx, interrupt := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer interrupt()
	if err := writeSet(ctx, dir, newDesignFiles(), false); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("interrupted while it waited: %v", err)
	}
	time.AfterFunc(200*time.Millisecond, func() { _ = os.Remove(lock) })
	write(t, dir, newDesignFiles(), false)
}
