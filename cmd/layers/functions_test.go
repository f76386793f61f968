package layers

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// A function that is longer has a reason in the last sentence of its comment: "In one piece: …".
const mostLines = 60

// marches are long for one reason alone: a march of the solver or of the search holds what it has come to in
// variables that each of its steps reads and writes.
var marches = []string{
	"design/beam/boxed.go descend", "design/beam/slot.go FollowSlots", "design/solve/evaluate.go Evaluate", "design/solve/history.go newHistoryWire",
	"design/solve/otherrest.go otherRest", "optimize/asbent/search.go newSearch", "optimize/lattice/lattice.go Least",
}

// No function is longer than a page unless it says why, and every package says what lives in it.
func TestFunctionsAreShortAndPackagesTold(t *testing.T) {
	t.Parallel()
	allowed := map[string]bool{}
	for _, name := range marches {
		allowed[name] = true
	}
	root := filepath.Join("..", "..")
	told := map[string]bool{}
	files := 0
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == "testdata" || strings.HasPrefix(entry.Name(), ".") && path != root) {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		files++
		about := strings.Fields(file.Doc.Text())
		told[filepath.Dir(path)] = told[filepath.Dir(path)] || len(about) > 5 && (about[0] == "Package" || about[0] == "Command")
		if strings.HasSuffix(path, "_test.go") {
			return nil
		}
		name, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Body == nil || allowed[filepath.ToSlash(name)+" "+f.Name.Name] || strings.Contains(f.Doc.Text(), "In one piece: ") {
				continue
			}
			if lines := fset.Position(f.End()).Line - fset.Position(f.Pos()).Line + 1; lines > mostLines {
				t.Errorf("%s: %s has %d lines, at most %d are allowed: split it, or end its comment with \"In one piece: …\" and the reason", name, f.Name.Name, lines, mostLines)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for folder, said := range told {
		if !said {
			t.Errorf("%s: no file says above its package clause what lives there, \"Package …\"", folder)
		}
	}
	if files < 500 {
		t.Errorf("no more than %d files were looked at", files)
	}
}
