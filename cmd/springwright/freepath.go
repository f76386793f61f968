package main

import (
	"context"

	"springwright/design"
	"springwright/design/casefile"
)

// readFreePath reads the spring file that a case asks for, where it does; the file's name is
// counted from the folder of the case file. It returns all the text that decides the design.
func readFreePath(ctx context.Context, caseFile string, text []byte, wanted *design.Case) ([]byte, error) {
	return casefile.WithFreePath(caseFile, text, wanted, func(name string) ([]byte, error) { return readInput(ctx, name) })
}
