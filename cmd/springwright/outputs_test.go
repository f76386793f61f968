package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// writeSet writes files to dir as a command would: prepared before, written after the work.
func writeSet(ctx context.Context, dir string, files []output, force bool) error {
	d, err := console{stderr: io.Discard}.prepare(ctx, designOutputs(), dir, force)
	if err != nil {
		return err
	}
	_, err = d.write(ctx, files)
	return err
}

// setOf is what stands in a directory after files were written to it.
func setOf(files []output, others map[string]string) map[string]string {
	set := map[string]string{designOutputs().list: string(listingOf(files).bytes())}
	for _, f := range files {
		set[f.name] = string(f.data)
	}
	for name, text := range others {
		set[name] = text
	}
	return set
}

func earlierDesign() []output {
	return []output{{"spring.toml", []byte("old")}, {"template-1.svg", []byte("old 1")}, {"template-2.svg", []byte("old 2")}}
}

func newDesignFiles() []output {
	return []output{{"spring.toml", []byte("new")}, {"template-1.svg", []byte("new 1")}, {"bends.csv", []byte("new bends")}}
}

// refused holds that a run was refused for its output and named what stood in
// its way.
func refused(t *testing.T, err error, naming string) {
	t.Helper()
	if err == nil {
		t.Fatal("no error")
	}
	f := asFailure(err)
	if f.code != exitOutput {
		t.Errorf("exit code %d of %v, want %d", f.code, err, exitOutput)
	}
	if text := strings.Join(append([]string{f.text}, f.details...), "\n"); !strings.Contains(text, naming) {
		t.Errorf("the error does not name %s: %s", naming, text)
	}
}

func TestWriteOutputs(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "a", "b")
	if err := writeSet(t.Context(), dir, earlierDesign(), false); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(setOf(earlierDesign(), nil), tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
	sum := checksum([]byte("old 1"))
	if list := string(listingOf(earlierDesign()).bytes()); !strings.Contains(list, sum+"  template-1.svg\n") {
		t.Errorf("list of files:\n%s", list)
	}
	names, err := os.ReadDir(filepath.Dir(dir))
	if err != nil || len(names) != 1 {
		t.Errorf("beside the directory: %v, %v", names, err)
	}
}

func TestWriteOutputsRefusesToOverwrite(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	mine := map[string]string{"spring.toml": "mine", "notes.txt": "notes"}
	put(t, dir, mine)
	refused(t, writeSet(t.Context(), dir, newDesignFiles(), false), "spring.toml")
	if diff := cmp.Diff(mine, tree(t, dir)); diff != "" {
		t.Errorf("refused, but changed (-want +got):\n%s", diff)
	}
}

