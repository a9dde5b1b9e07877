package vocabulary

import (
	"slices"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"
)

// Trace is one expression with its value and those of the expressions inside it.
type Trace struct {
	// Text is the expression on one line.
	Text  string
	Value ref.Val
	// Item is the path of the list item the expression was asked of, Name its name.
	Item, Name string
	// Reads are what a bare name read: at most one fact or derived value.
	Reads Reads
	Parts []*Trace
}

// Trace evaluates an expression and every expression inside it, each on its
// own: also those that && and || need not look at, and what all, exists and
// their like ask of every item of their list. The error is Faults.
func (v *Vocabulary) Trace(s *Scope, text string, vars []Variable, names cel.Activation) (*Trace, error) {
	tree, err := ParseTree(text)
	if err != nil {
		return nil, err
	}
	t := &tracing{v, s, tree, nil}
	out := t.trace(tree.Root(), vars, names)
	if t.err != nil {
		return nil, t.err
	}
	return out, nil
}

type tracing struct {
	vocabulary *Vocabulary
	scope      *Scope
	tree       *Tree
	err        error
}

// eval compiles and evaluates a part by itself.
func (t *tracing) eval(e ast.Expr, vars []Variable, names cel.Activation) (*Program, ref.Val) {
	p, err := t.vocabulary.Compile(t.tree.Text(e), vars)
	if err != nil {
		if t.err == nil {
			t.err = err
		}
		return nil, types.NewErr("%s", err)
	}
	return p, p.Eval(names)
}

func (t *tracing) trace(e ast.Expr, vars []Variable, names cel.Activation) *Trace {
	out := &Trace{Text: t.tree.Text(e)}
	t.scope.Start()
	_, out.Value = t.eval(e, vars, names)
	if isChain(e) {
		out.Reads = t.scope.Reads().clone()
		return out
	}
	if chain := Chain(e); chain != nil {
		out.Parts = t.all(chain, vars, names)
		return out
	}
	switch e.Kind() {
	case ast.SelectKind:
		out.Parts = t.all([]ast.Expr{e.AsSelect().Operand()}, vars, names)
	case ast.ListKind:
		out.Parts = t.all(e.AsList().Elements(), vars, names)
	case ast.CallKind:
		if item, asked, value := Body(e); item != "" {
			out.Parts = t.items(e.AsCall().Target(), item, slices.DeleteFunc([]ast.Expr{asked, value}, func(x ast.Expr) bool { return x == nil }), vars, names)
			return out
		}
		inside := e.AsCall().Args()
		if e.AsCall().IsMemberFunction() {
			inside = append([]ast.Expr{e.AsCall().Target()}, inside...)
		}
		out.Parts = t.all(inside, vars, names)
	}
	return out
}

// all traces expressions whose value a reader does not see from their text.
func (t *tracing) all(list []ast.Expr, vars []Variable, names cel.Activation) []*Trace {
	var out []*Trace
	for _, e := range list {
		switch {
		case constant(e):
		case e.Kind() == ast.ListKind:
			out = append(out, t.all(e.AsList().Elements(), vars, names)...)
		case isLookup(e):
			// What is looked up in a table is seen from the cell; what by is not.
			out = append(out, t.all(e.AsCall().Args()[1:], vars, names)...)
		default:
			out = append(out, t.trace(e, vars, names))
		}
	}
	return out
}

// items traces what is asked of each item of a list.
func (t *tracing) items(list ast.Expr, item string, asked []ast.Expr, vars []Variable, names cel.Activation) []*Trace {
	var out []*Trace
	if !isChain(list) {
		out = t.all([]ast.Expr{list}, vars, names)
	}
	p, v := t.eval(list, vars, names)
	items, ok := v.(traits.Lister)
	if p == nil || !ok {
		return out
	}
	inside := append(slices.Clone(vars), Variable{Name: item, Type: p.Type.Parameters()[0], Words: p.Words})
	n, _ := items.Size().(types.Int)
	for i := range n {
		one := items.Get(i)
		for _, e := range asked {
			x := t.trace(e, inside, &withItem{names, item, one})
			x.Item, x.Name = PathOf(one), NameOf(one)
			out = append(out, x)
		}
	}
	return out
}

// withItem are the names of a rule with the item of a list.
type withItem struct {
	cel.Activation
	name  string
	value ref.Val
}

// ResolveName finds the item, or what the rule knows.
func (w *withItem) ResolveName(name string) (any, bool) {
	if name == w.name {
		return w.value, true
	}
	return w.Activation.ResolveName(name)
}

// Parent are the names of the rule.
func (w *withItem) Parent() cel.Activation { return w.Activation }

// isChain says whether an expression is a bare chain of names.
func isChain(e ast.Expr) bool {
	for e.Kind() == ast.SelectKind {
		e = e.AsSelect().Operand()
	}
	return e.Kind() == ast.IdentKind
}

// isLookup says whether an expression is a row of a table or an item of a list.
func isLookup(e ast.Expr) bool {
	return e.Kind() == ast.CallKind && e.AsCall().FunctionName() == operators.Index
}

// constant says whether an expression mentions no name.
func constant(e ast.Expr) bool {
	named := false
	ast.PreOrderVisit(e, ast.NewExprVisitor(func(x ast.Expr) { named = named || x.Kind() == ast.IdentKind }))
	return !named
}
