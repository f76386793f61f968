//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// writers are commands that write, fast, and what they write into.
func writers(t *testing.T) map[string][]string {
	t.Helper()
	spring, err := filepath.Abs(filepath.Join("testdata", "straight.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return map[string][]string{
		"sheet":      {"sheet", spring, "--active", "37", "--anchor", "36", "--out", "OUT"},
		"blank form": {"sheet", "--measuring", "--out", "OUT"},
		"plate":      {"jig", spring, "--active", "37", "--anchor", "36", "--out", "OUT"},
		"new list":   {"batch", "--new", "OUT"},
		"readings":   {"adjust", filepath.Join("case", "spring.toml"), "--form", "OUT"},
		"visit form": {"visit", "case", "--new", "OUT"},
		"visit":      {"visit", "case", "--springs", "1", "--values", "date = 2026-03-02; done = 'seated'", "--add", "--out", "OUT"},
		"orders":     {"batch", "case", "--out", "OUT"},
	} // "design", "compare", "handout" and "mark" write as "sheet" does
}

// TestNothingIsLeftWhereNothingCanBeWritten has every command write below a file, into a folder that may not be
// written, and onto a disk without room. It says so, with the code for it, and nothing is left nor changed; of a visit
// whose page cannot be written no trace is in the history.
func TestNothingIsLeftWhereNothingCanBeWritten(t *testing.T) { // not parallel: rights and limits are those of the process
	for place, of := range map[string]struct {
		out     string
		deprive func(t *testing.T)
	}{
		"below a file":              {"notes.txt/out", func(*testing.T) {}},
		"a folder of somebody else": {"theirs/out", asSomebodyElse},
		"no room":                   {"out", withoutRoom},
	} {
		t.Run(place, func(t *testing.T) {
			if place == "no room" && inAProcessOfItsOwn(t) {
				return
			}
			for name, args := range writers(t) {
				switch {
				case place == "no room" && name == "orders": // a batch keeps its folder and lock, in which it goes on
					continue
				case place == "a folder of somebody else" && name == "visit": // solved for seconds, and then as a sheet
					continue
				}
				t.Run(name, func(t *testing.T) {
					dir := t.TempDir()
					put(t, dir, caseFolderFiles(t))
					put(t, dir, map[string]string{"notes.txt": "mine", "theirs/notes.txt": "theirs"})
					before := tree(t, dir)
					t.Chdir(dir)
					var stdout, stderr bytes.Buffer
					code := -1
					t.Run("deprived", func(t *testing.T) {
						of.deprive(t)
						code = run(t.Context(), strings.Split(strings.ReplaceAll(strings.Join(args, "\n"), "OUT", of.out), "\n"), console{stdout: &stdout, stderr: &stderr})
					})
					if code != exitOutput || !strings.Contains(stderr.String(), "springwright: error: ") || !strings.Contains(stderr.String(), "hint: ") {
						t.Errorf("exit code %d, want %d: %s", code, exitOutput, &stderr)
					}
					if diff := cmp.Diff(before, tree(t, dir)); diff != "" {
						t.Errorf("files (-want +got):\n%s", diff)
					}
				})
			}
		})
	}
}

// TestAFileThatMayNotBeReadIsSaid: the reason is told, and which file.
func TestAFileThatMayNotBeReadIsSaid(t *testing.T) { // not parallel: as above
	dir := t.TempDir()
	put(t, dir, caseFolderFiles(t))
	t.Chdir(dir)
	for _, name := range []string{"case/case.toml", "case/spring.toml"} {
		if err := os.Chmod(name, 0); err != nil {
			t.Fatal(err)
		}
	}
	asSomebodyElse(t)
	for _, args := range [][]string{
		{"design", "case/case.toml"}, {"evaluate", "case/spring.toml"}, {"visit", "case"}, {"sheet", "case/spring.toml"}, {"jig", "case/spring.toml"},
	} {
		var stderr bytes.Buffer
		if code := run(t.Context(), args, console{stdout: &bytes.Buffer{}, stderr: &stderr}); code != exitFile || !strings.Contains(stderr.String(), ".toml cannot be read: permission denied") {
			t.Errorf("%v: exit code %d: %s", args, code, &stderr)
		}
	}
}

// caseFolderFiles are those of a case with its spring, which has not been seated yet.
func caseFolderFiles(t *testing.T) map[string]string {
	t.Helper()
	files := map[string]string{}
	for name, from := range map[string]string{"case/case.toml": "t-loop.toml", "case/spring.toml": "t-loop-spring.toml"} {
		data, err := os.ReadFile(filepath.Join(testdataOfVisits, from))
		if err != nil {
			t.Fatal(err)
		}
		files[name] = string(data)
	}
	return files
}

// testdataOfVisits is found from wherever a test has gone.
var testdataOfVisits, _ = filepath.Abs(filepath.Join("..", "..", "optimize", "visit", "testdata"))

// asSomebodyElse goes on without the right to write into the folders of this test, until it ends. Whom nothing stops, as
// root, becomes a user whom something does.
func asSomebodyElse(t *testing.T) {
	t.Helper()
	wd, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	const mayLook, nobody = 0o555, 65534
	for _, dir := range []string{filepath.Dir(wd), wd, "theirs"} {
		info, err := os.Stat(dir)
		if err != nil {
			continue
		}
		if err := os.Chmod(dir, mayLook); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = os.Chmod(dir, info.Mode()) })
	}
	if os.Geteuid() != 0 {
		return
	}
	if err := syscall.Seteuid(nobody); err != nil {
		t.Skip("root cannot become another user: ", err)
	}
	t.Cleanup(func() {
		if err := syscall.Seteuid(0); err != nil {
			panic(err) // no other test could go on
		}
	})
}

// inAProcessOfItsOwn runs a test alone in another process, in which it goes on: "go test" keeps a log, which would find
// no room either.
func inAProcessOfItsOwn(t *testing.T) (done bool) {
	t.Helper()
	const there = "SPRINGWRIGHT_TEST_ALONE"
	if os.Getenv(there) != "" {
		return false
	}
	alone := exec.Command(os.Args[0], "-test.run", "^"+strings.ReplaceAll(t.Name(), "/", "$/^")+"$")
	alone.Env = append(os.Environ(), there+"=1")
	if out, err := alone.CombinedOutput(); err != nil || !bytes.Contains(out, []byte("PASS")) {
		t.Errorf("%v\n%s", err, out)
	}
	return true
}

// withoutRoom lets no file grow above some bytes until the test ends, as on a disk that is nearly full.
func withoutRoom(t *testing.T) {
	t.Helper()
	const roomBytes = 700 // a history with its first visit finds room, a form or a page does not
	var before syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &before); err != nil {
		t.Skip(err)
	}
	signal.Ignore(syscall.SIGXFSZ) // the write then fails, as on a full disk
	tight := before
	tight.Cur = roomBytes
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &tight); err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &before); err != nil {
			t.Fatal(err)
		}
		signal.Reset(syscall.SIGXFSZ)
	})
}
