package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"
)

// dash stands for standard input in place of a file that is read, and for standard output in place of the
// directory that is written to.
const dash = "-"

// shownName is a file's name in messages.
func shownName(name string) string {
	if name == dash {
		return "standard input"
	}
	return name
}

// checkStandardStreams refuses a command line that reads standard input twice, or prints two things at once.
func checkStandardStreams(flags *pflag.FlagSet) error {
	readers := 0
	for _, arg := range flags.Args() {
		if arg == dash {
			readers++
		}
	}
	toOutput := ""
	flags.Visit(func(f *pflag.Flag) {
		switch {
		case f.Name == "out" && f.Value.String() == dash:
			toOutput = f.Name
		case f.Name != "out" && f.Name != "form" && f.Value.Type() == "string":
			for part := range strings.SplitSeq(f.Value.String(), ",") {
				if part == dash {
					readers++
				}
			}
		}
	})
	only := flags.Lookup("only")
	switch {
	case readers > 1:
		return wrongCommandLine("standard input can be read only once, and \"-\" names it %d times", readers).hint("give all but one of them as files")
	case toOutput == "" && only != nil && only.Changed:
		return wrongCommandLine("--only chooses the file that --out - prints").hint("add --out -, or leave out --only: all files are written")
	case toOutput == "":
		return nil
	case only == nil:
		return wrongCommandLine("--out - is standard output, and this command does not write there").hint("give a file or directory to --out, as its help says")
	case !only.Changed:
		return wrongCommandLine("--out - is standard output, which takes one file, and there are several").hint("add --only NAME, such as --only %s, or give a directory to --out", firstChoice(only))
	}
	for _, other := range [...]string{"json", "list", "open"} {
		if f := flags.Lookup(other); f != nil && f.Changed {
			return wrongCommandLine("--out - prints a file on standard output, what is --%s for", other).hint("leave one of them out")
		}
	}
	return nil
}

func firstChoice(f *pflag.Flag) string {
	if c, ok := f.Value.(chooser); ok && len(c.Choices()) > 0 {
		return c.Choices()[0]
	}
	return "NAME"
}

// onlyFlag is the name of one file of those that a command writes.
type onlyFlag struct {
	set  outputSet
	name *string
}

func (o onlyFlag) Set(text string) error {
	if !o.set.owns(text) || strings.EqualFold(text, o.set.list) {
		return hintedError{fmt.Errorf("no file %q is written", text), "there is " + strings.Join(o.Choices(), ", ")}
	}
	*o.name = strings.ToLower(text)
	return nil
}

func (o onlyFlag) String() string {
	if o.name == nil {
		return ""
	}
	return *o.name
}

func (o onlyFlag) Type() string { return "name" }

// Choices are the names of the set, the first one of those that are counted.
func (o onlyFlag) Choices() []string {
	var names []string
	names = append(names, o.set.names...)
	for _, n := range o.set.numbered {
		names = append(names, n.before+"1"+n.behind)
	}
	return names
}

// printOnly prints the one file of several that --only names.
func (c console) printOnly(files []output, only string) error {
	var names []string
	for _, f := range files {
		if f.name != only {
			names = append(names, f.name)
			continue
		}
		_, err := c.stdout.Write(f.data)
		if err != nil {
			return &failure{code: exitOutput, text: fmt.Sprintf("standard output cannot be written: %v", err)}
		}
		return nil
	}
	return wrongCommandLine("this time there is no file %s", only).hint("there is %s", strings.Join(names, ", "))
}

// binaryOnTerminal tells whether a file that is no text would go to a terminal.
func binaryOnTerminal(w io.Writer, name string) bool {
	f, ok := w.(*os.File)
	return ok && strings.HasSuffix(name, ".pdf") && isTerminal(f)
}

// writeScript writes a text as it is: what stands in it comes from the program alone.
func writeScript(w io.Writer, text []byte) error {
	if _, err := w.Write(text); err != nil {
		return &failure{code: exitOutput, text: fmt.Sprintf("standard output cannot be written: %v", err)}
	}
	return nil
}
