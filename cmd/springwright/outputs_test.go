package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestWriteOutputs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	files := []output{{"spring.toml", []byte("one")}, {"template-1.svg", []byte("two")}}
	if err := designOutputs().write(t.Context(), dir, files, false); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"spring.toml": "one", "template-1.svg": "two"}
	if diff := cmp.Diff(want, tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

func TestWriteOutputsRefusesToOverwrite(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, map[string]string{"spring.toml": "mine", "notes.txt": "notes"})
	files := []output{{"spring.toml", []byte("new")}, {"bends.csv", []byte("new")}}

	err := designOutputs().write(t.Context(), dir, files, false)
	if f := asFailure(err); err == nil || f.code != exitOutput {
		t.Fatalf("write = %v, want a failure with code %d", err, exitOutput)
	}
	if diff := cmp.Diff(map[string]string{"spring.toml": "mine", "notes.txt": "notes"}, tree(t, dir)); diff != "" {
		t.Errorf("refused, but changed (-want +got):\n%s", diff)
	}
}

// A design with fewer pages must not leave pages of an earlier one beside its own.
func TestWriteOutputsByForceReplacesAnEarlierDesign(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, map[string]string{
		"spring.toml": "old", "template-1.svg": "old", "template-2.svg": "old", "notes.txt": "notes",
	})
	files := []output{{"spring.toml", []byte("new")}, {"template-1.svg", []byte("new")}}
	if err := designOutputs().write(t.Context(), dir, files, true); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"spring.toml": "new", "template-1.svg": "new", "notes.txt": "notes"}
	if diff := cmp.Diff(want, tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

func TestWriteOutputsLeavesNothingHalfDone(t *testing.T) {
	interrupted, interrupt := context.WithCancel(t.Context())
	interrupt()
	for _, c := range []struct {
		name string
		ctx  context.Context
		last output
	}{
		{"interrupted", interrupted, output{"bends.csv", nil}},
		{"a name that cannot be written", t.Context(), output{"missing/bends.csv", nil}},
	} {
		files := []output{{"spring.toml", []byte("new")}, c.last}

		parent := t.TempDir()
		if err := designOutputs().write(c.ctx, filepath.Join(parent, "made", "here"), files, false); err == nil {
			t.Errorf("%s: no error", c.name)
		}
		if _, err := os.Stat(filepath.Join(parent, "made")); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: a directory made for the output stays", c.name)
		}

		dir := t.TempDir()
		put(t, dir, map[string]string{"spring.toml": "old", "template-3.svg": "old"})
		if err := designOutputs().write(c.ctx, dir, files, true); err == nil {
			t.Errorf("%s: no error", c.name)
		}
		if diff := cmp.Diff(map[string]string{"spring.toml": "old", "template-3.svg": "old"}, tree(t, dir)); diff != "" {
			t.Errorf("%s: the earlier design is touched (-want +got):\n%s", c.name, diff)
		}
	}
}

// The last rename fails: a directory stands in its place.
func TestWriteOutputsTakesRenamesBack(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, map[string]string{"spring.toml": "old", "blocked/file": "in the way"})
	files := []output{{"spring.toml", []byte("new")}, {"blocked", []byte("new")}}
	if err := designOutputs().write(t.Context(), dir, files, true); err == nil {
		t.Fatal("no error")
	}
	if diff := cmp.Diff(map[string]string{"spring.toml": "old", "blocked/file": "in the way"}, tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

func TestCheckOutput(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, map[string]string{"file": "", "old/template-7.svg": "", "other/notes.txt": ""})
	for _, c := range []struct {
		name  string
		force bool
		ok    bool
	}{
		{"new", false, true},
		{"other", false, true},
		{"old", false, false},
		{"old", true, true},
		{"file", false, false},
		{"file", true, false},
	} {
		if err := designOutputs().check(filepath.Join(dir, c.name), c.force); (err == nil) != c.ok {
			t.Errorf("check(%s, force %v) = %v, want allowed %v", c.name, c.force, err, c.ok)
		}
	}
}

func put(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// tree returns all files below dir, hidden ones too.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
