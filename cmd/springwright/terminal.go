package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// printable is a text as it may go to a terminal: characters that would move the cursor,
// colour the line, turn it round or begin another one are written as in source code, such
// as \x1b or \n. Names of files hold whatever their makers liked, and a line of theirs
// must not look like one of the program's.
func printable(text string) string {
	var b strings.Builder
	for i, r := range text {
		_, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case unicode.IsGraphic(r):
			b.WriteRune(r)
		default:
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
		}
	}
	return b.String()
}

// writeAll writes a whole answer at once, so that nothing half-done is printed.
func writeAll(w io.Writer, text string) error {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = printable(line)
	}
	if _, err := io.WriteString(w, strings.Join(lines, "\n")); err != nil {
		return &failure{code: exitOutput, text: fmt.Sprintf("standard output cannot be written: %v", err)}
	}
	return nil
}

// writeResult is writeAll where files were written before: that they stand is said even
// where the text cannot be.
func writeResult(w io.Writer, text, dir string, files []output) error {
	if dir == dash { // a file stands there
		return nil
	}
	err := writeAll(w, text)
	if err == nil || len(files) == 0 {
		return err
	}
	f := asFailure(err)
	f.details = append(f.details, fmt.Sprintf("only this text is lost: all %d files are written to %s and complete", len(files), dir))
	return f
}
