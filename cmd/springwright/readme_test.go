package main

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// guides are the texts that show commands.
func guides(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, name := range []string{"README.md", "DEVELOPERS.md", "testdata/measured/README.md"} {
		text, err := os.ReadFile(filepath.Join("..", "..", name))
		if err != nil {
			t.Fatal(err)
		}
		all[name] = string(text)
	}
	return all
}

var (
	fenced = regexp.MustCompile("(?ms)^ *```[a-z]*\n(.*?)^ *```$")
	inline = regexp.MustCompile("`([^`\n]+)`")
)

// shownCommands are the lines of blocks of code, and all that stands between backquotes in the rest.
func shownCommands(text string) (all []string) {
	for _, block := range fenced.FindAllStringSubmatch(text, -1) {
		for line := range strings.SplitSeq(block[1], "\n") {
			line, _, _ = strings.Cut(strings.TrimSpace(line), "  #")
			all = append(all, strings.TrimSpace(strings.TrimPrefix(line, "$ ")))
		}
	}
	for _, code := range inline.FindAllStringSubmatch(fenced.ReplaceAllString(text, ""), -1) {
		all = append(all, strings.ReplaceAll(code[1], `\|`, "|"))
	}
	return all
}

// Every command that the guides show is one, with flags that it has, and every command stands in README.md.
func TestGuidesShowCommandsThatAre(t *testing.T) {
	t.Parallel()
	shown, checked := map[string]bool{}, 0
	for name, text := range guides(t) {
		for _, line := range shownCommands(text) {
			for _, part := range regexp.MustCompile(` && | \| | > `).Split(line, -1) {
				args := strings.Fields(part)
				if len(args) > 2 && args[0] == "go" && args[1] == "run" && args[2] == "./cmd/springwright" {
					args = args[2:]
				} else if len(args) == 0 || args[0] != "springwright" {
					continue
				}
				if len(args) < 2 || args[1] == strings.ToUpper(args[1]) {
					continue // the program alone
				}
				checked++
				v, err := findVerb(args[1])
				if err != nil {
					t.Errorf("%s: %s: %v", name, line, err)
					continue
				}
				shown[v.name] = shown[v.name] || name == "README.md"
				flags := v.flagSet()
				for _, arg := range args[2:] {
					given, isLong := strings.CutPrefix(arg, "--")
					given, _, _ = strings.Cut(given, "=")
					isShort := !isLong && len(arg) == 2 && arg[0] == '-'
					var f *pflag.Flag
					switch {
					case isLong:
						f = flags.Lookup(given)
					case isShort:
						f = flags.ShorthandLookup(arg[1:])
					}
					if (isLong || isShort) && f == nil {
						t.Errorf("%s: %s: %s has no flag %s", name, line, v.name, arg)
					}
				}
			}
		}
	}
	if checked < 30 {
		t.Errorf("no more than %d commands were found", checked)
	}
	for _, v := range verbs() {
		if !shown[v.name] {
			t.Errorf("README.md does not tell of %q", v.name)
		}
	}
}

// Flags that the guides show beside others, without their command, are flags of some command or of a test.
func TestGuidesShowFlagsThatAre(t *testing.T) {
	t.Parallel()
	known := map[string]bool{"version": true, "help": true}
	for _, v := range verbs() {
		v.flagSet().VisitAll(func(f *pflag.Flag) { known[f.Name] = true })
	}
	for name, text := range guides(t) {
		for _, code := range shownCommands(text) {
			if flag, is := strings.CutPrefix(code, "--"); is {
				flag, _, _ = strings.Cut(strings.Fields(flag)[0], "=")
				if !known[flag] {
					t.Errorf("%s: no command has --%s", name, flag)
				}
			}
		}
	}
}

// Tests that the guides run are there, with the flags that they are given.
func TestGuidesRunTestsThatAre(t *testing.T) {
	t.Parallel()
	declared := regexp.MustCompile(`flag\.\w+\("([a-z]+)"`)
	named := regexp.MustCompile(`(?m)^func ((?:Test|Fuzz|Benchmark)\w+)\(`)
	checked := 0
	for name, text := range guides(t) {
		for _, line := range shownCommands(text) {
			args := strings.Fields(line)
			if len(args) < 3 || args[0] != "go" || args[1] != "test" {
				continue
			}
			var tests, flags []string
			ours := slices.Index(args, "-args")
			for i, arg := range args {
				folder, ok := strings.CutPrefix(arg, "./")
				if !ok || strings.HasSuffix(arg, "...") {
					continue
				}
				files, err := filepath.Glob(filepath.Join("..", "..", folder, "*_test.go"))
				if err != nil || len(files) == 0 {
					t.Errorf("%s: %s: no tests in %s", name, line, args[i])
				}
				for _, file := range files {
					source, err := os.ReadFile(file)
					if err != nil {
						t.Fatal(err)
					}
					for _, m := range named.FindAllStringSubmatch(string(source), -1) {
						tests = append(tests, m[1])
					}
					for _, m := range declared.FindAllStringSubmatch(string(source), -1) {
						flags = append(flags, m[1])
					}
				}
			}
			if len(tests) == 0 {
				continue // of all packages
			}
			checked++
			for i, arg := range args[:len(args)-1] {
				if slices.Contains([]string{"-run", "-fuzz", "-bench"}, arg) && args[i+1] != "'^$'" && args[i+1] != "." {
					pattern := regexp.MustCompile(strings.Split(strings.Trim(args[i+1], "'"), "/")[0])
					if !slices.ContainsFunc(tests, pattern.MatchString) {
						t.Errorf("%s: %s: no test is called like %s", name, line, args[i+1])
					}
				}
				flag, is := strings.CutPrefix(args[i+1], "-")
				if flag, _, _ = strings.Cut(flag, "="); is && ours >= 0 && i+1 > ours && !slices.Contains(flags, flag) {
					t.Errorf("%s: %s: no test has the flag -%s", name, line, flag)
				}
			}
		}
	}
	if checked < 12 {
		t.Errorf("no more than %d commands were found", checked)
	}
}

// Links lead to files and headings that are there.
func TestGuidesLinkToWhatIs(t *testing.T) {
	t.Parallel()
	link := regexp.MustCompile(`\]\(([^)\s]+)\)`)
	for name, text := range guides(t) {
		for _, m := range link.FindAllStringSubmatch(text, -1) {
			if strings.HasPrefix(m[1], "https://") {
				continue
			}
			file, heading, _ := strings.Cut(m[1], "#")
			if file == "" {
				file = path.Base(name)
			}
			at := filepath.Join("..", "..", filepath.FromSlash(path.Join(path.Dir(name), file)))
			body, err := os.ReadFile(at)
			if info, missing := os.Stat(at); missing == nil && info.IsDir() && heading == "" {
				continue
			}
			if err != nil {
				t.Errorf("%s links to %s: %v", name, m[1], err)
			} else if heading != "" && !slices.Contains(anchors(string(body)), heading) {
				t.Errorf("%s links to %s, which has no such heading", name, m[1])
			}
		}
	}
}

// anchors are the names of the headings of a text, as hosts of repositories make them.
func anchors(text string) (all []string) {
	dropped := regexp.MustCompile(`[^\p{L}\p{N} _-]`)
	for line := range strings.SplitSeq(text, "\n") {
		if heading := strings.TrimLeft(line, "#"); heading != line && strings.HasPrefix(heading, " ") {
			all = append(all, strings.ReplaceAll(dropped.ReplaceAllString(strings.ToLower(heading[1:]), ""), " ", "-"))
		}
	}
	return all
}
