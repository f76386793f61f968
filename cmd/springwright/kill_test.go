package main

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// sheetOf is a run of the program that writes a set of nine files within a tenth of a second, or of another command
// that writes as it does, to be killed in a long run.
func sheetOf(t *testing.T, dir, paper string, more ...string) *exec.Cmd {
	t.Helper()
	args := []string{*commandKilled, "--quiet", "--preset", "cantilever"}
	switch *commandKilled {
	case "sheet":
		args = args[:1]
		for range 8 {
			args = append(args, filepath.Join("testdata", "straight.toml"))
		}
		args = append(args, "--active", "37", "--anchor", "36", "--per-sheet", "1")
	case "design":
		args = append(args, "--springs", "0")
	case "handout":
		args = append(args, "--students", "1")
	default:
		t.Fatalf("-killcommand %s: none of sheet, design, handout", *commandKilled)
	}
	command := exec.Command("springwright", append(append(args, "--out", dir, "--paper", paper), more...)...)
	command.Env = append(os.Environ(), "SOURCE_DATE_EPOCH=1767225600")
	return command
}

// sheetIn makes such a set and returns its files.
func sheetIn(t *testing.T, dir, paper string, more ...string) map[string]string {
	t.Helper()
	if out, err := sheetOf(t, dir, paper, more...).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return tree(t, dir)
}

var commandKilled = flag.String("killcommand", "sheet", "what is killed: sheet, or, of seconds each, design or handout")

var runsKilled = flag.Int("kills", 30, "how many runs are killed while they write; fewer of other kinds")

// kills is how many runs are killed; -short is content with fewer.
func kills() int {
	if testing.Short() {
		return min(20, *runsKilled)
	}
	return *runsKilled
}

// killWhileWriting starts a run and kills it as soon as something changes in one of the
// folders, or some milliseconds later. Every other time what is hidden does not count: the
// files that are seen come and go within a millisecond or two, what is hidden before takes
// a disk some hundredths of a second.
func killWhileWriting(t *testing.T, run *exec.Cmd, random *rand.Rand, folders ...string) {
	t.Helper()
	hidden := random.IntN(2) == 0
	look := func() string {
		var seen strings.Builder
		for _, folder := range folders {
			entries, _ := os.ReadDir(folder)
			for _, e := range entries {
				if hidden || !strings.HasPrefix(e.Name(), ".") {
					fmt.Fprintln(&seen, e.Name())
				}
			}
		}
		return seen.String()
	}
	longest := 2 * time.Millisecond
	if hidden {
		longest = 60 * time.Millisecond
	}
	before := look()
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_ = run.Wait() // killed, mostly
	}()
	for look() == before {
		select {
		case <-ended:
			return
		default:
		}
	}
	time.Sleep(time.Duration(random.Int64N(int64(longest))))
	_ = run.Process.Kill()
	<-ended
}

// TestAKilledRunLeavesAllOrNothing kills runs that write to a new directory. It is there
// with all its files or not at all, and what else is left is named by the next run.
func TestAKilledRunLeavesAllOrNothing(t *testing.T) {
	want := sheetIn(t, filepath.Join(t.TempDir(), "whole"), "a4")
	random := rand.New(rand.NewPCG(1, 2))
	whole, leftovers := 0, 0
	for range kills() {
		parent := t.TempDir()
		dir := filepath.Join(parent, "out")
		killWhileWriting(t, sheetOf(t, dir, "a4"), random, parent, dir)
		if _, err := os.Stat(dir); err == nil {
			whole++
			if diff := cmp.Diff(names(want), names(tree(t, dir))); diff != "" {
				t.Fatalf("a killed run left a part of its files (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(want, tree(t, dir)); diff != "" {
				t.Fatal("a killed run left files that are not whole")
			}
		}
		entries, err := os.ReadDir(parent)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if e.Name() == "out" {
				continue
			}
			leftovers++
			out, _ := sheetOf(t, dir, "a4").CombinedOutput() // refused where all is there
			if !bytes.Contains(out, []byte(filepath.Join(parent, e.Name())+" was left by a run that was killed")) {
				t.Fatalf("the next run does not say what %s is:\n%s", e.Name(), out)
			}
		}
	}
	t.Logf("%d killed: %d after and %d before all was there, %d folders of killed runs", kills(), whole, kills()-whole, leftovers)
}

func names(files map[string]string) map[string]bool {
	set := map[string]bool{}
	for name := range files {
		set[name] = true
	}
	return set
}

