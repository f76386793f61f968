package main

import (
	"context"
	"path/filepath"

	"springwright/design"
	"springwright/design/casefile"
)

// readFreePath reads the spring file that a case asks for, where it does; the file's name is
// counted from the folder of the case file. It returns all the text that decides the design.
func readFreePath(ctx context.Context, caseFile string, text []byte, wanted *design.Case) ([]byte, error) {
	if wanted.SpringFile == "" {
		return text, nil
	}
	name := filepath.Join(filepath.Dir(caseFile), wanted.SpringFile)
	path, err := readInput(ctx, name)
	if err != nil {
		return nil, err
	}
	wanted.FreePath, err = casefile.ReadPattern(name, path)
	return append(append(text, 0), path...), err
}
