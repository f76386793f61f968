package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"springwright/design/beam"
	"springwright/design/fault"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/export"
	"springwright/export/words"
)

// Exit codes. They are a promise to scripts: add to them, never change one.
const (
	exitDone        = 0
	exitInternal    = 1
	exitCommandLine = 2
	exitFile        = 3
	exitUnsolved    = 4
	exitLimit       = 5
	exitUnmet       = 6
	exitOutput      = 7
	exitInterrupted = 130 // 128 + SIGINT, as shells count
	exitCodesText   = `    0  done
    1  internal fault of the program
    2  wrong command line
    3  a file cannot be read or has faults
    4  the spring cannot be solved
    5  solved, but a limit is exceeded, such as the wire's yield stress or the paper's size
    6  no spring meets the target; with --anyway the files of the nearest one are written all the same
    7  output exists already or cannot be written
  130  interrupted
`
)

// failure is an error that says which exit code it leads to.
type failure struct {
	code    int
	text    string
	details []string // further lines of the error
	hints   []string
}

func (f *failure) Error() string { return f.text }

// hint adds a line that says what to do.
func (f *failure) hint(format string, args ...any) *failure {
	f.hints = append(f.hints, fmt.Sprintf(format, args...))
	return f
}

func wrongCommandLine(format string, args ...any) *failure {
	return &failure{code: exitCommandLine, text: fmt.Sprintf(format, args...)}
}

// report prints an error with its hints and returns the exit code that belongs to it.
func (c console) report(err error) int {
	if err == nil {
		return exitDone
	}
	var faults fault.List
	if errors.As(err, &faults) {
		shown, more := faults.Shown()
		for _, f := range shown {
			hint := f.Hint
			f.Hint = ""
			c.say("error", f.Error())
			if hint != "" {
				c.say("hint", hint)
			}
		}
		if more != "" {
			c.say("error", more)
		}
		return exitFile
	}
	f := asFailure(err)
	c.say("error", f.text)
	for _, d := range f.details {
		c.say("error", d)
	}
	for _, h := range f.hints {
		c.say("hint", h)
	}
	return f.code
}

// asFailure finds the exit code and hints for an error of the packages below.
func asFailure(err error) *failure {
	var f *failure
	switch {
	case errors.As(err, &f):
		return f
	case errors.Is(err, context.Canceled):
		return &failure{code: exitInterrupted, text: "interrupted, nothing was written"}
	case errors.Is(err, solve.ErrYield):
		return failureOf(exitLimit, err)
	case errors.Is(err, solve.ErrTooShort):
		return failureOf(exitUnsolved, err).
			hint("one of the two lengths must be wrong: check the lengths in the path, and where the slot lies against a measurement")
	case errors.Is(err, beam.ErrNoStraight):
		return failureOf(exitUnsolved, err).
			hint("a longer straight there would only slide in as well: the bends need more room between the slots, or the wire must not slide there")
	case errors.Is(err, solve.ErrNoContact), errors.Is(err, solve.ErrTooMuchWork):
		return failureOf(exitUnsolved, err).
			hint("a wire that finds no rest in loose slots gives no loads to rely on: use a wire that fills the slots better, or tie it in")
	case errors.Is(err, beam.ErrUnstable):
		return failureOf(exitUnsolved, err).
			hint("a wire that snaps gives no steady force: shorten the activation or change the spring's shape")
	case errors.Is(err, beam.ErrNoConvergence):
		return failureOf(exitUnsolved, err).
			hint("check that the path leads near the active slot and runs through it as \"heading\" says; a wire bent that far may have no steady rest")
	case errors.Is(err, export.ErrJob):
		return failureOf(exitLimit, err)
	default:
		return failureOf(exitInternal, err).
			hint("this is a fault of the program: report it with the command line and the file")
	}
}

// failureOf is the failure of an error of the packages below, which may have several lines:
// they quote what is not their own.
func failureOf(code int, err error) *failure {
	lines := strings.Split(err.Error(), "\n")
	return &failure{code: code, text: lines[0], details: lines[1:]}
}

// say prints one line for the user on standard error.
func (c console) say(kind, text string) {
	// A standard error that cannot be written leaves nowhere to say so.
	_, _ = fmt.Fprintf(c.stderr, "springwright: %s: %s\n", kind, printable(text))
}

func (c console) warn(warnings notice.List) {
	for _, w := range warnings {
		text, hint := english().Notice(w)
		c.say("warning", text)
		if hint != "" {
			c.say("hint", hint)
		}
	}
}

// english are the words of the terminal: those of the sheets, always in English.
func english() *words.Book { return words.NewBook(words.English) }