// A design with fewer pages must not leave pages of an earlier one beside its own.
func TestWriteOutputsByForceReplacesAnEarlierDesign(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	// Names that this program never gives are nobody's business but the user's.
	mine := map[string]string{
		"notes.txt": "notes", "template-0.svg": "mine", "template-01.svg": "mine", "template-.svg": "mine", "template-1a.svg": "mine",
		"template-mine.svg/sketch.txt": "mine", "measuring-1.svg": "mine", ".springwright-mine/a": "mine",
	}
	put(t, dir, mine)
	if err := writeSet(t.Context(), dir, earlierDesign(), false); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, "template-1.svg")); err != nil { // by the user
		t.Fatal(err)
	}
	if err := writeSet(t.Context(), dir, newDesignFiles(), true); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(setOf(newDesignFiles(), mine), tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

// TestForceStopsAtWhatIsTheUsers puts something of the user's in the way of a design that
// replaces an earlier one. It must be named and stay, with all that is round it.
func TestForceStopsAtWhatIsTheUsers(t *testing.T) {
	t.Parallel()
	list := designOutputs().list
	sum := checksum([]byte("mine"))
	for _, c := range []struct {
		name  string
		files map[string]string // put over the earlier design
		named string
	}{
		{"a file that was changed", map[string]string{"spring.toml": "mine"}, "spring.toml was changed"},
		{"a changed page that would not come again", map[string]string{"template-2.svg": "mine"}, "template-2.svg was changed"},
		{"a file that no run wrote", map[string]string{"bends.csv": "mine"}, "bends.csv is not known"},
		{"a page that no run wrote", map[string]string{"template-3.svg": "mine"}, "template-3.svg is not known"},
		{"a folder", map[string]string{"template-3.svg/mine": "mine"}, "template-3.svg is not known"},
		{"other capitals", map[string]string{"Bends.CSV": "mine"}, "Bends.CSV is not known"},
		{"a list of something else", map[string]string{list: "the files of my design"}, list},
		{"a list that somebody wrote into", map[string]string{list: sum + "  spring.toml\nmy remark\n"}, list},
		{"a list of other files", map[string]string{list: sum + "  notes.txt\n"}, list},
		{"a list of files elsewhere", map[string]string{list: sum + "  ../notes.txt\n"}, list},
		{"an empty list", map[string]string{list: ""}, list},
	} {
		dir := t.TempDir()
		put(t, dir, map[string]string{"notes.txt": "notes"})
		if err := writeSet(t.Context(), dir, earlierDesign(), false); err != nil {
			t.Fatal(err)
		}
		put(t, dir, c.files)
		before := tree(t, dir)
		t.Run(c.name, func(t *testing.T) {
			refused(t, writeSet(t.Context(), dir, newDesignFiles(), true), c.named)
			if diff := cmp.Diff(before, tree(t, dir)); diff != "" {
				t.Errorf("refused, but changed (-want +got):\n%s", diff)
			}
		})
	}
}

// A link in the place of a file that an earlier run wrote leads to something of the user's,
// even where that has the bytes that were written.
func TestForceStopsAtLinks(t *testing.T) {
	t.Parallel()
	for _, target := range []string{"precious", "missing"} {
		dir := t.TempDir()
		if err := writeSet(t.Context(), dir, earlierDesign(), false); err != nil {
			t.Fatal(err)
		}
		put(t, dir, map[string]string{"precious": "old"})
		link := filepath.Join(dir, "spring.toml")
		if err := os.Remove(link); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(target, link); err != nil {
			t.Skip(err) // needs a right on Windows
		}
		refused(t, writeSet(t.Context(), dir, newDesignFiles(), true), "spring.toml is not a file")
		if got, err := os.Readlink(link); err != nil || got != target {
			t.Errorf("the link leads to %q, %v", got, err)
		}
		if data, err := os.ReadFile(filepath.Join(dir, "precious")); err != nil || string(data) != "old" {
			t.Errorf("the file behind the link holds %q, %v", data, err)
		}
	}
}

// Files that come while the search runs are in nobody's way before, and stop the run.
func TestWriteOutputsRefusesWhatCameMeanwhile(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		before bool // an earlier design stands, and is to be replaced
		come   func(t *testing.T, dir string)
		want   map[string]string
	}{
		{"the user's file", false, func(t *testing.T, dir string) { put(t, dir, map[string]string{"bends.csv": "mine"}) }, map[string]string{"bends.csv": "mine"}},
		{"another design", false, func(t *testing.T, dir string) { write(t, dir, earlierDesign(), false) }, setOf(earlierDesign(), nil)},
		{"another design by force", true, func(t *testing.T, dir string) { write(t, dir, newDesignFiles(), true) }, setOf(newDesignFiles(), nil)},
		{"a changed file", true, func(t *testing.T, dir string) { put(t, dir, map[string]string{"template-1.svg": "mine"}) }, func() map[string]string {
			set := setOf(earlierDesign(), nil)
			set["template-1.svg"] = "mine"
			return set
		}()},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			if c.before {
				write(t, dir, earlierDesign(), false)
			}
			d, err := console{stderr: io.Discard}.prepare(t.Context(), designOutputs(), dir, true)
			if err != nil {
				t.Fatal(err)
			}
			c.come(t, dir)
			_, err = d.write(t.Context(), []output{{"spring.toml", []byte("late")}, {"bends.csv", []byte("late")}})
			refused(t, err, filepath.Base(dir))
			if diff := cmp.Diff(c.want, tree(t, dir)); diff != "" {
				t.Errorf("files (-want +got):\n%s", diff)
			}
		})
	}
}

func write(t *testing.T, dir string, files []output, force bool) {
	t.Helper()
	if err := writeSet(t.Context(), dir, files, force); err != nil {
		t.Fatal(err)
	}
}

