package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// mutant is one changed place of one file.
type mutant struct {
	Package  string // folder below the root, as given
	File     string // path below the root
	Line     int
	Text     string // the line as it stands, trimmed
	From, To string // what is replaced, and by what
	start    int    // byte offsets of From
	end      int
}

// Change is the change in words.
func (m mutant) Change() string { return m.From + " -> " + m.To }

// apply returns the source with the change made.
func (m mutant) apply(source []byte) []byte {
	return slices.Concat(source[:m.start], []byte(m.To), source[m.end:])
}

// packagePlaces lists the mutants of the Go files in a folder, tests and generated
// files apart.
func packagePlaces(root, folder string) ([]mutant, error) {
	names, err := filepath.Glob(filepath.Join(root, folder, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []mutant
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		source, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		found, err := places(source)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		for i := range found {
			found[i].Package, found[i].File = folder, filepath.ToSlash(filepath.Join(folder, filepath.Base(name)))
		}
		out = append(out, found...)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s has no place to change: name a folder of Go files below -dir", folder)
	}
	return out, nil
}

// finder collects the mutants of one file.
type finder struct {
	source []byte
	lines  [][]byte
	set    *token.FileSet
	skip   map[ast.Node]bool
	out    []mutant
}

// places lists the mutants of one file in the order of the text.
func places(source []byte) ([]mutant, error) {
	f := &finder{source: source, lines: bytes.Split(source, []byte("\n")), set: token.NewFileSet(), skip: map[ast.Node]bool{}}
	file, err := parser.ParseFile(f.set, "", source, parser.ParseComments)
	if err != nil {
		return nil, err
	}
	if ast.IsGenerated(file) {
		return nil, nil
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.ReturnStmt:
			f.unread(n)
		case *ast.BinaryExpr:
			f.binary(n)
		case *ast.UnaryExpr:
			if n.Op == token.SUB {
				f.add(n.OpPos, n.OpPos+1, "+")
			}
		case *ast.BasicLit:
			f.constant(n)
		case *ast.IfStmt:
			f.condition(n)
		}
		return true
	})
	slices.SortStableFunc(f.out, func(a, b mutant) int { return a.start - b.start })
	return f.out, nil
}

// add notes the change of the text between two positions.
func (f *finder) add(from, to token.Pos, by string) {
	p := f.set.Position(from)
	end := f.set.Position(to).Offset
	f.out = append(f.out, mutant{Line: p.Line, Text: strings.TrimSpace(string(f.lines[p.Line-1])),
		From: string(f.source[p.Offset:end]), To: by, start: p.Offset, end: end})
}

// exchanged says what stands in for an operator: for an order the turned and the
// shifted one, for the others their counterpart.
var exchanged = map[token.Token][]token.Token{
	token.LSS: {token.GTR, token.LEQ}, token.LEQ: {token.GEQ, token.LSS},
	token.GTR: {token.LSS, token.GEQ}, token.GEQ: {token.LEQ, token.GTR},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL},
	token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD},
	token.MUL: {token.QUO}, token.QUO: {token.MUL},
}

func (f *finder) binary(n *ast.BinaryExpr) {
	if n.Op == token.ADD && (isText(n.X) || isText(n.Y)) {
		return
	}
	for _, op := range exchanged[n.Op] {
		f.add(n.OpPos, n.OpPos+token.Pos(len(n.Op.String())), op.String())
	}
}

// isText tells whether an expression holds a string literal that is added up.
func isText(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING
	case *ast.BinaryExpr:
		return isText(e.X) || isText(e.Y)
	case *ast.ParenExpr:
		return isText(e.X)
	}
	return false
}

// unread leaves out the constants that are returned beside an error: nobody reads
// them.
func (f *finder) unread(n *ast.ReturnStmt) {
	last := len(n.Results) - 1
	if last < 1 {
		return
	}
	if name, ok := n.Results[last].(*ast.Ident); !(ok && name.Name == "err") && !makesError(n.Results[last]) {
		return
	}
	for _, r := range n.Results[:last] {
		f.skip[r] = true
	}
}

func (f *finder) constant(n *ast.BasicLit) {
	if f.skip[n] {
		return
	}
	switch n.Kind {
	case token.INT:
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			f.add(n.Pos(), n.End(), strconv.FormatInt(v+1, 10))
		}
	case token.FLOAT:
		f.add(n.Pos(), n.End(), "("+n.Value+" * 1.1)")
	}
}

// condition negates the condition of an if, and switches off one that returns an
// error early.
func (f *finder) condition(n *ast.IfStmt) {
	text := string(f.source[f.set.Position(n.Cond.Pos()).Offset:f.set.Position(n.Cond.End()).Offset])
	compare, isCompare := n.Cond.(*ast.BinaryExpr)
	if !isCompare || compare.Op != token.EQL && compare.Op != token.NEQ { // these are negated by their operator
		f.add(n.Cond.Pos(), n.Cond.End(), "!("+text+")")
	}
	if len(n.Body.List) == 0 {
		return
	}
	if _, returns := n.Body.List[len(n.Body.List)-1].(*ast.ReturnStmt); returns && (makesError(n.Body.List[len(n.Body.List)-1]) || isCompare && isError(compare)) {
		f.add(n.Cond.Pos(), n.Cond.End(), "false && ("+text+")")
	}
}

// isError tells whether a condition asks for an error.
func isError(n *ast.BinaryExpr) bool {
	name, ok := n.X.(*ast.Ident)
	return ok && n.Op == token.NEQ && name.Name == "err"
}

// makesError tells whether a new error is made in a node.
func makesError(in ast.Node) bool {
	found := false
	ast.Inspect(in, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.CompositeLit:
			found = found || strings.HasSuffix(typeName(n.Type), "Error")
		case *ast.SelectorExpr:
			found = found || n.Sel.Name == "Errorf" || n.Sel.Name == "New" && typeName(n.X) == "errors"
		}
		return true
	})
	return found
}

func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}
