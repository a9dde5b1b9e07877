package proof

import (
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Part is something in a rule that can be true or false: a condition, an
// operand of one, a comparison, what is asked of each item of a list, or a
// bound on the measure. A rule's cases should show each both ways; unknown is
// neither.
type Part struct {
	Rule string
	// Of is the key of the rule it stands under: applies, must, let.NAME ...
	Of    string
	Text  string
	Place schema.Place
	// True and False say which values the cases showed.
	True, False bool
}

// Missing says which value no case shows; empty when both were seen.
func (p *Part) Missing() string {
	switch {
	case !p.True && !p.False:
		return "true or false"
	case !p.True:
		return "true"
	case !p.False:
		return "false"
	}
	return ""
}

// spot is one expression of a rule and where its text is in the declaration.
type spot struct {
	of   string
	tree *vocabulary.Tree
	node *yaml.Node
	// condition says that its value is true or false.
	condition bool
	// vars are the names it may use.
	vars []vocabulary.Variable
	// text finds its text in a copy of the declaration.
	text func(*pack.Rule) *string
}

// spots lists the expressions that decide a rule's outcome.
func spots(l *engine.Library, r *rule.Rule) ([]spot, error) {
	var out []spot
	var err error
	vars := slices.Clone(l.Compiler(r.Pack.Pack).AllVars())
	add := func(of string, e *pack.Expression, p *vocabulary.Program, text func(*pack.Rule) *string) {
		if e == nil || err != nil {
			return
		}
		tree, bad := vocabulary.ParseTree(e.Text)
		if err = bad; bad == nil {
			out = append(out, spot{of, tree, e.Node, p.Type.Kind() == types.BoolKind, slices.Clone(vars), text})
		}
	}
	for i := range r.Decl.Each {
		e := &r.Decl.Each[i]
		add("each."+e.Key, &e.Value, r.Each, func(r *pack.Rule) *string { return &r.Each[i].Value.Text })
		vars = append(vars, vocabulary.Variable{Name: e.Key, Type: r.Each.Type.Parameters()[0], Words: r.Each.Words})
	}
	for i := range r.Decl.Let {
		e, p := &r.Decl.Let[i], r.Lets[i].Prog
		add("let."+e.Key, &e.Value, p, func(r *pack.Rule) *string { return &r.Let[i].Value.Text })
		vars = append(vars, vocabulary.Variable{Name: e.Key, Type: p.Type, Words: p.Words})
	}
	add("applies", r.Decl.Applies, r.Applies, func(r *pack.Rule) *string { return &r.Applies.Text })
	add("measure", r.Decl.Measure, r.Measure, func(r *pack.Rule) *string { return &r.Measure.Text })
	for _, t := range testsOf(r) {
		if t.test.Condition != nil {
			add(t.of, t.decl.Condition, t.test.Condition, func(r *pack.Rule) *string { return &t.in(r).Condition.Text })
		}
		for i, b := range t.test.Bounds {
			if b.Prog != nil {
				value := &t.decl.Bounds[i].Value
				add(t.of+"."+b.Op, &pack.Expression{Text: value.Text, Node: value.Node}, b.Prog, func(r *pack.Rule) *string { return &t.in(r).Bounds[i].Value.Text })
			}
		}
	}
	return out, err
}

// ruleTest is a rule's must or should.
type ruleTest struct {
	of   string
	test *rule.Test
	decl *pack.Test
	in   func(*pack.Rule) *pack.Test
}

// tests lists the tests a rule has.
func testsOf(r *rule.Rule) []ruleTest {
	var out []ruleTest
	if r.Must != nil {
		out = append(out, ruleTest{"must", r.Must, r.Decl.Must, func(r *pack.Rule) *pack.Test { return r.Must }})
	}
	if r.Should != nil {
		out = append(out, ruleTest{"should", r.Should, r.Decl.Should, func(r *pack.Rule) *pack.Test { return r.Should }})
	}
	return out
}

// copyOf copies a declaration so that its expressions can be changed.
func copyOf(r *pack.Rule) *pack.Rule {
	out := *r
	expression := func(e *pack.Expression) *pack.Expression {
		if e == nil {
			return nil
		}
		c := *e
		return &c
	}
	test := func(t *pack.Test) *pack.Test {
		if t == nil {
			return nil
		}
		return &pack.Test{Condition: expression(t.Condition), Bounds: slices.Clone(t.Bounds), Node: t.Node}
	}
	out.Each, out.Let = slices.Clone(r.Each), slices.Clone(r.Let)
	out.Applies, out.Measure = expression(r.Applies), expression(r.Measure)
	out.Must, out.Should = test(r.Must), test(r.Should)
	return &out
}

// place is where a part of the spot's expression stands in the pack file.
func (s *spot) place(r *document.Reader, e ast.Expr) schema.Place {
	line, column := s.tree.At(e)
	return r.Place(s.node, line, column)
}

// watch runs the cases of a rule and notes which values its parts had.
func (b *bench) watch(r *rule.Rule, spots []spot, cases []*openCase) ([]Part, error) {
	decl := copyOf(r.Decl)
	b.seen = nil
	for i := range spots {
		s := &spots[i]
		parts := s.tree.Parts(s.condition)
		*s.text(decl) = s.tree.Watched(parts, len(b.seen))
		for _, e := range parts {
			b.seen = append(b.seen, Part{Rule: r.ID, Of: s.of, Text: s.tree.Text(e), Place: s.place(b.library.Compiler(r.Pack.Pack).Reader, e)})
		}
	}
	watched, err := b.compile(b.watching.Fresh(), r, decl)
	if err != nil {
		return nil, err
	}
	first := len(b.seen)
	for _, t := range testsOf(r) {
		for i, x := range t.test.Bounds {
			value := t.decl.Bounds[i].Value
			b.seen = append(b.seen, Part{Rule: r.ID, Of: t.of, Text: x.Op + " " + value.Text, Place: b.library.Compiler(r.Pack.Pack).Reader.At(value.Node)})
		}
	}
	for _, c := range cases {
		for _, f := range c.judge(watched) {
			for _, met := range f.Bounds {
				i := first + boundIndex(r, met.Of, met.Op)
				b.seen[i].True, b.seen[i].False = b.seen[i].True || met.Met, b.seen[i].False || !met.Met
			}
		}
	}
	return b.seen, nil
}

// boundIndex counts a bound of a rule: those of must first, then those of should.
func boundIndex(r *rule.Rule, of, op string) int {
	n := 0
	for _, t := range testsOf(r) {
		for _, b := range t.test.Bounds {
			if t.of == of && b.Op == op {
				return n
			}
			n++
		}
	}
	return -1
}
