package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// completions are the words that the program answers with.
func completions(words ...string) []string {
	var list []string
	for _, c := range candidates(words) {
		list = append(list, c.word)
	}
	return list
}

func TestCompletion(t *testing.T) {
	t.Parallel()
	for _, trial := range []struct {
		words []string
		want  []string
	}{
		{[]string{"des"}, []string{"design", "desk"}},
		{[]string{"design", "--paper", ""}, []string{"a4", "letter"}},
		{[]string{"design", "--paper=l"}, []string{"--paper=letter"}},
		{[]string{"design", "--paper", "=", "l"}, []string{"letter"}}, // as bash takes words apart
		{[]string{"design", "--paper", "="}, []string{"a4", "letter"}},
		{[]string{"design", "--lang", ""}, []string{"en", "pt", "es"}},
		{[]string{"design", "--pages", "template,st"}, []string{"template,stages", "template,steps"}},
		{[]string{"design", "--preset", "molar-u"}, []string{"molar-unit", "molar-uprighting"}},
		{[]string{"design", "--only", "template.p"}, []string{"template.pdf"}},
		{[]string{"design", "--out", ""}, []string{filesWord}},
		{[]string{"design", "--stages", ""}, []string{filesWord}}, // that flag takes no value
		{[]string{"design", "case.toml", ""}, nil},
		{[]string{"design", "--sta"}, []string{"--stages"}},
		{[]string{"design", "--stages", "--sta"}, nil}, // given already
		{[]string{"presets", ""}, []string{"show", "gallery"}},
		{[]string{"presets", "show", "t-"}, []string{"t-loop"}},
		{[]string{"kinds", "T"}, []string{"T-loop"}},
		{[]string{"completion", "f"}, []string{"fish"}},
		{[]string{"help", "gl"}, []string{"glossary"}},
		{[]string{"evaluate", "--active", "3"}, []string{"31", "32", "33", "34", "35", "36", "37", "38"}},
		{[]string{"nonsense", ""}, nil},
		{nil, nil},
	} {
		if got := completions(trial.words...); !slices.Equal(got, trial.want) {
			t.Errorf("%q is completed by %q, want %q", trial.words, got, trial.want)
		}
	}
}

// Every command and every flag is offered, and what no flag has is not.
func TestCompletionOffersAll(t *testing.T) {
	t.Parallel()
	for _, v := range verbs() {
		if got := completions(v.name); !slices.Contains(got, v.name) {
			t.Errorf("%s is not offered", v.name)
		}
		var want []string
		for _, group := range flagGroups(v.flagSet()) {
			for line := range strings.Lines(flagUsages(group.flags)) {
				name := line[strings.Index(line, "--"):]
				want = append(want, name[:strings.IndexAny(name, " \n")])
			}
		}
		got := completions(v.name, "--")
		slices.Sort(got)
		slices.Sort(want)
		if got = slices.DeleteFunc(got, func(name string) bool { return name == "--help" }); !slices.Equal(got, want) {
			t.Errorf("%s offers %q, its help lists %q", v.name, got, want)
		}
	}
}

// The shells themselves complete by their scripts.
func TestShellsComplete(t *testing.T) {
	t.Parallel()
	program, err := exec.LookPath("springwright") // the test itself, as in scripts
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, shell := range shells() {
		script, err := completionFiles.ReadFile("completion/" + shell)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, shell), script, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	bash := func(words ...string) string {
		return `. ./bash; COMP_WORDS=(springwright ` + strings.Join(words, " ") + `); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _springwright; printf '%s\n' "${COMPREPLY[@]}"`
	}
	for _, trial := range []struct {
		shell, name string
		args        []string
		want        []string
	}{
		{"bash", "command", []string{"-c", bash("comp")}, []string{"compare", "completion"}},
		{"bash", "value", []string{"-c", bash("design", "--paper", "''")}, []string{"a4", "letter"}},
		{"bash", "preset", []string{"-c", bash("presets", "show", "lower")}, []string{"lower-cantilever", "lower-incisor-intrusion", "lower-t-loop"}},
		{"bash", "kind", []string{"-c", bash("kinds", "open")}, []string{`open\ vertical\ loop`}},
		{"bash", "file", []string{"-c", bash("evaluate", "fi")}, []string{"fish"}},
		{"fish", "command", []string{"--no-config", "-c", `source ./fish; complete -C "springwright comp"`}, []string{"compare", "completion"}},
		{"fish", "value", []string{"--no-config", "-c", `source ./fish; complete -C "springwright design --paper "`}, []string{"a4", "letter"}},
		{"fish", "file", []string{"--no-config", "-c", `source ./fish; complete -C "springwright evaluate ba"`}, []string{"bash"}},
		{"zsh", "command", []string{"-f", "-c", zshTrial("springwright comp")}, []string{"compare", "completion"}},
		{"zsh", "value", []string{"-f", "-c", zshTrial("springwright design --paper ")}, []string{"a4", "letter"}},
	} {
		t.Run(trial.shell+"/"+trial.name, func(t *testing.T) {
			t.Parallel()
			path, err := exec.LookPath(trial.shell)
			if err != nil {
				t.Skipf("%s is missing: its completion was NOT tried", trial.shell)
			}
			cmd := exec.CommandContext(t.Context(), path, trial.args...)
			cmd.Dir = dir
			cmd.Env = append(os.Environ(), "PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"), "HOME="+dir, "XDG_CONFIG_HOME="+dir)
			out, err := cmd.CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			var got []string
			for line := range strings.Lines(string(out)) {
				word, _, _ := strings.Cut(strings.TrimSpace(line), "\t")
				got = append(got, word)
			}
			if !slices.Equal(got, trial.want) {
				t.Errorf("%q, want %q", got, trial.want)
			}
		})
	}
}

// zshTrial has zsh complete a line, with its own functions in place of the line editor's.
func zshTrial(line string) string {
	return `compdef() { :; }; _files() { print files; }; _describe() { print -l -- "${(@)found%%:*}"; }; . ./zsh
words=("${(@s: :)${:-` + line + `}}"); CURRENT=$#words; _springwright`
}
