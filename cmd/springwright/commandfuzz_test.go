package main

import (
	"bytes"
	"context"
	"flag"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"springwright/design/designtest"
	"springwright/presets"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"
)

// commandBudget is how long a command may work until it is interrupted, as by Ctrl-C: a search takes seconds, and
// its stages have targets of their own. commandPatience is how long it may then take to end: one solve, on a machine
// that does other things and with the fuzzer's counters built in (choice).
const (
	commandBudget   = 60 * time.Millisecond
	commandPatience = 30 * time.Second
)

// FuzzCommandLine runs the whole program on any words and any files. line has a word a line; files is a txtar archive.
func FuzzCommandLine(f *testing.F) {
	for _, seed := range commandSeeds(f) {
		f.Add(seed.line, seed.files)
	}
	f.Fuzz(checkCommandLine)
}

// TestSpoiltCommandLines is the same on commands that slips were made in.
func TestSpoiltCommandLines(t *testing.T) {
	seeds := commandSeeds(t)
	for i := range *spoiltCommands {
		r := rand.New(rand.NewPCG(20, uint64(i)))
		seed := seeds[r.IntN(len(seeds))]
		line, files := string(designtest.Spoil(r, []byte(seed.line))), designtest.Spoil(r, seed.files)
		t.Run(strconv.Itoa(i), func(t *testing.T) { checkCommandLine(t, line, files) })
	}
}

var spoiltCommands = flag.Int("spoiltcommands", 100, "how many commands slips are made in")

// checkCommandLine runs the program in a folder of its own. It never panics nor finds a fault of its own; it ends soon
// after an interrupt, with a code that is documented and a line that says why; what it prints leaves a terminal alone;
// what was there stays, and nothing is half-written or outside of what the command line names.
func checkCommandLine(t *testing.T, line string, files []byte) {
	args := strings.Split(line, "\n")
	if !staysHere(args) {
		t.Skip("names places elsewhere, as a user may")
	}
	dir := t.TempDir()
	work := filepath.Join(dir, "work")
	before := unpack(t, work, txtar.Parse(files))
	t.Chdir(work)
	t.Setenv("HOME", dir)
	t.Setenv("PATH", "") // no viewer and no browser
	t.Setenv("SOURCE_DATE_EPOCH", "1767225600")

	code, stdout, stderr := interruptedRun(t, args)
	checkTold(t, args, code, stdout, stderr)
	checkLeft(t, args, code, stderr, before, tree(t, work))
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Errorf("beside the working folder: %v, %v", entries, err)
	}
}

// commandSeed is a command line with its files.
type commandSeed struct {
	line  string
	files []byte
}

var scriptSeeds = flag.Bool("scriptseeds", false, "fuzzing the command line begins with the commands of all scripts, too: for long runs")

// commandSeeds are one of each command.
func commandSeeds(f testing.TB) []commandSeed {
	spring, err := os.ReadFile(filepath.Join("testdata", "straight.toml"))
	if err != nil {
		f.Fatal(err)
	}
	demo, _, err := presets.Case(presets.Demo)
	if err != nil {
		f.Fatal(err)
	}
	archive := txtar.Format(&txtar.Archive{Files: []txtar.File{
		{Name: "spring.toml", Data: spring},
		{Name: "case.toml", Data: demo},
		{Name: "read.toml", Data: []byte("straight_1_mm = 12\n")},
		{Name: "mine/notes.txt", Data: []byte("mine\n")},
		{Name: "orders.csv", Data: []byte("order;preset;now.along_mm\nA-1;demo;12,4\n")},
	}})
	var seeds []commandSeed
	for _, line := range []string{
		"", "help", "version", "wires --json", "kinds --lang pt", "presets demo", "schema case", "completion bash", "__complete design --o", "help design",
		"design case.toml --out o --quiet --springs 0 --seed 3", "design --preset t-loop --json --list", "design - --paper a5 --pages template,check",
		"evaluate spring.toml --json", "evaluate spring.toml --active 37 --anchor 36 --allow-yield", "evaluate case.toml",
		"adjust spring.toml --form -", "adjust spring.toml --form spring.toml", "adjust spring.toml --measured read.toml --springs 3 --json", "adjust spring.toml --picture read.toml",
		"visit mine --new -", "visit . --values date=2026-04-13", "compare case.toml --spring spring.toml --wire 0.016in", "sheet --measuring --out mine --lang es",
		"jig spring.toml --active 37 --anchor 36 --code A --clearance 0.2mm", "batch orders.csv --part 1/2", "batch --new new.csv", "handout --students 1 --bands A:2/1",
		"mark . --class mine", "desine", "desk nowhere", "design --out=mine --out=o",
	} {
		seeds = append(seeds, commandSeed{strings.ReplaceAll(line, " ", "\n"), archive})
	}
	if !*scriptSeeds {
		return seeds
	}
	scripts, err := filepath.Glob(filepath.Join("testdata", "*.txtar"))
	if err != nil {
		f.Fatal(err)
	}
	command := regexp.MustCompile(`(?m)^(?:! )?(?:exec|exits \d+) springwright (.*)$`)
	for _, script := range scripts {
		parsed, err := txtar.ParseFile(script)
		if err != nil {
			f.Fatal(err)
		}
		for _, found := range command.FindAllSubmatch(parsed.Comment, -1) {
			line := strings.Join(quotedWords(string(found[1])), "\n")
			seeds = append(seeds, commandSeed{line, txtar.Format(&txtar.Archive{Files: parsed.Files})})
		}
	}
	return seeds
}

