package desk

import (
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"slices"

	"springwright/cmd/springwright/batch"
	"springwright/cmd/springwright/lesson"
	"springwright/design/casefile"
	"springwright/export/words"
	"springwright/presets"
)

// placesAnswer is what the folder holds for many springs: order lists, cases, classes; and the cases of the program.
type placesAnswer struct {
	Lists   []string    `json:"lists"`
	Cases   []caseJSON  `json:"cases"`
	Presets []choice    `json:"presets"`
	Classes []classJSON `json:"classes"`
}

type classJSON struct {
	Folder string `json:"folder"`
	Text   string `json:"text"`
	Papers []link `json:"papers"`
}

const mostClassesShown = 200 // in a list to choose from (choice)

func (a *api) places(w http.ResponseWriter, r *http.Request) {
	b := book(r.URL.Query().Get("lang"))
	out := placesAnswer{Lists: []string{}, Cases: []caseJSON{}, Presets: presetChoices(b), Classes: []classJSON{}}
	names, err := a.folder.plain()
	if err != nil {
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	for _, name := range names {
		if isList(name) {
			out.Lists = append(out.Lists, name)
		}
	}
	for _, name := range batch.CaseNames(names) {
		if one, ok := a.namedCase(name); ok {
			out.Cases = append(out.Cases, one)
		}
	}
	entries, err := fs.ReadDir(a.folder.root.FS(), ".")
	if err != nil {
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	for _, e := range entries {
		if len(out.Classes) == mostClassesShown {
			break
		}
		if !e.IsDir() || !folderName.MatchString(e.Name()) {
			continue
		}
		data, err := a.folder.fileUpTo(path.Join(e.Name(), lesson.ClassName), largestClass)
		if err != nil {
			continue
		}
		of, err := casefile.ReadClass(e.Name(), data)
		if err != nil {
			continue
		}
		one := classJSON{Folder: e.Name(), Text: b.Say("%s: case %s, students %d", e.Name(), of.Case, len(of.Students)), Papers: []link{}}
		for _, paper := range [...]string{"students.pdf", "answers.pdf", "keys.pdf", "readings.csv"} {
			if _, err := a.folder.root.Stat(path.Join(e.Name(), paper)); err == nil {
				one.Papers = append(one.Papers, link{paper, "api/v1/made/" + e.Name() + "/" + paper})
			}
		}
		out.Classes = append(out.Classes, one)
	}
	answer(w, http.StatusOK, out)
}

// presetChoices are the cases of the program, with what kind of spring they are for and on which teeth.
func presetChoices(b *words.Book) []choice {
	list := []choice{}
	for _, name := range presets.Names() {
		_, c, err := presets.Case(name)
		if err != nil {
			continue
		}
		kind := ""
		if c.Family != "" {
			kind = b.Name(c.Family) + ", "
		}
		list = append(list, choice{name, fmt.Sprintf("%s: %s%d (%d)", name, kind, int(c.Teeth.Active), int(c.Teeth.Anchor))})
	}
	return list
}

// namedCase is a file of the folder where it is a case.
func (a *api) namedCase(name string) (caseJSON, bool) {
	text, _, err := a.folder.read(name)
	if err != nil {
		return caseJSON{}, false
	}
	values := casefile.Values(text)
	if !slices.ContainsFunc(values, func(e casefile.Entry) bool { return e.Key == "case" }) {
		return caseJSON{}, false // a spring file, or something else
	}
	out := caseJSON{Name: name}
	for _, e := range values {
		if e.Key == "title" {
			out.Title = unquoted(e.Value)
		}
	}
	return out, true
}
