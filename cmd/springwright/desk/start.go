package desk

import (
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"springwright/design/casefolder"
	"springwright/export/words"
)

type startAnswer struct {
	Format    string            `json:"format"`
	Version   int               `json:"version"`
	Program   string            `json:"program"`
	Tag       string            `json:"tag"` // of the language, as in BCP 47
	Languages []languageJSON    `json:"languages"`
	Words     map[string]string `json:"words"`
	Cautions  string            `json:"cautions"`
	Lang      string            `json:"lang"`       // as asked for by its name, or English
	Folder    string            `json:"folder"`     // of the cases, as this machine names it
	FolderSay string            `json:"folderText"` // the same in a sentence
	Cases     []caseJSON        `json:"cases"`
	Examples  []caseJSON        `json:"examples"` // cases of the program, opened in place of files that are not there
	Open      string            `json:"open"`     // the case that was changed last, else the example
	Example   string            `json:"example"`  // the name of the case that comes with the program
	Kinds     []kindJSON        `json:"kinds"`
}

type languageJSON struct {
	Name string `json:"name"`
	Own  string `json:"own"`
}

type caseJSON struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

func (a *api) start(w http.ResponseWriter, r *http.Request) {
	b := book(r.URL.Query().Get("lang"))
	out := startAnswer{
		Format: "springwright-desk", Version: 1, Program: "springwright " + a.options.Version,
		Tag: b.Language().Tag(), Lang: b.Language().String(), Example: exampleName, Cases: []caseJSON{}, Examples: []caseJSON{}, Words: pageWords(b), Kinds: kindsOf(b),
		Cautions: b.Say("For licensed dental professionals. An estimate, not a prescription: the prescriber decides and local rules apply. Real wires differ by about a quarter from the nominal stiffness: check with a force gauge before tying."),
	}
	for _, l := range words.Languages() {
		out.Languages = append(out.Languages, languageJSON{l.String(), l.OwnName()})
	}
	names, err := a.folder.list()
	if err != nil {
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	if out.Folder, err = filepath.Abs(a.options.Folder); err != nil {
		out.Folder = a.options.Folder
	}
	out.FolderSay = b.Say("Cases are kept in the folder %s.", out.Folder)
	var last time.Time
	for _, name := range names {
		if name == casefolder.VisitsName { // a history names its case, and is none
			continue
		}
		one, ok := a.namedCase(name)
		if !ok {
			continue
		}
		out.Cases = append(out.Cases, one)
		if changed := a.folder.changed(name); out.Open == "" || changed.After(last) {
			out.Open, last = name, changed
		}
	}
	for _, p := range presetChoices(b) {
		if name := p.Value + caseSuffix; !slices.Contains(names, name) {
			_, title, _ := strings.Cut(p.Label, ": ")
			out.Examples = append(out.Examples, caseJSON{name, title})
		}
	}
	if out.Open == "" {
		out.Open = exampleName
	}
	answer(w, http.StatusOK, out)
}

// fresh is an empty case under a name that is free.
func (a *api) fresh(w http.ResponseWriter, _ *http.Request) {
	names, err := a.folder.list()
	if err != nil {
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	for i := 1; ; i++ {
		code := fmt.Sprintf("case-%d", i)
		if !slices.Contains(names, code+caseSuffix) {
			answer(w, http.StatusOK, fileJSON{Name: code + caseSuffix, Text: "case = \"" + code + "\"\n"})
			return
		}
	}
}