// quotedWords parts a line of a script as it is meant: blanks within '…' belong to a word.
func quotedWords(line string) []string {
	var words []string
	for i, part := range strings.Split(line, "'") {
		switch {
		case i%2 == 1 || part == "":
			words = append(words, part)
		default:
			words = append(words, strings.Fields(part)...)
		}
	}
	return words
}

// staysHere tells whether no word names a place outside of the working folder: a program does there as it is told.
// The desk goes on until it is ended, and has a target of its own.
func staysHere(args []string) bool {
	for _, word := range args {
		for _, part := range strings.FieldsFunc(word, func(r rune) bool { return r == '=' || r == ',' }) {
			if filepath.IsAbs(part) || strings.Contains(part, "..") {
				return false
			}
		}
	}
	return args[0] != "desk" || len(args) == 2 && args[1] == "nowhere"
}

// unpack writes the files of an archive that have plain names, and returns them.
func unpack(t *testing.T, dir string, archive *txtar.Archive) map[string]string {
	t.Helper()
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	const most = 16
	for _, file := range archive.Files[:min(most, len(archive.Files))] {
		if !filepath.IsLocal(file.Name) || strings.Count(file.Name, "/") > 2 || strings.HasPrefix(file.Name, ".") || !utf8.ValidString(file.Name) {
			continue
		}
		path := filepath.Join(dir, file.Name)
		if os.MkdirAll(filepath.Dir(path), 0o777) == nil {
			_ = os.WriteFile(path, file.Data, 0o666) // a name that no file can have, makes none
		}
	}
	return tree(t, dir)
}

// interruptedRun runs a command line, and interrupts it after a while.
func interruptedRun(t *testing.T, args []string) (code int, stdout, stderr string) {
	t.Helper()
	ctx, interrupt := context.WithCancel(t.Context())
	defer interrupt()
	defer time.AfterFunc(commandBudget, interrupt).Stop()
	hung := time.AfterFunc(commandPatience, func() { panic("does not end: " + strings.Join(args, " ")) })
	defer hung.Stop()
	var out, told bytes.Buffer
	code = run(ctx, args, console{stdout: &out, stderr: &told})
	return code, out.String(), told.String()
}

// checkTold holds what a run says against its exit code.
func checkTold(t *testing.T, args []string, code int, stdout, stderr string) {
	t.Helper()
	documented := regexp.MustCompile(`(?m)^ +(\d+)  `).FindAllStringSubmatch(exitCodesText, -1)
	if !slices.ContainsFunc(documented, func(m []string) bool { return m[1] == strconv.Itoa(code) }) || code == exitInternal {
		t.Errorf("exit code %d: %s", code, stderr)
	}
	said := false
	for line := range strings.Lines(stderr) {
		if clock.MatchString(line) {
			continue
		}
		kind, text, ok := strings.Cut(strings.TrimPrefix(line, "springwright: "), ": ")
		if !ok || !strings.HasSuffix(text, "\n") || !slices.Contains([]string{"error", "warning", "hint"}, kind) || !strings.HasPrefix(line, "springwright: ") {
			t.Errorf("a line on standard error is %q", line)
		}
		said = said || kind == "error"
	}
	if said != (code != exitDone) {
		t.Errorf("exit code %d, and on standard error %q", code, stderr)
	}
	if slices.ContainsFunc(args, func(word string) bool { return strings.HasSuffix(word, "-") || word == completionWord }) {
		stdout = "" // a file may have been asked for; completions are for shells
	}
	for _, text := range []string{stdout, stderr} {
		if !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f }) {
			t.Errorf("unfit for a terminal: %q", text)
		}
	}
}

// checkLeft holds what a run leaves against what was there and what its command line names.
func checkLeft(t *testing.T, args []string, code int, stderr string, before, after map[string]string) {
	t.Helper()
	adds := slices.Contains(args, "--add")
	kept := maps.Clone(after)
	for name, text := range before {
		if adds && filepath.Base(name) == "visits.toml" && strings.HasPrefix(after[name], text) {
			kept[name] = text
		}
		if after[name] != text {
			t.Errorf("%s was changed", name)
		}
	}
	nothing := code == exitCommandLine || code == exitInterrupted && strings.Contains(stderr, "nothing was written")
	if diff := cmp.Diff(before, kept); nothing && diff != "" {
		t.Errorf("exit code %d, and yet written (-want +got):\n%s", code, diff)
	}
	for name := range after {
		if _, was := before[name]; was {
			continue
		}
		first, _, _ := strings.Cut(name, "/")
		named := strings.HasPrefix(first, "springwright-") || name == "jig.stl" || adds && filepath.Base(name) == "visits.toml" ||
			slices.ContainsFunc(args, func(word string) bool {
				_, value, _ := strings.Cut(word, "=")
				return within(name, word) || within(name, value)
			})
		lock := batchLock.MatchString(filepath.Base(name)) // stays, so that all runs lock one file
		if !named || strings.HasPrefix(filepath.Base(name), ".") && !lock || strings.HasSuffix(name, ".adding") || strings.HasSuffix(name, ".part") || strings.Contains(name, writingName) {
			t.Errorf("%s was written", name)
		}
	}
}

// clock begins what --verbose tells of a search.
var clock = regexp.MustCompile(`^springwright: +\d+\.\d s: `)

var batchLock = regexp.MustCompile(`^\.springwright-batch(-\d+-of-\d+)?\.lock$`)

// within tells whether a file is the one that a word names, or below it.
func within(name, word string) bool {
	of, err := filepath.Rel(filepath.Clean(word), filepath.FromSlash(name))
	return err == nil && word != "" && filepath.IsLocal(of)
}
