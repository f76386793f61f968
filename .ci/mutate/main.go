// Mutate measures how well the tests of a package hold it: it changes one thing in one function, a sign, a comparison, a
// constant, and sees whether a test fails.
//
//	go run ./.ci/mutate -n 80 design/beam
//
// All mutants of a sample are compiled into one test binary: each is a copy of its function, and the function calls the
// copy whose number stands in the environment. So a mutant costs a run of the tests, and no build. What stands outside
// of functions (tables, constants) is not changed. First run are the package's quick tests, then the others, then the
// -short ones of the packages beside, as the table says.
package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// beside are the packages whose tests hold a package as well: it is there for them.
var beside = map[string][]string{
	"design/beam":   {"design/solve"},
	"design/effect": {"design/report", "cmd/springwright/validation"},
	"design/fibre":  {"design/beam"},
	"design/solve":  {"design/report", "cmd/springwright/validation", "optimize/hand"},
	"design/target": {"design/report", "export/words"},
	"design/tooth":  {"design/effect"},
	"design/wire":   {"design/report", "cmd/springwright/validation", "design/beam"},
	"export/words":  {"design/report", "export"},
}

func main() {
	log.SetFlags(0)
	number := flag.Int("n", 80, "how many mutants are tried, of all that there are")
	seed := flag.Uint64("seed", 1, "which ones")
	only := flag.String("only", "", "mutants of the sample by their numbers, with commas between them; empty: all")
	alone := flag.Bool("alone", false, "run no tests of other packages: a quick list of what the package's own let live")
	flag.Parse()
	if *alone {
		clear(beside)
	}
	if flag.NArg() == 0 {
		log.Fatal("name a package, such as design/beam")
	}
	for _, folder := range flag.Args() {
		if err := try(filepath.Clean(folder), *number, *seed, *only); err != nil {
			log.Fatal(err)
		}
	}
}

// try tries a sample of the mutants of a package, prints those that live, and how many do not.
func try(folder string, number int, seed uint64, only string) error {
	all, err := mutantsOf(folder)
	if err != nil {
		return err
	}
	found := len(all)
	random := rand.New(rand.NewPCG(seed, 1))
	random.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	work, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	sample, stages, err := built(work, folder, all, number)
	if err != nil {
		return err
	}
	killed := make([]int, len(stages))
	tried, alive := 0, 0
	for _, m := range sample {
		if only != "" && !slices.Contains(strings.Split(only, ","), strconv.Itoa(m.number)) {
			continue
		}
		tried++
		by := slices.IndexFunc(stages, func(s stage) bool { return s.fails(m.number) })
		if by >= 0 {
			killed[by]++
			continue
		}
		alive++
		fmt.Printf("%d lives: %s\n", m.number, m)
	}
	fmt.Printf("%s: of %d mutants %d were tried, %d killed (%.0f %%), %d live;", folder, found, tried, tried-alive, 100*float64(tried-alive)/float64(max(1, tried)), alive)
	for i, s := range stages {
		fmt.Printf(" %d by %s,", killed[i], s.name)
	}
	fmt.Printf(" seed %d\n", seed)
	return nil
}

// built compiles as many mutants into test binaries, in their order; those that are no program are left out.
func built(work, folder string, all []mutant, number int) ([]mutant, []stage, error) {
	wrong := map[int]bool{}
	for {
		var sample []mutant
		for _, m := range all {
			if !wrong[m.number] && len(sample) < number {
				sample = append(sample, m)
			}
		}
		overlay, err := written(work, folder, sample)
		if err != nil {
			return nil, nil, err
		}
		out, err := exec.Command("go", "test", "-c", "-gcflags=-e", "-overlay", overlay, "-o", filepath.Join(work, "own.test"), "./"+folder).CombinedOutput()
		if err == nil {
			stages, err := stagesOf(work, folder, overlay)
			return sample, stages, err
		}
		before := len(wrong)
		for _, m := range regexp.MustCompile(`mutant-(\d+)\.go:`).FindAllSubmatch(out, -1) {
			n, _ := strconv.Atoi(string(m[1]))
			wrong[n] = true
		}
		if len(wrong) == before {
			return nil, nil, fmt.Errorf("go test -c: %w\n%s", err, out)
		}
	}
}

