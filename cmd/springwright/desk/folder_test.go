package desk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

func testFolder(t *testing.T) (*folder, string) {
	t.Helper()
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return &folder{root: root}, dir
}

func TestFolderNames(t *testing.T) {
	f, dir := testFolder(t)
	if err := os.WriteFile(filepath.Join(filepath.Dir(dir), "outside.toml"), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../outside.toml", filepath.Join(dir, "link.toml")); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	for _, name := range []string{"", "a", ".toml", "../outside.toml", "a/b.toml", `a\b.toml`, "a.toml.", "ä.toml", "a\x00.toml", "-a.toml", "..toml", strings.Repeat("a", 101) + ".toml"} {
		if _, _, err := f.read(name); !errors.Is(err, errName) {
			t.Errorf("reading %q: got %v, want errName", name, err)
		}
		if _, err := f.write(name, "", []byte("x")); !errors.Is(err, errName) {
			t.Errorf("writing %q: got %v, want errName", name, err)
		}
	}
	if text, _, err := f.read("link.toml"); err == nil {
		t.Errorf("a link out of the folder was read: %q", text)
	}
	if _, err := f.write("link.toml", tagOf([]byte("x")), []byte("y")); err == nil {
		t.Error("a link out of the folder was written through")
	}
}

// TestFolderNeverOverwrites: a file is replaced only by who has read what is in it.
func TestFolderNeverOverwrites(t *testing.T) {
	f, dir := testFolder(t)
	first, err := f.write("a.toml", "", []byte("1"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.write("a.toml", "", []byte("2")); !errors.Is(err, errThere) {
		t.Errorf("a second new file: got %v, want errThere", err)
	}
	second, err := f.write("a.toml", first, []byte("2"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.write("a.toml", first, []byte("3")); !errors.Is(err, errChanged) {
		t.Errorf("an old version: got %v, want errChanged", err)
	}
	if text, tag, err := f.read("a.toml"); string(text) != "2" || tag != second || err != nil {
		t.Errorf("got %q, %s, %v; want what was written last by right", text, tag, err)
	}
	os.Remove(filepath.Join(dir, "a.toml"))
	if _, err := f.write("a.toml", second, []byte("3")); !errors.Is(err, errChanged) {
		t.Errorf("a file that is gone: got %v, want errChanged", err)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 0 {
		t.Errorf("left behind: %v", entries)
	}
}

// TestFolderOneOfManyWriters: of ten who read the same version one may write.
func TestFolderOneOfManyWriters(t *testing.T) {
	f, _ := testFolder(t)
	tag, err := f.write("a.toml", "", []byte("0"))
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	won := make(chan string, 10)
	for i := range 10 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			text := strings.Repeat("x", i+1)
			if _, err := f.write("a.toml", tag, []byte(text)); err == nil {
				won <- text
			}
		}()
	}
	wait.Wait()
	close(won)
	var winners []string
	for text := range won {
		winners = append(winners, text)
	}
	if text, _, _ := f.read("a.toml"); len(winners) != 1 || string(text) != winners[0] {
		t.Errorf("winners %q, the file holds %q; want one, and its text", winners, text)
	}
}