func TestWriteOutputsLeavesNothingHalfDone(t *testing.T) {
	t.Parallel()
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
		if err := writeSet(c.ctx, filepath.Join(parent, "made", "here"), files, false); err == nil {
			t.Errorf("%s: no error", c.name)
		}
		if names, err := os.ReadDir(parent); err != nil || len(names) > 0 {
			t.Errorf("%s: left behind: %v, %v", c.name, names, err)
		}

		dir := t.TempDir()
		write(t, dir, earlierDesign(), false)
		if err := writeSet(c.ctx, dir, files, true); err == nil {
			t.Errorf("%s: no error", c.name)
		}
		if diff := cmp.Diff(setOf(earlierDesign(), nil), tree(t, dir)); diff != "" {
			t.Errorf("%s: the earlier design is touched (-want +got):\n%s", c.name, diff)
		}
	}
}

// The last file cannot come in: a directory stands in its place, where no file of a design
// would stand.
func TestWriteOutputsTakesExchangesBack(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	write(t, dir, earlierDesign(), false)
	mine := map[string]string{"blocked/file": "in the way"}
	put(t, dir, mine)
	files := []output{{"blocked", []byte("new")}, {"spring.toml", []byte("new")}} // the last are put first
	refused(t, writeSet(t.Context(), dir, files, true), dir)
	if diff := cmp.Diff(setOf(earlierDesign(), mine), tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
	if _, err := os.Lstat(filepath.Join(dir, writingName)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the folder of the run stays: %v", err)
	}
}

// Nothing is replaced where there are no second names, either: the case of FAT, and that of
// folders everywhere.
func TestRenameToNewReplacesNothing(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	put(t, dir, map[string]string{"file": "mine", "other": "other", "folder/file": "mine too"})
	for _, from := range []string{"other", "folder"} {
		if err := renameToNew(filepath.Join(dir, from), filepath.Join(dir, "file")); !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s to the name of a file: %v, want that it exists", from, err)
		}
	}
	if err := renameToNew(filepath.Join(dir, "missing"), filepath.Join(dir, "new")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file: %v", err)
	}
	if err := renameToNew(filepath.Join(dir, "other"), filepath.Join(dir, "new")); err != nil {
		t.Error(err)
	}
	want := map[string]string{"file": "mine", "new": "other", "folder/file": "mine too"}
	if diff := cmp.Diff(want, tree(t, dir)); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

func TestPrepare(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	put(t, dir, map[string]string{"file": "", "old/template-7.svg": "", "other/notes.txt": ""})
	write(t, filepath.Join(dir, "listed"), earlierDesign(), false)
	if err := os.Symlink("nowhere", filepath.Join(dir, "link")); err != nil {
		t.Log(err)
	}
	for _, c := range []struct {
		name  string
		force bool
		ok    bool
	}{
		{"new", false, true},
		{"other", false, true},
		{"old", false, false},
		{"old", true, false},
		{"listed", false, false},
		{"listed", true, true},
		{"file", false, false},
		{"file", true, false},
		{"link", true, false},
	} {
		if _, err := (console{stderr: io.Discard}).prepare(t.Context(), designOutputs(), filepath.Join(dir, c.name), c.force); (err == nil) != c.ok {
			t.Errorf("prepare(%s, force %v) = %v, want allowed %v", c.name, c.force, err, c.ok)
		}
	}
	if _, err := (console{stderr: io.Discard}).prepare(t.Context(), designOutputs(), "", false); asFailure(err).code != exitCommandLine {
		t.Errorf("no directory at all: %v", err)
	}
}

// TestEveryOutputIsOwned holds the names of a set against what render and the like make.
func TestEveryOutputIsOwned(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		set   outputSet
		names []string
	}{
		{designOutputs(), []string{"template.pdf", "template-1.svg", "template-10.svg", "spring.toml", "record.json", "bends.csv", "corners.csv", "lra.csv", "xyz.csv", alternativeName(0)}},
		{springsOutputs(), []string{"springs.pdf", "springs-1.svg"}},
		{comparisonOutputs(), []string{"comparison.pdf", "comparison-1.svg"}},
		{measuringOutputs(), []string{"measuring.pdf", "measuring-1.svg"}},
	} {
		for _, name := range append(slices.Clone(c.names), c.set.list) {
			if !c.set.owns(name) {
				t.Errorf("%s is not known as a file of its set", name)
			}
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
