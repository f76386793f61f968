package main

import (
	"context"
	"fmt"
	"strings"
)

// version of the program, raised by hand at a release. It is printed on every sheet, so it
// is not taken from the build, where it would differ between two ways to build one source.
const version = "0.1.0"

// versionDate is when version was raised; the manual page names it.
const versionDate = "2026-11-26"

func versionLine() string { return "springwright " + version + "\n" }

func newVersion() verb {
	return verb{
		name:    "version",
		summary: "print the program's version",
		example: "version\n--version",
		run: func(_ context.Context, c console, _ []string) error {
			return writeAll(c.stdout, versionLine())
		},
	}
}

func newHelp() verb {
	return verb{
		name:      "help",
		arguments: "[COMMAND | TOPIC]",
		summary:   "explain the program, one of its commands, or a topic",
		example:   "help design\nhelp man > springwright.1",
		most:      1,
		words:     func([]string) []candidate { return append(verbCandidates(), topicCandidates()...) },
		run: func(_ context.Context, c console, args []string) error {
			if len(args) == 0 {
				return writeAll(c.stdout, programHelp())
			}
			for _, t := range topics() {
				if t.name == args[0] {
					return writeAll(c.stdout, t.help())
				}
			}
			v, err := findVerb(args[0], topicNames()...)
			if err != nil {
				return err
			}
			return writeAll(c.stdout, v.help())
		},
	}
}

func topicNames() []string {
	var names []string
	for _, t := range topics() {
		names = append(names, t.name)
	}
	return names
}

const programIs = "springwright turns the force and couple wanted on one tooth into a true-scale bending\n" +
	"template of a wire spring.\n"

func programHelp() string {
	var b strings.Builder
	b.WriteString(programIs + "\nusage: springwright COMMAND …\n\ncommands:\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, "  %-12s %s\n", v.name, v.summary)
	}
	b.WriteString("\ntopics:\n")
	for _, t := range topics() {
		fmt.Fprintf(&b, "  %-12s %s\n", t.name, t.about)
	}
	b.WriteString("\n\"springwright help COMMAND\" lists the flags of a command, \"springwright help TOPIC\" tells of a topic.\n")
	b.WriteString("\nexamples: the demo case, its template written into springwright-out; and a case to change\n  springwright design\n  springwright presets show t-loop > my-case.toml\n")
	return b.String()
}

func (v verb) help() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\nusage: springwright %s\n", v.summary, strings.TrimSpace(v.name+" "+v.arguments))
	if v.about != "" {
		b.WriteString("\n" + v.about)
	}
	for _, group := range flagGroups(v.flagSet()) {
		b.WriteString("\n" + group.name + ":\n" + flagUsages(group.flags))
	}
	b.WriteString("\nexamples:\n")
	for _, example := range v.examples() {
		fmt.Fprintf(&b, "  springwright %s\n", example)
	}
	if see := v.seeAlso(); len(see) > 0 {
		fmt.Fprintf(&b, "\nsee also: springwright help %s\n", strings.Join(see, ", "))
	}
	return b.String()
}

// examples are what stands behind the program's name in the examples of a command.
func (v verb) examples() []string { return strings.Split(v.example, "\n") }

// seeAlso are the topics that belong to a command by the flags that it has, and commands that it names.
func (v verb) seeAlso() (names []string) {
	flags := v.flagSet()
	if flags.Lookup("paper") != nil {
		names = append(names, "files", "printing")
	}
	for _, other := range verbs() {
		if other.name != v.name && strings.Contains(v.about, "\""+other.name+"\"") {
			names = append(names, other.name)
		}
	}
	return append(names, "exit-codes")
}
