package casefile

import (
	"path/filepath"
	"slices"

	"springwright/design"
)

// WithFreePath reads the spring file that a case asks for, where it does; the file's name is counted from the folder
// of the case file. It returns all the text that decides the design. The error is that of read, or a fault.List.
func WithFreePath(caseFile string, text []byte, wanted *design.Case, read func(name string) ([]byte, error)) ([]byte, error) {
	if wanted.SpringFile == "" {
		return text, nil
	}
	name := filepath.Join(filepath.Dir(caseFile), wanted.SpringFile)
	path, err := read(name)
	if err != nil {
		return nil, err
	}
	wanted.FreePath, err = ReadPattern(name, path)
	return slices.Concat(text, []byte{0}, path), err
}
