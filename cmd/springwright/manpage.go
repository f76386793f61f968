package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"
)

// manualPage is the whole help as a page for "man", in the macros of man(7).
func manualPage() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line(".TH SPRINGWRIGHT 1 \"%s\" \"springwright %s\"", versionDate, version)
	line(".SH NAME\nspringwright \\- bending templates of orthodontic wire springs, at true scale")
	line(".SH SYNOPSIS\n.B springwright\n.I COMMAND\n[\\fIFLAGS\\fR] [\\fIFILES\\fR]")
	line(".SH DESCRIPTION\n%s", roff(programIs))
	line("Results go to standard output, messages to standard error. A file named \"\\-\" is standard input.")
	line(".SH COMMANDS")
	for _, v := range verbs() {
		line(".SS %s", roff(strings.TrimSpace(v.name+" "+v.arguments)))
		line("%s.", roff(v.summary))
		if v.about != "" {
			line(".PP\n.nf\n%s\n.fi", roff(strings.TrimRight(v.about, "\n")))
		}
		for _, group := range flagGroups(v.flagSet()) {
			group.flags.VisitAll(func(f *pflag.Flag) {
				name, usage := flagUsage(f)
				line(".TP\n.B %s\n%s", roff(name), roff(usage))
			})
		}
		line(".PP\nExamples:\n.nf")
		for _, example := range v.examples() {
			line("  springwright %s", roff(example))
		}
		line(".fi")
	}
	for _, t := range topics() {
		if t.text == "" {
			continue
		}
		heading := strings.ToUpper(strings.ReplaceAll(t.name, "-", " "))
		if t.name == "exit-codes" {
			heading = "EXIT STATUS"
		}
		line(".SH %s\n%s.\n.PP\n.nf\n%s\n.fi", heading, roff(t.about), roff(strings.TrimRight(t.text, "\n")))
	}
	return b.String()
}

// roff is a text in which nothing is a request or an escape of a manual page. Blank lines become requests.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, `-`, `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		switch {
		case l == "":
			lines[i] = ".sp"
		case strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'"):
			lines[i] = `\&` + l
		}
	}
	return strings.TrimSuffix(strings.Join(lines, "\n"), "\n.sp")
}
