package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"springwright/design/casefile/schematest"
	"springwright/presets"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(dated{m}, map[string]func(){"springwright": main})
}

// dated runs the tests on a day of their own, as one that a test sets for itself would keep others from running
// beside it, and ends the browser that they share.
type dated struct{ *testing.M }

func (d dated) Run() int {
	_ = os.Setenv("SOURCE_DATE_EPOCH", "1767225600") // has no "=" in it
	defer stopBrowser()
	return d.M.Run()
}

var update = flag.Bool("update", false, "rewrite the expected output in testdata")

// TestScripts runs testdata/*.txtar, which pin what the program prints, its exit codes and
// the files it leaves. "go test ./cmd/springwright -update" rewrites the expected output in
// them; look at the difference before you commit it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "without": without, "valid": valid, "keys": keys, "quick": quick},
	})
}

// exits is "exits CODE COMMAND…": the command must end with that exit code.
func exits(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND…")
	}
	want, err := strconv.Atoi(args[0])
	if err != nil {
		ts.Fatalf("exit code %q: %v", args[0], err)
	}
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// quick is "quick FILE": it writes the demo as the case that is searched in a third of the time, for scripts whose subject
// is not the search.
func quick(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) != 1 {
		ts.Fatalf("usage: quick FILE")
	}
	text, _, err := presets.Case(presets.Demo)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(quicker(held(string(text), tied, tied))), 0o666))
}

// valid is "valid FILE": the JSON of the file is as the schema of its format says, and has no
// other keys.
func valid(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) != 1 {
		ts.Fatalf("usage: valid FILE")
	}
	ts.Check(schematest.Check([]byte(ts.ReadFile(args[0]))))
}

// keys is "keys IN OUT": it lists the keys of JSON with those above them, each once, in their
// order. What numbers stand there depends on the processor, in the last digits.
func keys(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) != 2 {
		ts.Fatalf("usage: keys IN OUT")
	}
	var list []string
	decoder := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	var walk func(above string)
	walk = func(above string) {
		token, err := decoder.Token()
		ts.Check(err)
		switch token {
		case json.Delim('{'):
			for decoder.More() {
				name, err := decoder.Token()
				ts.Check(err)
				key := fmt.Sprint(above, name)
				if !slices.Contains(list, key) {
					list = append(list, key)
				}
				walk(key + ".")
			}
		case json.Delim('['):
			for decoder.More() {
				walk(above)
			}
		default:
			return
		}
		_, err = decoder.Token() // the closing bracket
		ts.Check(err)
	}
	walk("")
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Join(list, "\n")+"\n"), 0o666))
}

// without is "without KEY IN OUT": it copies a file but for its lines that hold the key.
func without(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) != 3 {
		ts.Fatalf("usage: without KEY IN OUT")
	}
	var kept strings.Builder
	for _, line := range strings.SplitAfter(ts.ReadFile(args[1]), "\n") {
		if !strings.Contains(line, `"`+args[0]+`"`) {
			kept.WriteString(line)
		}
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(kept.String()), 0o666))
}
