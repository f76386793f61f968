// Package presets holds the case files that come with the program.
package presets

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
)

// Demo is the name of the case that is designed when none is given.
const Demo = "demo"

const extension = ".toml"

//go:embed *.toml
var files embed.FS

// Names lists the presets in alphabetical order.
func Names() []string {
	entries, err := fs.Glob(files, "*"+extension)
	if err != nil {
		panic("presets: " + err.Error()) // the pattern is constant
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e, extension)
	}
	slices.Sort(names) // by file name "-" would come before the end of a name
	return names
}

// ErrUnknown means that no preset has a name.
var ErrUnknown = errors.New("no such preset")

// Case returns the text of a preset, with its comments, and the case that it holds. The error for another name wraps
// ErrUnknown and lists the names.
func Case(name string) (text []byte, c design.Case, err error) {
	if !slices.Contains(Names(), name) {
		return nil, design.Case{}, fmt.Errorf("%w: %q; there is %s", ErrUnknown, name, strings.Join(Names(), ", "))
	}
	text, err = files.ReadFile(name + extension)
	if err != nil {
		return nil, design.Case{}, err
	}
	c, err = casefile.ReadCase("preset "+name, text)
	return text, c, err
}

// For is what a preset is for: the first sentence of its comments.
func For(text []byte) string {
	var words []string
	for line := range strings.Lines(string(text)) {
		comment, isComment := strings.CutPrefix(line, "#")
		if !isComment {
			break
		}
		words = append(words, strings.Fields(comment)...)
	}
	for i, word := range words {
		if strings.HasSuffix(word, ".") {
			return strings.Join(words[:i+1], " ")
		}
	}
	return strings.Join(words, " ")
}
