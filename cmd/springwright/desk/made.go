package desk

import (
	"errors"
	"io"
	"net/http"
	"path"
	"regexp"
	"strings"

	"springwright/export"
)

// madeFiles are the names of what the page opens of the folders that it makes: papers, and nothing that anybody else
// keeps there.
var madeFiles = regexp.MustCompile(`^((cover|labels)(-[1-9][0-9]{0,5})?\.pdf|(template|students|answers|keys|marks)\.pdf|(summary|cut-list|readings|marks)\.csv)$`)

// folderName is what a folder of the desk is called: no dot first, nothing that leads elsewhere.
var folderName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,99}$`)

var (
	errFolderName = errors.New("a folder name of the desk has up to 100 letters A–Z, digits, - _ and ., a letter or digit first")
	errNotMade    = errors.New("there is no such file of the desk")
)

// madePath checks the path of a file to be served: a paper in a folder of the desk, or in that of an order below it.
func madePath(name string) bool {
	parts := strings.Split(name, "/")
	if len(parts) < 2 || len(parts) > 3 || !madeFiles.MatchString(parts[len(parts)-1]) {
		return false
	}
	for _, p := range parts[:len(parts)-1] {
		if !folderName.MatchString(p) || strings.HasSuffix(p, ".") {
			return false
		}
	}
	return true
}

// made serves a paper from inside the folder of the desk, through its root: no link leads out of it.
func (a *api) made(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("path")
	if !madePath(name) {
		refuse(w, http.StatusNotFound, errNotMade, "")
		return
	}
	file, err := a.folder.root.Open(name)
	if err != nil {
		refuse(w, http.StatusNotFound, errNotMade, "")
		return
	}
	defer file.Close()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		refuse(w, http.StatusNotFound, errNotMade, "")
		return
	}
	if path.Ext(name) == ".pdf" {
		w.Header().Set("Content-Type", "application/pdf")
		w.Header().Set("Content-Disposition", `inline; filename="`+path.Base(name)+`"`)
	} else {
		download(w, "text/csv; charset=utf-8", path.Base(name))
	}
	_, _ = io.Copy(w, file) // whether anybody still reads, nobody needs to know
}

// download has the browser keep an answer as a file; name has no quotes.
func download(w http.ResponseWriter, kind, name string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
}

// paperLinks are the addresses of the papers among files, by their names.
func paperLinks(dir string, files []export.File) []link {
	links := []link{}
	for _, f := range files {
		if madeFiles.MatchString(f.Name) {
			links = append(links, link{f.Name, "api/v1/made/" + dir + "/" + f.Name})
		}
	}
	return links
}

type link struct {
	Name    string `json:"name"`
	Address string `json:"address"`
}
