package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"springwright/presets"

	"github.com/google/go-cmp/cmp"
)

// quickOrders writes a folder of cases that are searched in half a second each, one of them twice in another
// code, and returns its name.
func quickOrders(t *testing.T, codes ...string) string {
	t.Helper()
	text, _, err := presets.Case("l-loop")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for i, code := range codes {
		changed := strings.NewReplacer(
			"starts = 0", "starts = 1", "springs = 1000", "springs = 0", "positions = 5", "positions = 2",
			"[active_slot]", "[active_slot]\nhold = \"tied\"", "[anchor_slot]", "[anchor_slot]\nhold = \"tied\"",
			"room_distal_mm = 12.0", fmt.Sprintf("room_distal_mm = %d", 12+i/2), "case = \"l-loop-23\"", fmt.Sprintf("case = %q", code),
		).Replace(string(text))
		if err := os.WriteFile(filepath.Join(dir, code+".toml"), []byte(changed), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func batchOf(from, dir string, more ...string) *exec.Cmd {
	command := exec.Command("springwright", append([]string{"batch", from, "--out", dir}, more...)...)
	command.Env = append(os.Environ(), "SOURCE_DATE_EPOCH=1767225600")
	return command
}

// withoutLocks are the files of a batch but for its locks, which are empty.
func withoutLocks(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := tree(t, dir)
	for name := range files {
		if strings.HasPrefix(name, ".springwright-batch") {
			delete(files, name)
		}
	}
	return files
}

// TestAKilledBatchGoesOn kills runs at any time. Each order's folder is there with all its files or not at all,
// the user's file beside them stays, and the run after ends with the files of one that nobody killed: nothing of a
// killed run is left, and its lock stops nobody.
func TestAKilledBatchGoesOn(t *testing.T) {
	if testing.Short() {
		t.Skip("searches dozens of springs")
	}
	t.Parallel()
	from := quickOrders(t, "a", "b", "c", "d")
	clean := filepath.Join(t.TempDir(), "out")
	began := time.Now()
	if out, err := batchOf(from, clean).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	took := time.Since(began)
	want := withoutLocks(t, clean)
	random := rand.New(rand.NewPCG(5, 6))
	rounds := max(2, kills()*3/20)
	killed := 0
	for round := range rounds {
		dir := filepath.Join(t.TempDir(), "out")
		put(t, dir, map[string]string{"notes.txt": "mine"})
		for range 3 {
			run := batchOf(from, dir)
			if round%2 == 0 { // a while, wherever that is
				if err := run.Start(); err != nil {
					t.Fatal(err)
				}
				time.Sleep(time.Duration(random.Int64N(int64(took))))
				_ = run.Process.Kill()
				_ = run.Wait()
			} else { // when something is written
				killWhileWriting(t, run, random, dir)
			}
			if run.ProcessState.ExitCode() != exitDone {
				killed++
			}
			for name := range want {
				folder, _, inside := strings.Cut(filepath.ToSlash(name), "/")
				if _, err := os.Stat(filepath.Join(dir, folder)); err == nil && inside {
					if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(got) != want[name] {
						t.Fatalf("a killed run left %s without %s or with another: %v", folder, name, err)
					}
				}
			}
		}
		if out, err := batchOf(from, dir).CombinedOutput(); err != nil {
			t.Fatalf("the run after: %v: %s", err, out)
		}
		got := withoutLocks(t, dir)
		if got["notes.txt"] != "mine" {
			t.Fatal("the user's file is gone")
		}
		delete(got, "notes.txt")
		if diff := cmp.Diff(names(want), names(got)); diff != "" {
			t.Fatalf("the run after (-want +got):\n%s", diff)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal("the run after a killed one makes other bytes")
		}
	}
	if killed == 0 {
		t.Error("no run was killed before its end: this tests nothing")
	}
}

// TestTwoBatchesKeepOutOfEachOthersWay starts two runs in one folder, of the whole list and of two parts.
func TestTwoBatchesKeepOutOfEachOthersWay(t *testing.T) {
	if testing.Short() {
		t.Skip("searches some springs")
	}
	t.Parallel()
	from := quickOrders(t, "a", "b", "c")
	for _, c := range []struct {
		more [2][]string
		want [2]int
	}{
		{[2][]string{nil, nil}, [2]int{exitDone, exitOutput}},
		{[2][]string{{"--part", "1/2"}, {"--part", "2/2"}}, [2]int{exitDone, exitDone}},
		{[2][]string{{"--part", "1/2"}, {"--part", "1/2"}}, [2]int{exitDone, exitOutput}},
		{[2][]string{{"--part", "1/2"}, nil}, [2]int{exitDone, exitOutput}},
	} {
		dir := filepath.Join(t.TempDir(), "out")
		first, second := batchOf(from, dir, c.more[0]...), batchOf(from, dir, c.more[1]...)
		if err := first.Start(); err != nil {
			t.Fatal(err)
		}
		for { // until it has its lock, which is its first file
			if entries, err := os.ReadDir(dir); err == nil && len(entries) > len(c.more[0])/2 {
				break
			}
			time.Sleep(time.Millisecond)
		}
		out, _ := second.CombinedOutput()
		_ = first.Wait()
		if got := [2]int{first.ProcessState.ExitCode(), second.ProcessState.ExitCode()}; got != c.want {
			t.Errorf("%q: exit codes %v, want %v:\n%s", c.more, got, c.want, out)
		}
		if c.want[1] == exitOutput && !bytes.Contains(out, []byte("another run is at work in "+dir)) {
			t.Errorf("%q: the second run says\n%s", c.more, out)
		}
	}
}

// TestBatchTakesNothingOfTheUsers has folders and links of the user's stand where orders would go.
func TestBatchTakesNothingOfTheUsers(t *testing.T) {
	if testing.Short() {
		t.Skip("searches a spring")
	}
	t.Parallel()
	from := quickOrders(t, "a", "b")
	dir, elsewhere := filepath.Join(t.TempDir(), "out"), t.TempDir()
	put(t, dir, map[string]string{"a/mine.txt": "mine"})
	if err := os.Symlink(elsewhere, filepath.Join(dir, "b")); err != nil {
		t.Skip(err)
	}
	run := batchOf(from, dir)
	out, _ := run.CombinedOutput()
	if code := run.ProcessState.ExitCode(); code != exitOutput || !bytes.Contains(out, []byte(filepath.Join(dir, "a")+" is a folder that no batch has made")) || !bytes.Contains(out, []byte(filepath.Join(dir, "b")+" is no folder")) {
		t.Errorf("exit code %d:\n%s", code, out)
	}
	if entries, err := os.ReadDir(elsewhere); err != nil || len(entries) > 0 {
		t.Errorf("the link's folder holds %v, %v", entries, err)
	}
	if got := tree(t, filepath.Join(dir, "a")); len(got) != 1 || got["mine.txt"] != "mine" {
		t.Errorf("the user's folder holds %v", names(got))
	}
	// Nor is a file lost that somebody wrote on after the first run.
	if err := os.Remove(filepath.Join(dir, "b")); err != nil {
		t.Fatal(err)
	}
	_, _ = batchOf(from, dir).CombinedOutput()
	noted := filepath.Join(dir, "b", "bends.csv")
	if err := os.WriteFile(noted, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	out, _ = batchOf(from, dir).CombinedOutput()
	if !bytes.Contains(out, []byte("b (row 2)")) && !bytes.Contains(out, []byte("b: made: changed after it was made: bends.csv")) && !bytes.Contains(out, []byte("changed after it was made: bends.csv")) {
		t.Errorf("nothing is said of the changed file:\n%s", out)
	}
	out, _ = batchOf(from, dir, "--paper", "letter").CombinedOutput()
	if data, err := os.ReadFile(noted); err != nil || string(data) != "mine" {
		t.Errorf("the changed file holds %q, %v\n%s", data, err, out)
	}
}
