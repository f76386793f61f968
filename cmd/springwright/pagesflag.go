package main

import (
	"fmt"
	"strings"

	"springwright/design/spelling"
	"springwright/export"
)

// pagesFlag is a flag whose value is a list of pages of the sheets.
type pagesFlag struct{ value *[]export.Page }

func (p pagesFlag) Set(text string) (err error) {
	*p.value, err = export.ParsePages(text)
	if err == nil {
		return nil
	}
	for word := range strings.SplitSeq(text, ",") {
		word = strings.ToLower(strings.TrimSpace(word))
		if near := spelling.Nearest(word, export.PageNames()); near != "" && near != word {
			return hintedError{err, fmt.Sprintf("did you mean %s", near)}
		}
	}
	return err
}

func (p pagesFlag) String() string {
	names := make([]string, len(*p.value))
	for i, page := range *p.value {
		names[i] = page.String()
	}
	return strings.Join(names, ",")
}

func (p pagesFlag) Type() string { return "pages" }

// Choices are the pages.
func (p pagesFlag) Choices() []string { return export.PageNames() }
