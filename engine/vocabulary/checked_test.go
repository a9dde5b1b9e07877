package vocabulary

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// expressions of every kind that a rule may hold, the names they use beside
// design with them.
var expressions = []string{
	"design.pump.place", "design.pump.place == 'in_tank' && !design.pump.check_valve",
	"design.feed.runs.all(r, r.bore > mm(7.5)) || design.feed.runs.exists(r, r.kind in ['hose', 'tube'])",
	"design.feed.runs.filter(r, r.kind == 'tube').map(r, r.bore)", "design.feed.runs.exists_one(r, r.name == 'a')",
	"design.pump.curve[0].flow + q('9 L/h')", "design.return_line.fitted ? design.return_line.rise : m(-1)",
	"most.bore > mm(3)", "limit.least * 2.0", "size(design.circuits) > 3", "today > timestamp('2026-01-31T00:00:00Z')",
	"-1 + 2 == 1 && 1.5e300 > -0.25 && \"text\\n\" != '' && true",
}

func compileAll(t testing.TB, v *Vocabulary) []*Program {
	t.Helper()
	run, err := v.Compile("design.feed.runs.filter(r, true)[0]", nil)
	require.NoError(t, err)
	length, err := v.Compile("mm(3)", nil)
	require.NoError(t, err)
	vars := []Variable{NewVariable("most", run.Type, nil), {Name: "limit.least", Type: length.Type}}
	var out []*Program
	for _, text := range expressions {
		p, err := v.Compile(text, vars)
		require.NoError(t, err, text)
		out = append(out, p)
	}
	return out
}

// What is read back is what was written: types, references and all; the same
// vocabulary gives the same bytes, and so does what was read.
func TestCheckedExpressionsComeBack(t *testing.T) {
	first, err := New()
	require.NoError(t, err)
	want := compileAll(t, first)
	data, err := WriteChecked(first)
	require.NoError(t, err)

	again, err := New()
	require.NoError(t, err)
	compileAll(t, again.Clone())
	compileAll(t, again)
	same, err := WriteChecked(again)
	require.NoError(t, err)
	assert.Equal(t, data, same)
	assert.Equal(t, first.Fingerprint(), again.Fingerprint())

	checked, err := ReadChecked(data)
	require.NoError(t, err)
	second, err := New()
	require.NoError(t, err)
	second = second.Trusting(checked)
	for i, p := range compileAll(t, second) {
		require.NotNil(t, p.stored, "%s was compiled anew", p.Text)
		assert.True(t, p.Type.IsExactType(want[i].Type), p.Text)
		for _, lists := range [][2][]string{{p.Words, want[i].Words}, {p.Facts, want[i].Facts}, {p.Fields, want[i].Fields}, {p.Names, want[i].Names}, {p.Guarded, want[i].Guarded}, {p.Guards, want[i].Guards}} {
			assert.True(t, slices.Equal(lists[0], lists[1]), p.Text)
		}
		p.planned.Do(p.plan)
		require.NoError(t, p.fault, p.Text)
		sameTree(t, want[i].tree, p.tree, want[i].tree.Expr(), p.tree.Expr())
	}
	assert.Empty(t, second.done)
}

func sameTree(t *testing.T, a, b *ast.AST, x, y ast.Expr) {
	t.Helper()
	require.Equal(t, x.Kind(), y.Kind())
	require.Equal(t, x.ID(), y.ID())
	require.True(t, a.GetType(x.ID()).IsExactType(b.GetType(y.ID())), "%s, %s", a.GetType(x.ID()), b.GetType(y.ID()))
	r, had := a.ReferenceMap()[x.ID()]
	if q, has := b.ReferenceMap()[y.ID()]; assert.Equal(t, had, has) && had {
		require.True(t, r.Equals(q))
	}
	var left, right []ast.Expr
	switch x.Kind() {
	case ast.LiteralKind:
		require.Equal(t, types.True, x.AsLiteral().Equal(y.AsLiteral()))
	case ast.IdentKind:
		require.Equal(t, x.AsIdent(), y.AsIdent())
	case ast.SelectKind:
		require.Equal(t, x.AsSelect().FieldName(), y.AsSelect().FieldName())
		left, right = []ast.Expr{x.AsSelect().Operand()}, []ast.Expr{y.AsSelect().Operand()}
	case ast.CallKind:
		c, d := x.AsCall(), y.AsCall()
		require.Equal(t, c.FunctionName(), d.FunctionName())
		require.Equal(t, c.IsMemberFunction(), d.IsMemberFunction())
		left, right = c.Args(), d.Args()
		if c.IsMemberFunction() {
			left, right = append([]ast.Expr{c.Target()}, left...), append([]ast.Expr{d.Target()}, right...)
		}
	case ast.ListKind:
		left, right = x.AsList().Elements(), y.AsList().Elements()
	case ast.ComprehensionKind:
		c, d := x.AsComprehension(), y.AsComprehension()
		require.Equal(t, []string{c.IterVar(), c.IterVar2(), c.AccuVar()}, []string{d.IterVar(), d.IterVar2(), d.AccuVar()})
		left = []ast.Expr{c.IterRange(), c.AccuInit(), c.LoopCondition(), c.LoopStep(), c.Result()}
		right = []ast.Expr{d.IterRange(), d.AccuInit(), d.LoopCondition(), d.LoopStep(), d.Result()}
	}
	require.Len(t, right, len(left))
	for i := range left {
		sameTree(t, a, b, left[i], right[i])
	}
}

// Bytes that were cut or changed are refused or give another expression; they
// never end the program.
func TestDamagedExpressions(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	compileAll(t, v)
	data, err := WriteChecked(v)
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		bad := slices.Clone(data)
		for range 1 + random.IntN(3) {
			bad[random.IntN(len(bad))] = byte(random.Uint32())
		}
		if random.IntN(4) == 0 {
			bad = bad[:random.IntN(len(bad))]
		}
		checked, err := ReadChecked(bad)
		if err != nil {
			continue
		}
		for i := range len(checked.index) / indexEntry {
			if p := checked.at(v, i, ""); p != nil {
				p.stored.tree()
			}
		}
	}
}