// TestAKilledRunNeverMixesDesigns kills runs that replace the files of an earlier one. Those
// may be incomplete then, which no program can avoid in a directory that others use, too;
// but new files never stand beside old ones, no file of the earlier run is lost unless all
// the new ones are there, the user's file stays, and the next run says what has happened.
func TestAKilledRunNeverMixesDesigns(t *testing.T) {
	base := t.TempDir()
	earlier := sheetIn(t, filepath.Join(base, "earlier"), "letter")
	later := sheetIn(t, filepath.Join(base, "later"), "a4")
	random := rand.New(rand.NewPCG(3, 4))
	incomplete := 0
	killed := kills() / 2
	for range killed {
		dir := filepath.Join(t.TempDir(), "out")
		put(t, dir, earlier)
		put(t, dir, map[string]string{"notes.txt": "mine"})
		killWhileWriting(t, sheetOf(t, dir, "a4", "--force"), random, dir)

		standing := tree(t, dir)
		if standing["notes.txt"] != "mine" {
			t.Fatal("the user's file is gone")
		}
		old := map[string]string{} // files of the earlier run, wherever they are
		untouched, aside, young, alike := 0, 0, 0, 0
		for name, text := range standing {
			inside, moved := strings.CutPrefix(name, writingName+"/"+earlierName+"/")
			switch {
			case moved:
				aside++
				old[inside] = text
			case strings.HasPrefix(name, "."):
			case text == earlier[name] && text == later[name]: // whose it is nobody can tell
				alike++
				old[name] = text
			case text == earlier[name]:
				untouched++
				old[name] = text
			case text == later[name]:
				young++
			}
		}
		if untouched > 0 && young > 0 {
			t.Fatalf("%d new files beside %d old ones", young, untouched)
		}
		if young+alike < len(later) {
			if diff := cmp.Diff(names(earlier), names(old)); diff != "" {
				t.Fatalf("files of the earlier run are lost (-want +got):\n%s", diff)
			}
		}
		if _, err := os.Lstat(filepath.Join(dir, writingName)); err != nil {
			continue
		}
		incomplete++
		if incomplete > 3 { // each next run first waits whether the other one is still at work
			continue
		}
		next := sheetOf(t, dir, "a4", "--force")
		out, _ := next.CombinedOutput()
		if code := next.ProcessState.ExitCode(); code != exitOutput || !bytes.Contains(out, []byte(filepath.Join(dir, writingName)+" was left by a run that was killed")) {
			t.Fatalf("the next run ends with %d and says\n%s", code, out)
		}
		complete := young+alike == len(later) || untouched+alike == len(earlier)
		if got := bytes.Contains(out, []byte("the files beside it are complete")); got != complete {
			t.Fatalf("it says that the files are complete: %v, with %d old and %d new ones\n%s", got, untouched, young, out)
		}
		if got := bytes.Contains(out, []byte("files of the run before are in")); got != (!complete && aside > 0) {
			t.Fatalf("it says where the earlier files are: %v, with %d of them aside\n%s", got, aside, out)
		}
		if err := os.RemoveAll(filepath.Join(dir, writingName)); err != nil { // as the user is told
			t.Fatal(err)
		}
		again := sheetIn(t, dir, "a4", "--force")
		delete(again, "notes.txt")
		if diff := cmp.Diff(names(later), names(again)); diff != "" {
			t.Fatalf("the run after that (-want +got):\n%s", diff)
		}
	}
	t.Logf("%d killed: %d of them while they wrote", killed, incomplete)
}

// TestOfTwoRunsAtATimeOneWins has pairs of commands write to one directory at the same time.
// One ends well and the files are its own; the other one is refused.
func TestOfTwoRunsAtATimeOneWins(t *testing.T) {
	t.Parallel()
	pairs := kills() / 2
	for _, c := range []struct {
		name   string
		before func(t *testing.T, dir string)
		force  bool
		others map[string]string
	}{
		{"new directory", func(*testing.T, string) {}, false, nil},
		{"directory of the user's", func(t *testing.T, dir string) { put(t, dir, map[string]string{"notes.txt": "mine"}) }, false, map[string]string{"notes.txt": "mine"}},
		{"by force", func(t *testing.T, dir string) { write(t, dir, earlierDesign(), false) }, true, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			for range pairs {
				dir := filepath.Join(t.TempDir(), "out")
				c.before(t, dir)
				var sets [2][]output
				var errs [2]error
				var prepared, ended sync.WaitGroup
				prepared.Add(2)
				for i := range sets {
					for _, name := range []string{"template.pdf", "template-1.svg", "spring.toml", "record.json"} {
						sets[i] = append(sets[i], output{name, fmt.Appendf(nil, "%s of run %d", name, i)})
					}
					ended.Go(func() {
						d, err := console{stderr: &bytes.Buffer{}}.prepare(t.Context(), designOutputs(), dir, c.force)
						prepared.Done()
						prepared.Wait()
						if err == nil {
							_, err = d.write(t.Context(), sets[i])
						}
						errs[i] = err
					})
				}
				ended.Wait()
				winner := 0
				if errs[0] != nil {
					winner = 1
				}
				if errs[winner] != nil {
					t.Fatalf("neither wins: %v; %v", errs[0], errs[1])
				}
				if loser := errs[1-winner]; loser == nil || asFailure(loser).code != exitOutput {
					t.Fatalf("the other run ends with %v, want exit code %d", loser, exitOutput)
				}
				if diff := cmp.Diff(setOf(sets[winner], c.others), tree(t, dir)); diff != "" {
					t.Fatalf("the files are not those of the winner (-want +got):\n%s", diff)
				}
			}
		})
	}
}

// TestOfTwoProgramsAtATimeOneWins is the same with whole programs.
func TestOfTwoProgramsAtATimeOneWins(t *testing.T) {
	pairs := kills() / 4
	base := t.TempDir()
	papers := [2]string{"a4", "letter"}
	var want [2]map[string]string
	for i, paper := range papers {
		want[i] = sheetIn(t, filepath.Join(base, paper), paper)
	}
	for range pairs {
		dir := filepath.Join(t.TempDir(), "out")
		var runs [2]*exec.Cmd
		for i, paper := range papers {
			runs[i] = sheetOf(t, dir, paper)
			if err := runs[i].Start(); err != nil {
				t.Fatal(err)
			}
		}
		var codes [2]int
		for i, run := range runs {
			_ = run.Wait() // one of them fails
			codes[i] = run.ProcessState.ExitCode()
		}
		winner := 0
		if codes[0] != exitDone {
			winner = 1
		}
		if codes[winner] != exitDone || codes[1-winner] != exitOutput {
			t.Fatalf("exit codes %v, want one %d and one %d", codes, exitDone, exitOutput)
		}
		if diff := cmp.Diff(want[winner], tree(t, dir)); diff != "" {
			t.Fatal("the files are not those of the winner")
		}
	}
}