// written writes the package's files with the mutants in them, and the overlay that puts them in its place.
func written(work, folder string, sample []mutant) (string, error) {
	replace := map[string]string{}
	put := func(name string, text []byte) error {
		target, err := filepath.Abs(filepath.Join(folder, name))
		if err != nil {
			return err
		}
		replace[target] = filepath.Join(work, name)
		return os.WriteFile(replace[target], text, 0o600)
	}
	byFile := map[string][]mutant{}
	for _, m := range sample {
		byFile[m.file] = append(byFile[m.file], m)
	}
	name := ""
	for file, of := range byFile {
		name = of[0].packageName
		text, err := os.ReadFile(file)
		if err != nil {
			return "", err
		}
		if err := put(filepath.Base(file), withMutants(text, of)); err != nil {
			return "", err
		}
	}
	text := "package " + name + "\n\nimport (\n\t\"os\"\n\t\"strconv\"\n)\n\nvar theMutant, _ = strconv.Atoi(os.Getenv(\"MUTANT\"))\n"
	if err := put("themutant.go", []byte(text)); err != nil {
		return "", err
	}
	data, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay := filepath.Join(work, "overlay.json")
	return overlay, os.WriteFile(overlay, data, 0o600)
}

// stage is some tests of a package.
type stage struct {
	name, binary, folder string
	args                 []string
	longest              time.Duration
}

func (s stage) run(mutant int) (time.Duration, []byte, error) {
	ctx, stop := context.WithTimeout(context.Background(), s.longest)
	defer stop()
	command := exec.CommandContext(ctx, s.binary, append([]string{"-test.failfast"}, s.args...)...)
	command.Dir, command.Env = s.folder, append(os.Environ(), "MUTANT="+strconv.Itoa(mutant))
	command.WaitDelay = time.Second
	began := time.Now()
	out, err := command.CombinedOutput()
	return time.Since(began), out, err
}

func (s stage) fails(mutant int) bool {
	_, _, err := s.run(mutant)
	return err != nil
}

// stagesOf are the tests that are run for a mutant one after the other until one fails. They pass without one.
func stagesOf(work, folder, overlay string) ([]stage, error) {
	own := stage{name: "own", binary: filepath.Join(work, "own.test"), folder: folder, args: []string{"-test.v"}, longest: time.Hour}
	took, out, err := own.run(0)
	if err != nil {
		return nil, fmt.Errorf("%s without a mutant: %w\n%s", folder, err, out)
	}
	longest := max(20*time.Second, 6*took)
	quick := "^(" + strings.Join(quickTests(out, took/10), "|") + ")$"
	stages := []stage{
		{"own quick tests", own.binary, folder, []string{"-test.run", quick}, longest},
		{"own others", own.binary, folder, []string{"-test.skip", quick}, longest},
	}
	for i, p := range beside[folder] {
		s := stage{p + " -short", filepath.Join(work, fmt.Sprintf("beside-%d.test", i)), p, []string{"-test.short"}, time.Hour}
		if out, err := exec.Command("go", "test", "-c", "-overlay", overlay, "-o", s.binary, "./"+p).CombinedOutput(); err != nil {
			return nil, fmt.Errorf("go test -c ./%s: %w\n%s", p, err, out)
		}
		took, out, err := s.run(0)
		if err != nil {
			return nil, fmt.Errorf("%s without a mutant: %w\n%s", p, err, out)
		}
		s.longest = max(20*time.Second, 6*took)
		stages = append(stages, s)
	}
	return stages, nil
}

// quickTests are tests that take no longer together.
func quickTests(out []byte, longest time.Duration) (names []string) {
	type test struct {
		name string
		took time.Duration
	}
	var tests []test
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		if m := regexp.MustCompile(`^--- PASS: (\w+) \(([\d.]+)s\)`).FindStringSubmatch(lines.Text()); m != nil {
			took, _ := time.ParseDuration(m[2] + "s")
			tests = append(tests, test{m[1], took})
		}
	}
	slices.SortStableFunc(tests, func(a, b test) int { return int(a.took - b.took) })
	for sum := time.Duration(0); len(tests) > 0; tests = tests[1:] {
		if sum += tests[0].took; sum > longest {
			break
		}
		names = append(names, tests[0].name)
	}
	return names
}
