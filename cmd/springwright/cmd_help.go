package main

import (
	"context"
	"fmt"
	"strings"
)

// version of the program, raised by hand at a release. It is printed on every sheet, so it
// is not taken from the build, where it would differ between two ways to build one source.
const version = "0.1.0"

func versionLine() string { return "springwright " + version + "\n" }

func newVersion() verb {
	return verb{
		name:    "version",
		summary: "print the program's version",
		example: "version",
		run: func(_ context.Context, c console, _ []string) error {
			return writeAll(c.stdout, versionLine())
		},
	}
}

func newHelp() verb {
	return verb{
		name:      "help",
		arguments: "[COMMAND]",
		summary:   "explain the program or one of its commands",
		example:   "help design",
		most:      1,
		run: func(_ context.Context, c console, args []string) error {
			if len(args) == 0 {
				return writeAll(c.stdout, programHelp())
			}
			v, err := findVerb(args[0])
			if err != nil {
				return err
			}
			return writeAll(c.stdout, v.help())
		},
	}
}

func programHelp() string {
	var b strings.Builder
	b.WriteString("springwright turns the force and couple wanted on one tooth into a true-scale bending\n" +
		"template of a wire spring.\n\nusage: springwright COMMAND …\n\ncommands:\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, "  %-9s %s\n", v.name, v.summary)
	}
	b.WriteString("\n\"springwright help COMMAND\" lists the flags of a command.\n\n")
	b.WriteString(exitCodesHelpText)
	b.WriteString("\nexample: the demo case, its template written into springwright-out\n  springwright design\n")
	return b.String()
}

func (v verb) help() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\nusage: springwright %s\n", v.summary, strings.TrimSpace(v.name+" "+v.arguments))
	if v.about != "" {
		b.WriteString("\n" + v.about)
	}
	if flags := v.flagSet(); flags.HasFlags() {
		b.WriteString("\nflags:\n" + flagUsages(flags))
	}
	b.WriteString("\n" + exitCodesHelpText)
	fmt.Fprintf(&b, "\nexample:\n  springwright %s\n", v.example)
	return b.String()
}
