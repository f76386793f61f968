package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"springwright/design/casefile"
	"springwright/presets"
)

// libraryUser is a program of somebody who uses the packages: four calls from a case to paper. Its
// arguments are the directory to write to, version, date and fingerprint.
const libraryUser = `package main

import (
	"context"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"springwright/design/report"
	"springwright/export"
	"springwright/optimize"
	"springwright/presets"
)

func main() {
	ctx := context.Background()
	_, c, err := presets.Case(presets.Demo)
	check(err)
	found, err := optimize.Search(ctx, c, optimize.Options{})
	check(err)
	made, err := report.Of(ctx, c, found.Spring, report.Options{Evaluation: &found.Evaluation})
	check(err)
	frame := export.Frame{Version: os.Args[2], Date: os.Args[3], Fingerprint: os.Args[4]}
	job := export.Job{Report: made, Frame: frame}
	_, pages, err := export.Sheets(job)
	check(err)
	for i, page := range pages {
		check(os.WriteFile(filepath.Join(os.Args[1], fmt.Sprintf("template-%d.svg", i+1)), page, 0o666))
	}
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
`

// Whoever uses the packages gets the pages of the program, byte for byte: checks, warnings, play
// and the page of the teeth included.
func TestLibrariesGetTheSamePages(t *testing.T) {
	if testing.Short() {
		t.Skip("searches the demo twice and builds a module")
	}
	t.Parallel()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	dir, own, theirs := t.TempDir(), t.TempDir(), t.TempDir()
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	// The same versions of the modules behind, which the module cache has.
	mod = bytes.Replace(mod, []byte("module springwright\n"), []byte("module user\n"), 1)
	mod = append(mod, fmt.Sprintf("\nrequire springwright v0.0.0\n\nreplace springwright => %s\n", root)...)
	for name, data := range map[string][]byte{"go.mod": mod, "go.sum": sums, "main.go": []byte(libraryUser)} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	const date = "2026-11-24"
	text, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	user := exec.CommandContext(t.Context(), "go", "run", ".", theirs, version, date, casefile.Fingerprint(text, c.Search))
	user.Dir = dir
	user.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOPROXY=off", "GOWORK=off")
	if out, err := user.CombinedOutput(); err != nil {
		t.Fatalf("%v:\n%s", err, out)
	}
	program := exec.CommandContext(t.Context(), "springwright", "design", "--out", filepath.Join(own, "out"), "--quiet")
	program.Env = append(os.Environ(), "SOURCE_DATE_EPOCH=1795478400") // that date
	if out, err := program.CombinedOutput(); err != nil {
		t.Fatalf("%v:\n%s", err, out)
	}
	const pages = 6
	for i := 1; i <= pages; i++ {
		name := fmt.Sprintf("template-%d.svg", i)
		want, err := os.ReadFile(filepath.Join(own, "out", name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(theirs, name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs from the program's: %d and %d bytes", name, len(got), len(want))
		}
	}
	if _, err := os.Stat(filepath.Join(theirs, fmt.Sprintf("template-%d.svg", pages+1))); err == nil {
		t.Errorf("more than %d pages", pages)
	}
}
