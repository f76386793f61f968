package main

import (
	"context"
	"embed"
	"slices"
	"strings"

	"springwright/design/spelling"

	"github.com/spf13/pflag"
)

// completionFiles are the scripts of the shells. They know no command: they ask the program itself, by
// completionWord and the words typed so far.
//
//go:embed completion/*
var completionFiles embed.FS

// completionWord is how a shell asks what may stand at the cursor. The last word is the one being typed.
const completionWord = "__complete"

// filesWord is the answer that names of files may stand there.
const filesWord = ":files"

// candidate is a word that may stand at the cursor, and what it means; that may be left out.
type candidate struct{ word, means string }

// chooser is the value of a flag that takes one of some words.
type chooser interface{ Choices() []string }

func shells() []string { return []string{"bash", "zsh", "fish", "powershell"} }

func newCompletion() verb {
	return verb{
		name:      "completion",
		arguments: "bash|zsh|fish|powershell",
		summary:   "print what makes a shell complete commands, flags and names",
		about: "bash:        springwright completion bash > ~/.local/share/bash-completion/completions/springwright\n" +
			"zsh:         springwright completion zsh > a folder of $fpath, as _springwright\n" +
			"fish:        springwright completion fish > ~/.config/fish/completions/springwright.fish\n" +
			"PowerShell:  springwright completion powershell >> $PROFILE\n" +
			"It asks the program as you type, so that it need not be made anew with a new version.\n",
		example: "completion bash\ncompletion powershell",
		least:   1,
		most:    1,
		words:   func([]string) []candidate { return plainCandidates(shells()) },
		run: func(_ context.Context, c console, args []string) error {
			if !slices.Contains(shells(), args[0]) {
				f := wrongCommandLine("no completion for %q", args[0])
				if near := spelling.Nearest(args[0], shells()); near != "" {
					return f.hint("did you mean %q", near)
				}
				return f.hint("there is %s", strings.Join(shells(), ", "))
			}
			script, err := completionFiles.ReadFile("completion/" + args[0])
			if err != nil {
				return err
			}
			return writeScript(c.stdout, script)
		},
	}
}

// completed are the words that may stand at the cursor, a line each, with what they mean behind a tab.
func completed(words []string) string {
	var b strings.Builder
	for _, c := range candidates(words) {
		b.WriteString(c.word)
		if c.means != "" {
			b.WriteString("\t" + c.means)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// In one piece: a switch over where the word stands.
func candidates(words []string) []candidate {
	if len(words) == 0 {
		return nil
	}
	typed, before := words[len(words)-1], joinedAssignments(words[:len(words)-1])
	if len(before) == 0 {
		return beginning(append(verbCandidates(), candidate{"--help", ""}, candidate{"--version", ""}), typed)
	}
	i := slices.IndexFunc(verbs(), func(v verb) bool { return v.name == before[0] })
	if i < 0 {
		return nil
	}
	v := verbs()[i]
	flags := v.flagSet()
	var arguments, given []string
	var open *pflag.Flag // waits for its value
	ended := false
	for _, word := range before[1:] {
		name, isFlag := strings.CutPrefix(word, "--")
		switch {
		case open != nil:
			open = nil
		case ended || !isFlag:
			arguments = append(arguments, word)
		case name == "":
			ended = true
		default:
			name, _, whole := strings.Cut(name, "=")
			given = append(given, name)
			if f := flags.Lookup(name); f != nil && f.NoOptDefVal == "" && !whole {
				open = f
			}
		}
	}
	if open != nil {
		return valuesOf(open, "", strings.TrimPrefix(typed, "="))
	}
	if name, value, whole := strings.Cut(typed, "="); whole && strings.HasPrefix(name, "--") && !ended {
		f := flags.Lookup(name[2:])
		if f == nil {
			return nil
		}
		return valuesOf(f, name+"=", value)
	}
	if strings.HasPrefix(typed, "-") && !ended {
		var list []candidate
		flags.VisitAll(func(f *pflag.Flag) {
			_, repeats := f.Value.(*wiresFlag)
			if !slices.Contains(given, f.Name) || repeats {
				_, usage := pflag.UnquoteUsage(f)
				list = append(list, candidate{"--" + f.Name, usage})
			}
		})
		return beginning(append(list, candidate{"--help", "explain the command"}), typed)
	}
	switch {
	case len(arguments) >= v.most:
		return nil
	case v.words != nil:
		return beginning(v.words(arguments), typed)
	}
	return []candidate{{word: filesWord}}
}

// joinedAssignments puts together what a shell took apart at "=".
func joinedAssignments(words []string) []string {
	var joined []string
	for i, word := range words {
		if last := len(joined) - 1; last >= 0 && strings.HasPrefix(joined[last], "--") && (word == "=" && i < len(words)-1 || strings.HasSuffix(joined[last], "=")) {
			joined[last] += word
			continue
		}
		if word != "=" {
			joined = append(joined, word)
		}
	}
	return joined
}

// valuesOf are the values that a flag may have; of a list with commas, those of its last part.
func valuesOf(f *pflag.Flag, before, typed string) []candidate {
	chosen, ok := f.Value.(chooser)
	if !ok {
		if f.Value.Type() == "string" {
			return []candidate{{word: filesWord}}
		}
		return nil
	}
	if _, list := f.Value.(pagesFlag); list {
		if i := strings.LastIndex(typed, ","); i >= 0 {
			before, typed = before+typed[:i+1], typed[i+1:]
		}
	}
	var list []candidate
	for _, c := range beginning(plainCandidates(chosen.Choices()), typed) {
		list = append(list, candidate{before + c.word, c.means})
	}
	return list
}

func beginning(list []candidate, typed string) []candidate {
	return slices.DeleteFunc(list, func(c candidate) bool { return !strings.HasPrefix(c.word, typed) })
}

func plainCandidates(words []string) []candidate {
	list := make([]candidate, len(words))
	for i, word := range words {
		list[i].word = word
	}
	return list
}

func verbCandidates() (list []candidate) {
	for _, v := range verbs() {
		list = append(list, candidate{v.name, v.summary})
	}
	return list
}

func topicCandidates() (list []candidate) {
	for _, t := range topics() {
		list = append(list, candidate{t.name, t.about})
	}
	return list
}
