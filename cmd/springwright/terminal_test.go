package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"springwright/presets"
)

func TestPrintable(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", ""},
		{"5 N·mm ≤ 10 %, 歯 é", "5 N·mm ≤ 10 %, 歯 é"},
		{"a\nspringwright: error: b", `a\nspringwright: error: b`},
		{"\x1b[2J\a\b\r\t", `\x1b[2J\a\b\r\t`},
		{"\u009b2J", `\u009b2J`}, // one character for the two that begin a sequence
		{"a\u202eb\u200fc\u2028", `a\u202eb\u200fc\u2028`},
		{"\xff\xe6a\ufffd", `\xff\xe6a` + "\ufffd"},
	} {
		if got := printable(c.text); got != c.want {
			t.Errorf("printable(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// ran is a command line and what came of it.
func ran(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(t.Context(), args, console{stdout: &out, stderr: &errs})
	return code, out.String(), errs.String()
}

// TestNobodyElseSpeaksOnTheTerminal gives names and contents that hold a line like those of
// the program, and characters that rule a terminal. Neither may come out.
func TestNobodyElseSpeaksOnTheTerminal(t *testing.T) {
	t.Parallel()
	const forged = "x\nspringwright: error: forged\x1b[31m\u202e\xff"
	const quoted = `x\nspringwright: error: forged\u001b[31m\u202e`
	dir := t.TempDir()
	nasty := filepath.Join(dir, forged)
	spring, err := os.ReadFile(filepath.Join("testdata", "straight.toml"))
	if err != nil {
		t.Fatal(err)
	}
	file := func(name, text string) string {
		put(t, dir, map[string]string{name: text})
		return filepath.Join(dir, name)
	}
	good := file("good.toml", string(spring))
	for _, args := range [][]string{
		{"evaluate", nasty},
		{"evaluate", file(forged+"1", "x = 1")},
		{"evaluate", file(forged+"2", "x = ")},
		{"evaluate", file(forged+"3", string(spring))},
		{"evaluate", file("key.toml", `"`+quoted+`" = 1`)},
		{"evaluate", file("path.toml", `"`+quoted+`"."`+quoted+`" = 1`+"\n[\""+quoted+"\"]\n")},
		{"evaluate", file("title.toml", `title = "`+quoted+`"`)},
		{"evaluate", file("alloy.toml", "[wire]\nalloy = \""+quoted+`"`)},
		{"evaluate", file("size.toml", "[wire]\nthickness_mm = \""+quoted+`"`)},
		{"evaluate", file("raw.toml", "title = \""+forged+`"`)},
		{"evaluate", file("rawkey.toml", forged+" = 1")},
		{"design", file("code.toml", `case = "`+quoted+`"`)},
		{"design", file("family.toml", `spring = "`+quoted+`"`)},
		{"design", file("beside.toml", `spring_file = "`+quoted+`"`)},
		{"design", file("beside2.toml", `spring_file = "../`+quoted+`"`)},
		{"sheet", good, "--active", "37", "--anchor", "36", "--out", nasty + "out"},
		{"sheet", good, "--active", "37", "--anchor", "36", "--out", nasty + "out"}, // refused
		{"sheet", good, "--active", "37", "--anchor", "36", "--out", nasty + "out", "--force"},
		{"sheet", good, "--active", "37", "--anchor", "36", "--out", nasty + "1"}, // a file
		{"sheet", nasty + "3", "--active", "37", "--anchor", "36", "--out", filepath.Join(dir, "named")},
		{"sheet", good, "--cases", nasty},
		{"sheet", good, "--active", forged},
		{"compare", "--spring", nasty},
		{"compare", "--wire", forged},
		{"design", "--paper", forged},
		{"design", "--pages", forged},
		{"design", "--seed", forged},
		{"design", "--" + forged},
		{"design", "-" + forged},
		{"design", forged, forged},
		{"help", forged},
		{forged},
		{"-" + forged},
	} {
		code, stdout, stderr := ran(t, args...)
		if stdout+stderr == "" {
			t.Errorf("%q says nothing, exit code %d", args, code)
		}
		for _, r := range stdout + stderr {
			if r != '\n' && !unicode.IsGraphic(r) {
				t.Errorf("%q prints the character %U:\n%s", args, r, stdout+stderr)
				break
			}
		}
		for line := range strings.Lines(stdout + stderr) {
			if strings.HasPrefix(line, "springwright: error: forged") {
				t.Errorf("%q prints a line that is not the program's: %s", args, line)
			}
		}
	}
}

// full takes no text, as a disk that is full.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

// TestFilesThatStandAreNamed has the answer fail after the files were written.
func TestFilesThatStandAreNamed(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	var stderr bytes.Buffer
	code := run(t.Context(), []string{"sheet", "--measuring", "--out", dir}, console{stdout: full{}, stderr: &stderr})
	want := "springwright: error: standard output cannot be written: no space left\n" +
		"springwright: error: only this text is lost: all 3 files are written to " + dir + " and complete\n"
	if code != exitOutput || stderr.String() != want {
		t.Errorf("exit code %d, want %d; got\n%s\nwant\n%s", code, exitOutput, stderr.String(), want)
	}
	if got := len(tree(t, dir)); got != 3 {
		t.Errorf("%d files stand", got)
	}
	stderr.Reset()
	code = run(t.Context(), []string{"wires"}, console{stdout: full{}, stderr: &stderr})
	if want := "springwright: error: standard output cannot be written: no space left\n"; code != exitOutput || stderr.String() != want {
		t.Errorf("without files: exit code %d, %s", code, stderr.String())
	}
}

// TestManyFaultsAreCounted reads a file that is wrong from one end to the other.
func TestManyFaultsAreCounted(t *testing.T) {
	t.Parallel()
	var text strings.Builder
	keys := 0
	for ; text.Len() < 250_000; keys++ {
		fmt.Fprintf(&text, "wrong_key_number_%d = %d\n", keys, keys)
	}
	file := filepath.Join(t.TempDir(), "wrong.toml")
	if err := os.WriteFile(file, []byte(text.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := ran(t, "evaluate", file)
	if code != exitFile || stdout != "" {
		t.Errorf("exit code %d, standard output %q", code, stdout)
	}
	if got, want := strings.Count(stderr, "springwright: error: "), 20+1; got != want {
		t.Errorf("%d lines of errors, want %d", got, want)
	}
	// The keys and the three tables that are missing: path, wire and active, and anchor.
	lines := strings.Split(strings.TrimSuffix(stderr, "\n"), "\n")
	last := lines[len(lines)-1]
	var more int
	if _, err := fmt.Sscanf(strings.TrimPrefix(last, "springwright: error: "+file+": "), "and %d more faults", &more); err != nil || more < keys-20 || more > keys {
		t.Errorf("the last line is %q, want the number of the rest, about %d", last, keys-20)
	}
}

// TestLongWordsAreCut has a key and a number that fill a file.
func TestLongWordsAreCut(t *testing.T) {
	t.Parallel()
	key := strings.Repeat("k", 100_000)
	for name, text := range map[string]string{
		"key":    key + " = 1\n" + key + " = 2",
		"table":  "[" + key + "]\n[" + key + "]",
		"dotted": key + ".k = 1\n[" + key + "]",
		"number": "[travel]\npositions = 0." + strings.Repeat("1", 50_000) + "\n[search]\nseed = " + strings.Repeat("1", 50_000) + "\nlength_step_mm = 9." + strings.Repeat("1", 50_000),
	} {
		file := filepath.Join(t.TempDir(), "long.toml")
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		code, _, stderr := ran(t, "design", file)
		if code != exitFile || len(stderr) > 20_000 { // some 20 lines
			t.Errorf("%s: exit code %d, %d bytes of errors", name, code, len(stderr))
		}
		for line := range strings.Lines(stderr) {
			if len(line) > 1000 {
				t.Errorf("%s: a line of %d bytes: %.200s…", name, len(line), line)
			}
		}
	}
}

// TestTitleIsRefusedBeforeTheSearch gives titles that cannot be printed to commands whose
// search would take the rest of the day.
func TestTitleIsRefusedBeforeTheSearch(t *testing.T) {
	t.Parallel()
	demo, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(demo), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "title = ") {
			lines[i] = `title = "歯 of 歯科"`
		}
		if strings.HasPrefix(line, "starts = ") {
			lines[i] = "starts = 100000"
		}
	}
	file := filepath.Join(t.TempDir(), "case.toml")
	if err := os.WriteFile(file, []byte(strings.Join(lines, "\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	want := "springwright: error: " + file + ": title: has characters that the sheet's typeface lacks: '歯' (U+6B6F) '科' (U+79D1)\n" +
		"springwright: hint: write the title in Latin, Greek or Cyrillic letters\n"
	for _, command := range []string{"design", "compare"} {
		ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
		var stdout, stderr bytes.Buffer
		code := run(ctx, []string{command, file, "--out", filepath.Join(t.TempDir(), "out")}, console{stdout: &stdout, stderr: &stderr})
		cancel()
		if code != exitFile || stdout.Len() > 0 || stderr.String() != want {
			t.Errorf("%s: exit code %d, want %d; got\n%s\nwant\n%s", command, code, exitFile, stderr.String(), want)
		}
	}
}
