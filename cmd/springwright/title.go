package main

import (
	"fmt"

	"springwright/design"
	"springwright/design/fault"
	"springwright/export"
)

// titleOnPaper finds out before the work starts whether the title of the case can be
// printed; without arguments the case is one of the program's own.
func titleOnPaper(args []string, wanted design.Case) error {
	lacking, err := export.Lacking(wanted.Title)
	if err != nil || len(lacking) == 0 {
		return err
	}
	file := ""
	if len(args) > 0 {
		file = shownName(args[0])
	}
	text := "has characters that the sheet's typeface lacks:"
	for _, r := range lacking {
		text += fmt.Sprintf(" %q (U+%04X)", r, r)
	}
	return fault.List{{File: file, Key: "title", Text: text, Hint: "write the title in Latin, Greek or Cyrillic letters"}}
}
