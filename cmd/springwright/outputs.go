package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// output is a file to be written.
type output struct {
	name string // inside the output directory
	data []byte
}

// pageFiles are the files of pages: one that holds all, and one for each.
func pageFiles(name string, file []byte, pages [][]byte) []output {
	files := []output{{name + ".pdf", file}}
	for i, page := range pages {
		files = append(files, output{fmt.Sprintf("%s-%d.svg", name, i+1), page})
	}
	return files
}

// written lists the files that were written.
func (t *tableText) written(dir string, files []output) {
	t.line("written to %s:", printable(dir))
	for _, f := range files {
		t.line("  %s", printable(filepath.Join(dir, f.name)))
	}
}

// outputSet is what a command writes: files of fixed names, and pages and the like whose
// number its input decides.
type outputSet struct {
	list     string // the file that lists the others
	names    []string
	numbered []numberedName
}

// numberedName is the name of files that are counted from 1.
type numberedName struct{ before, behind string } // the number

func designOutputs() outputSet {
	return outputSet{
		list:     "design-files.txt",
		names:    []string{"template.pdf", "spring.toml", "record.json", "bends.csv", "corners.csv"},
		numbered: []numberedName{{"template-", ".svg"}, {"alternative-", ".toml"}},
	}
}

func comparisonOutputs() outputSet { return pageOutputs("comparison") }

func springsOutputs() outputSet { return pageOutputs("springs") }

// adjustOutputs are the sheet of a spring as bent, the springs that corrections make of it, and the one to go
// on with while bending.
func adjustOutputs() outputSet {
	set := pageOutputs("as-bent")
	set.list = "adjust-files.txt"
	set.names = append(set.names, "spring.toml")
	set.numbered = append(set.numbered, numberedName{"corrected-", ".toml"})
	return set
}

// visitOutputs are the page of a visit, the springs to re-activate and the case of a new one.
func visitOutputs() outputSet {
	set := pageOutputs("visit")
	set.names = append(set.names, "remade-case.toml")
	set.numbered = append(set.numbered, numberedName{"corrected-", ".toml"})
	return set
}

func measuringOutputs() outputSet { return pageOutputs("measuring") }

func pageOutputs(name string) outputSet {
	return outputSet{list: name + "-files.txt", names: []string{name + ".pdf"}, numbered: []numberedName{{name + "-", ".svg"}}}
}

// owns tells whether a file of the set may come to have this name. Capitals count for
// nothing, as on many file systems they do.
func (s outputSet) owns(name string) bool {
	name = strings.ToLower(name)
	return name == s.list || slices.Contains(s.names, name) ||
		slices.ContainsFunc(s.numbered, func(n numberedName) bool {
			number, begins := strings.CutPrefix(name, n.before)
			number, ends := strings.CutSuffix(number, n.behind)
			return begins && ends && number != "" && number[0] != '0' && digits(number)
		})
}

func digits(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return r < '0' || r > '9' })
}
