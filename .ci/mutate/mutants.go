package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// mutant is a change of one place in a function, as text.
type mutant struct {
	number            int
	file, packageName string
	line              int
	what              string // the kind of change
	from, to          int    // offsets in the file
	text              string // in their place
	was               string
	function          *function
}

func (m mutant) String() string {
	return fmt.Sprintf("%s:%d: %s: %s → %s", m.file, m.line, m.what, oneLine(m.was), oneLine(m.text))
}

func oneLine(text string) string {
	if text = strings.Join(strings.Fields(text), " "); len(text) > 90 {
		text = text[:90] + "…"
	}
	return text
}

// function is one whose body is changed: what a call of a copy needs.
type function struct {
	from, nameEnd, body, to int    // offsets; body is where it begins
	call                    string // with the number left open
	returns                 bool
}

// mutantsOf finds all that can be changed in a package, in the order of its files.
func mutantsOf(folder string) ([]mutant, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	var all []mutant
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, file, source, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		for _, d := range parsed.Decls {
			decl, ok := d.(*ast.FuncDecl)
			if !ok || decl.Body == nil || decl.Name.Name == "init" || decl.Name.Name == "main" {
				continue
			}
			at := func(p token.Pos) int { return set.Position(p).Offset }
			f, ok := functionOf(decl, at)
			if !ok {
				continue
			}
			for _, m := range changes(decl.Body, source, at) {
				m.number, m.file, m.packageName, m.function = len(all)+1, file, parsed.Name.Name, f
				m.line = 1 + bytes.Count(source[:m.from], []byte("\n"))
				m.was = string(source[m.from:m.to])
				all = append(all, m)
			}
		}
	}
	return all, nil
}

// functionOf is a function as a copy of it is called; not where a parameter has no name.
func functionOf(decl *ast.FuncDecl, at func(token.Pos) int) (*function, bool) {
	f := &function{at(decl.Type.Func), at(decl.Name.End()), at(decl.Body.Lbrace) + 1, at(decl.End()), "", decl.Type.Results != nil}
	receiver, types := "", ""
	if decl.Recv != nil {
		names := decl.Recv.List[0].Names
		if len(names) == 0 || names[0].Name == "_" {
			return nil, false
		}
		receiver = names[0].Name + "."
	}
	if decl.Type.TypeParams != nil {
		var names []string
		for _, field := range decl.Type.TypeParams.List {
			for _, n := range field.Names {
				names = append(names, n.Name)
			}
		}
		types = "[" + strings.Join(names, ", ") + "]"
	}
	var args []string
	for _, field := range decl.Type.Params.List {
		if len(field.Names) == 0 {
			return nil, false
		}
		for _, n := range field.Names {
			if n.Name == "_" {
				return nil, false
			}
			dots := ""
			if _, variadic := field.Type.(*ast.Ellipsis); variadic {
				dots = "..."
			}
			args = append(args, n.Name+dots)
		}
	}
	f.call = receiver + decl.Name.Name + "Mutant%d" + types + "(" + strings.Join(args, ", ") + ")"
	return f, true
}

var others = map[token.Token][]token.Token{
	token.ADD: {token.SUB}, token.SUB: {token.ADD}, token.MUL: {token.QUO}, token.QUO: {token.MUL},
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR}, token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL}, token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD_ASSIGN: {token.SUB_ASSIGN}, token.SUB_ASSIGN: {token.ADD_ASSIGN}, token.MUL_ASSIGN: {token.QUO_ASSIGN}, token.QUO_ASSIGN: {token.MUL_ASSIGN},
}

// changes are those of a body. Some are no program: they are found out by the compiler.
func changes(body *ast.BlockStmt, source []byte, at func(token.Pos) int) (all []mutant) {
	add := func(what string, from, to int, text string) {
		all = append(all, mutant{what: what, from: from, to: to, text: text})
	}
	replace := func(what string, n ast.Node, text string) { add(what, at(n.Pos()), at(n.End()), text) }
	text := func(n ast.Node) string { return string(source[at(n.Pos()):at(n.End())]) }
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			for _, other := range others[n.Op] {
				add("operator", at(n.OpPos), at(n.OpPos)+len(n.Op.String()), other.String())
			}
		case *ast.UnaryExpr:
			if n.Op == token.SUB || n.Op == token.NOT {
				replace("sign", n, "("+text(n.X)+")")
			}
		case *ast.BasicLit:
			if n.Kind == token.INT || n.Kind == token.FLOAT {
				replace("constant", n, "("+text(n)+"+1)")
				replace("constant", n, "0")
			}
		case *ast.CallExpr:
			if called, ok := n.Fun.(*ast.SelectorExpr); ok && strings.HasSuffix(called.Sel.Name, "Inf") {
				return false // math.Inf(2) is math.Inf(1), and math.IsInf asks the same of both
			}
		case *ast.IfStmt:
			replace("condition", n.Cond, "!("+text(n.Cond)+")")
		case *ast.AssignStmt:
			for _, other := range others[n.Tok] {
				add("operator", at(n.TokPos), at(n.TokPos)+len(n.Tok.String()), other.String())
			}
			if n.Tok != token.DEFINE {
				replace("statement", n, "")
			}
		case *ast.IncDecStmt, *ast.ExprStmt:
			replace("statement", n, "")
		case *ast.ReturnStmt:
			for _, r := range n.Results {
				if _, function := r.(*ast.FuncLit); !function && text(r) != "0" && text(r) != "math.NaN()" {
					replace("returned sign", r, "-("+text(r)+")")
				}
			}
		}
		return true
	})
	return slices.DeleteFunc(all, func(m mutant) bool { return m.text == string(source[m.from:m.to]) })
}

// withMutants is a file in which functions call copies of themselves by their number.
func withMutants(source []byte, of []mutant) []byte {
	calls := map[int]string{} // by where a body begins
	var copies bytes.Buffer
	for _, m := range of {
		f := m.function
		call := fmt.Sprintf(f.call, m.number) + "; return"
		if f.returns {
			call = "return " + fmt.Sprintf(f.call, m.number)
		}
		calls[f.body] += fmt.Sprintf(" if theMutant == %d { %s };", m.number, call)
		fmt.Fprintf(&copies, "\n//line mutant-%d.go:1\n%sMutant%d%s%s%s\n", m.number, source[f.from:f.nameEnd], m.number, source[f.nameEnd:m.from], m.text, source[m.to:f.to])
	}
	var out bytes.Buffer
	last := 0
	for _, body := range slices.Sorted(maps.Keys(calls)) {
		out.Write(source[last:body])
		out.WriteString(calls[body])
		last = body
	}
	out.Write(source[last:])
	out.Write(copies.Bytes())
	return out.Bytes()
}
