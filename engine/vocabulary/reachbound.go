package vocabulary

import (
	"maps"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/schema/document"
)

// Bound is one bound on a measure: Op is at_least, at_most, more_than or less_than, and against a value or an expression.
type Bound struct {
	Op      string
	Value   ref.Val
	Program *Program
}

// AssumeBound narrows the world to where a measure meets a bound, or breaks it; nil when it never does.
func (r *Reach) AssumeBound(w *World, measure *Program, b Bound, met bool) *World {
	if w == nil || measure == nil || b.Value == nil && b.Program == nil {
		return w
	}
	less, strict := b.Op == "at_most" || b.Op == "less_than", b.Op == "more_than" || b.Op == "less_than"
	if !met {
		less, strict = !less, !strict
	}
	f, e := frame{prog: measure}, measure.tree.Expr()
	if b.Program != nil {
		// The two stand in programs of their own; each is narrowed by what the other can be.
		g, other := frame{prog: b.Program}, b.Program.tree.Expr()
		if key := r.key(f, e); key != "" && key == r.key(g, other) {
			if strict {
				return nil
			}
			return w
		}
		x, y := r.extent(w, f, e), r.extent(w, g, other)
		if w = r.narrow(w, f, e, side(y, less, strict, x.whole)); w == nil {
			return nil
		}
		return r.narrow(w, g, other, side(x, !less, strict, y.whole))
	}
	return r.narrow(w, f, e, side(valueExtent(b.Value), less, strict, r.extent(w, f, e).whole))
}

// side is what lies below an extent, or above it.
func side(of extent, less, strict, whole bool) extent {
	if less {
		return numbers(math.Inf(-1), below(of.high, strict, whole))
	}
	return numbers(above(of.low, strict, whole), math.Inf(1))
}

// Tell says what the facts of an expression can be in a world; empty when nothing is known of them.
func (r *Reach) Tell(w *World, p *Program) string { return r.tell(w, frame{prog: p}, p.tree.Expr()) }

// Start is the line and column, from 1, where a part begins in the text.
func (p *Program) Start(e ast.Expr) (line, column int) {
	for {
		switch e.Kind() {
		case ast.SelectKind:
			e = e.AsSelect().Operand()
			continue
		case ast.ComprehensionKind:
			e = e.AsComprehension().IterRange()
			continue
		case ast.CallKind:
			if e.AsCall().IsMemberFunction() {
				e = e.AsCall().Target()
				continue
			}
			if infix(e.AsCall().FunctionName()) && e.AsCall().FunctionName() != operators.LogicalNot {
				e = e.AsCall().Args()[0]
				continue
			}
		}
		break
	}
	at := p.tree.SourceInfo().GetStartLocation(e.ID())
	line, column = max(1, at.Line()), max(1, at.Column()+1)
	if e.Kind() == ast.IdentKind {
		// A name with dots, limit.a, stands at its last one.
		column = max(1, column-max(0, strings.LastIndexByte(e.AsIdent(), '.')))
	}
	if e.Kind() == ast.CallKind {
		// A call stands at its bracket: its name comes before.
		text := []rune(lineAt(p.Text, line))
		for column > 1 && column-2 < len(text) && (unicode.IsLetter(text[column-2]) || unicode.IsDigit(text[column-2]) || text[column-2] == '_') {
			column--
		}
	}
	return line, column
}

func lineAt(text string, line int) string {
	lines := strings.Split(text, "\n")
	if line > len(lines) {
		return ""
	}
	return lines[line-1]
}

// said is a part as it is written, cut when it is long.
func (p *Program) said(e ast.Expr) string {
	if e.ID() == p.tree.Expr().ID() {
		return document.Cut(strings.Join(strings.Fields(p.Text), " "))
	}
	tree, err := ParseTree(p.Text)
	if err != nil {
		return "this"
	}
	// The parsed text holds units and loops as they are written, at the same places.
	line, column := p.Start(e)
	var out ast.Expr
	ast.PreOrderVisit(tree.root, ast.NewExprVisitor(func(x ast.Expr) {
		if out == nil && sameKind(x, e) {
			if l, c := tree.At(x); l == line && c == column {
				out = x
			}
		}
	}))
	if out == nil {
		return "this"
	}
	return document.Cut(tree.Text(out))
}

// sameKind reports whether a part as written can be the checked one.
func sameKind(written, checked ast.Expr) bool {
	if checked.Kind() == ast.ComprehensionKind {
		return written.Kind() == ast.CallKind
	}
	if written.Kind() != checked.Kind() {
		return false
	}
	if written.Kind() == ast.CallKind {
		name := checked.AsCall().FunctionName()
		return written.AsCall().FunctionName() == name || strings.HasPrefix(name, literalPrefix)
	}
	if written.Kind() == ast.SelectKind {
		a, _ := Dotted(written)
		b, _ := Dotted(checked)
		return a == b
	}
	return true
}

func sortedKeys(rows map[string]ref.Val) []string { return slices.Sorted(maps.Keys(rows)) }

// near says which word was meant perhaps.
func near(word string, list []string) string {
	if n := document.Nearest(word, list); n != "" {
		return "; did you mean " + n + "?"
	}
	return "; it has " + someOf(list)
}

// Read is the line and column, from 1, where the expression first reads a fact of a part; its beginning when it does not.
func (p *Program) Read(part string) (line, column int) {
	line, column = 1, 1
	found := false
	ast.PreOrderVisit(p.tree.Expr(), ast.NewExprVisitor(func(e ast.Expr) {
		if found || e.Kind() != ast.SelectKind {
			return
		}
		if name, ok := Dotted(e.AsSelect().Operand()); ok && name == part {
			found = true
			line, column = p.Start(e)
		}
	}))
	return line, column
}

// At is the line and column, from 1, of a part of the expression by its number; its beginning for none.
func (p *Program) At(part int64) (line, column int) {
	if p.tree != nil {
		if e := find(p.tree.Expr(), part); e != nil {
			return p.Start(e)
		}
	}
	return 1, 1
}
