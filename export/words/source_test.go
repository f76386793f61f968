package words

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// listed is what go list says of a package.
type listed struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
}

// speakers are the packages that say phrases.
var speakers = []string{"springwright/export/...", "springwright/cmd/..."}

// eachPhrase goes through every expression of type Phrase in the packages that say phrases:
// constants with their value, and conversions of what is not known before the program runs.
func eachPhrase(t *testing.T, constants func(where, english string), conversion func(where string)) {
	t.Helper()
	list := func(args ...string) (all []listed) {
		cmd := exec.CommandContext(t.Context(), "go", append([]string{"list", "-json=ImportPath,Dir,Export,GoFiles"}, args...)...)
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		for d := json.NewDecoder(bytes.NewReader(out)); ; {
			var p listed
			if err := d.Decode(&p); err == io.EOF {
				return all
			} else if err != nil {
				t.Fatal(err)
			}
			all = append(all, p)
		}
	}
	compiled := map[string]string{}
	for _, p := range list(append([]string{"-export", "-deps"}, speakers...)...) {
		compiled[p.ImportPath] = p.Export
	}
	fset := token.NewFileSet()
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(compiled[path]) })
	for _, p := range list(speakers...) {
		var files []*ast.File
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, file)
		}
		info := types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
		if _, err := (&types.Config{Importer: imports}).Check(p.ImportPath, fset, files, &info); err != nil {
			t.Fatal(err)
		}
		isPhrase := func(of types.Type) bool {
			named, ok := of.(*types.Named)
			return ok && named.Obj().Name() == "Phrase" && named.Obj().Pkg().Name() == "words"
		}
		for expr, tv := range info.Types {
			where := fset.Position(expr.Pos())
			place := fmt.Sprintf("%s:%d", filepath.Base(where.Filename), where.Line)
			switch {
			case tv.IsType() || !isPhrase(tv.Type):
			case tv.Value != nil:
				constants(place, constant.StringVal(tv.Value))
			default:
				if call, ok := expr.(*ast.CallExpr); ok && info.Types[call.Fun].IsType() {
					conversion(place)
				}
			}
		}
	}
}

// A phrase that stands anywhere in the source has its words in every language, and none is put
// together while the program runs but in the one file where the trade's words come from package
// tooth, of which TestEveryWordIsKnownInEveryLanguage tries all. Nor has a language words for what
// nobody says.
func TestEveryPhraseIsTranslated(t *testing.T) {
	said := map[string]bool{}
	eachPhrase(t, func(where, english string) {
		said[english] = true
		for l := Portuguese; l.Valid() && english != ""; l++ {
			if _, found := tables[l][english]; !found {
				t.Errorf("%s: %v lacks %q", where, l, english)
			}
		}
	}, func(where string) {
		if !strings.HasPrefix(where, "tooth.go:") {
			t.Errorf("%s makes a phrase of a text that is not known before", where)
		}
	})
	if least := 400; len(said) < least {
		t.Errorf("no more than %d phrases are found, want %d and more", len(said), least)
	}
	for _, word := range everyWord() {
		said[word] = true
	}
	for key := range tables[Portuguese] {
		if !said[key] {
			t.Errorf("nobody says %q", key)
		}
	}
}
