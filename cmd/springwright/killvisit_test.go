package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestAKilledVisitIsAddedOrNot kills runs that add the first visit to a history. It is there in full or not at all,
// nothing else of the case is touched, and where a killed run is in the way the next one says what to delete, and then
// adds it.
func TestAKilledVisitIsAddedOrNot(t *testing.T) {
	if testing.Short() {
		t.Skip("solves a spring in every run")
	}
	t.Parallel()
	add := func(dir string) *exec.Cmd {
		return exec.Command("springwright", "visit", dir, "--springs", "1", "--values", "date = 2026-03-02; done = 'seated'", "--add")
	}
	fresh := func() string {
		dir := t.TempDir()
		for _, name := range []string{"t-loop.toml", "t-loop-spring.toml"} {
			data, err := os.ReadFile(filepath.Join("..", "..", "optimize", "visit", "testdata", name))
			if err != nil {
				t.Fatal(err)
			}
			put(t, dir, map[string]string{map[string]string{"t-loop.toml": "case.toml", "t-loop-spring.toml": "spring.toml"}[name]: string(data)})
		}
		return dir
	}
	const history, lock = "visits.toml", "visits.toml.adding"
	clean := fresh()
	before := tree(t, clean)
	if out, err := add(clean).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	want := tree(t, clean)
	random := rand.New(rand.NewPCG(7, 8))
	added, left := 0, 0
	for range max(1, (kills()-20)/20) {
		dir := fresh()
		killWhileWriting(t, add(dir), random, dir)
		got := tree(t, dir)
		_, locked := got[lock]
		delete(got, lock)
		_, there := got[history]
		if there {
			added++
		}
		if diff := cmp.Diff(map[bool]map[string]string{true: want, false: before}[there], got); diff != "" {
			t.Fatalf("a killed run left (-want +got):\n%s", diff)
		}
		if !locked {
			continue
		}
		left++
		if out, err := add(dir).CombinedOutput(); err == nil || !there && !strings.Contains(string(out), filepath.Join(dir, lock)) {
			t.Fatalf("the next run does not say what is in its way: %v\n%s", err, out)
		}
		if err := os.Remove(filepath.Join(dir, lock)); err != nil { // as the user is told
			t.Fatal(err)
		}
		if out, err := add(dir).CombinedOutput(); err != nil && !there {
			t.Fatalf("the run after that: %v\n%s", err, out)
		}
		if diff := cmp.Diff(want, tree(t, dir)); diff != "" {
			t.Fatalf("the run after that (-want +got):\n%s", diff)
		}
	}
	t.Logf("killed: %d after it was added, %d locks left", added, left)
}
