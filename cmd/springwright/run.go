// Command springwright turns a force system wanted on one tooth into a true-scale bending
// template of a wire spring.
//
// Standard output carries results and nothing else. Standard error carries lines that
// begin with "springwright: error:", "warning:" or "hint:", in lower case and without a
// full stop, and on a terminal a line of progress.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"

	"springwright/design/spelling"

	"github.com/spf13/pflag"
)

// console is where a command writes. Live tells that stderr is a terminal, where a line
// of progress may be rewritten in place.
type console struct {
	stdout, stderr io.Writer
	live           bool
}

// runInterruptibly runs the command line with a context that ends at the first interrupt.
// A second interrupt kills the process as usual.
func runInterruptibly(args []string, stdout, stderr *os.File) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)
	return run(ctx, args, console{stdout: stdout, stderr: stderr, live: isTerminal(stderr)})
}

// isTerminal tells whether a file is a character device other than the one that swallows all.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, null)
}

// run carries out a command line, without the program's name, and returns the exit code.
func run(ctx context.Context, args []string, c console) int {
	return c.report(dispatch(ctx, args, c))
}

// verb is one command of the program.
type verb struct {
	name      string
	arguments string // as written in its usage line
	summary   string // one line
	about     string // further lines of its help
	example   string // what stands behind "springwright " in the examples of its help, a line each
	least     int    // fewest arguments
	most      int    // most arguments
	addFlags  func(*pflag.FlagSet)
	words     func(before []string) []candidate // what may stand as the next argument; nil: files
	run       func(ctx context.Context, c console, args []string) error
}

// verbs returns all commands, in the order of the help.
func verbs() []verb {
	return []verb{
		newDesign(), newEvaluate(), newAdjust(), newVisit(), newCompare(), newSheet(), newJig(), newBatch(),
		newHandout(), newMark(), newDesk(), newKinds(), newPresets(), newWires(), newSchema(), newCompletion(), newHelp(), newVersion(),
	}
}

// findVerb finds a command; topics are further names that could have been meant.
func findVerb(name string, topics ...string) (verb, error) {
	var names []string
	for _, v := range verbs() {
		if v.name == name {
			return v, nil
		}
		names = append(names, v.name)
	}
	f := wrongCommandLine("unknown command %q", name)
	if near := spelling.Nearest(name, append(slices.Clone(names), topics...)); near != "" {
		return verb{}, f.hint("did you mean %q", near)
	}
	return verb{}, f.hint("the commands are %s", strings.Join(names, ", ")+topicsNamed(topics))
}

// topicsNamed are what else could have been asked for.
func topicsNamed(topics []string) string {
	if len(topics) == 0 {
		return ""
	}
	return "; the topics " + strings.Join(topics, ", ")
}

func dispatch(ctx context.Context, args []string, c console) error {
	if len(args) == 0 {
		return wrongCommandLine("no command given").
			hint("try \"springwright design\" for the demo, or \"springwright help\"")
	}
	switch args[0] {
	case "-h", "--help":
		return writeAll(c.stdout, programHelp())
	case "--version":
		return writeAll(c.stdout, versionLine())
	}
	if args[0] == completionWord {
		return writeScript(c.stdout, []byte(completed(args[1:])))
	}
	if strings.HasPrefix(args[0], "-") {
		return wrongCommandLine("unknown flag %s in front of a command", args[0]).
			hint("flags stand behind the command: springwright COMMAND %s", args[0])
	}
	v, err := findVerb(args[0])
	if err != nil {
		return err
	}
	return v.dispatch(ctx, args[1:], c)
}

func (v verb) dispatch(ctx context.Context, args []string, c console) error {
	flags := v.flagSet()
	wantsHelp, err := parseFlags(flags, args)
	if err == nil {
		err = checkStandardStreams(flags)
	}
	if err != nil {
		return err
	}
	if wantsHelp {
		return writeAll(c.stdout, v.help())
	}
	switch n := flags.NArg(); {
	case n < v.least:
		return wrongCommandLine("%s needs %s", v.name, v.arguments).hint("\"springwright help %s\" shows how it is called", v.name)
	case n > v.most:
		return wrongCommandLine("%s does not know what to do with %q", v.name, flags.Arg(v.most)).
			hint("springwright help %s", v.name)
	}
	return v.run(ctx, c, flags.Args())
}

func (v verb) flagSet() *pflag.FlagSet {
	flags := pflag.NewFlagSet(v.name, pflag.ContinueOnError)
	flags.SortFlags = false
	flags.Usage = func() {} // errors and help are printed by run
	if v.addFlags != nil {
		v.addFlags(flags)
	}
	return flags
}
