package vocabulary

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// writer puts checked expressions into bytes: whole numbers as varints, texts
// and types as their numbers in a table, each kept once.
type writer struct {
	buf   []byte
	texts numbered[string]
	types numbered[string]
	list  []*types.Type
	err   error
}

// numbered numbers values in the order they come.
type numbered[T comparable] struct {
	number map[T]int
	order  []T
}

func (n *numbered[T]) of(v T) int {
	if i, ok := n.number[v]; ok {
		return i
	}
	if n.number == nil {
		n.number = map[T]int{}
	}
	n.number[v] = len(n.order)
	n.order = append(n.order, v)
	return n.number[v]
}

func (w *writer) int(n int)     { w.buf = binary.AppendUvarint(w.buf, uint64(n)) }
func (w *writer) text(s string) { w.int(w.texts.of(s)) }
func (w *writer) byte(b byte)   { w.buf = append(w.buf, b) }
func (w *writer) double(f float64) {
	w.buf = binary.LittleEndian.AppendUint64(w.buf, math.Float64bits(f))
}

func (w *writer) words(list []string) {
	w.int(len(list))
	for _, s := range list {
		w.text(s)
	}
}

// typ writes a type; none is 0.
func (w *writer) typ(t *types.Type) {
	if t == nil {
		w.int(0)
		return
	}
	key := typeKey(t)
	if _, known := w.types.number[key]; !known {
		w.list = append(w.list, t)
	}
	w.int(1 + w.types.of(key))
}

// typeKey is the type as text, parameters and all.
func typeKey(t *types.Type) string { return fmt.Sprintf("%d %s", t.Kind(), t) }

// node writes an expression of a checked tree and all within.
func (w *writer) node(tree *ast.AST, e ast.Expr) {
	if e == nil {
		w.byte(byte(ast.UnspecifiedExprKind))
		return
	}
	w.byte(byte(e.Kind()))
	if e.Kind() == ast.UnspecifiedExprKind {
		return
	}
	w.int(int(e.ID()))
	w.typ(tree.TypeMap()[e.ID()])
	w.reference(tree.ReferenceMap()[e.ID()])
	switch e.Kind() {
	case ast.LiteralKind:
		w.literal(e.AsLiteral())
	case ast.IdentKind:
		w.text(e.AsIdent())
	case ast.SelectKind:
		s := e.AsSelect()
		if s.IsTestOnly() {
			w.err = errors.New("a test of presence has no place in a rule")
		}
		w.text(s.FieldName())
		w.node(tree, s.Operand())
	case ast.CallKind:
		c := e.AsCall()
		w.text(c.FunctionName())
		if c.IsMemberFunction() {
			w.byte(1)
			w.node(tree, c.Target())
		} else {
			w.byte(0)
		}
		w.nodes(tree, c.Args())
	case ast.ListKind:
		if len(e.AsList().OptionalIndices()) > 0 {
			w.err = errors.New("a list with optional items has no place in a rule")
		}
		w.nodes(tree, e.AsList().Elements())
	case ast.ComprehensionKind:
		c := e.AsComprehension()
		w.text(c.IterVar())
		w.text(c.IterVar2())
		w.text(c.AccuVar())
		w.nodes(tree, []ast.Expr{c.IterRange(), c.AccuInit(), c.LoopCondition(), c.LoopStep(), c.Result()})
	default:
		w.err = fmt.Errorf("an expression of kind %d has no place in a rule", e.Kind())
	}
}

func (w *writer) nodes(tree *ast.AST, list []ast.Expr) {
	w.int(len(list))
	for _, e := range list {
		w.node(tree, e)
	}
}

// reference writes what a name or call was found to mean.
func (w *writer) reference(r *ast.ReferenceInfo) {
	if r == nil {
		w.byte(0)
		return
	}
	if r.Value != nil {
		w.err = fmt.Errorf("the constant %s has no place in a rule", r.Name)
	}
	w.byte(1)
	w.text(r.Name)
	w.words(r.OverloadIDs)
}

func (w *writer) literal(v ref.Val) {
	switch x := v.(type) {
	case types.Bool:
		w.byte('b')
		if x {
			w.byte(1)
		} else {
			w.byte(0)
		}
	case types.Int:
		w.byte('i')
		w.buf = binary.AppendVarint(w.buf, int64(x))
	case types.Double:
		w.byte('d')
		w.double(float64(x))
	case types.String:
		w.byte('s')
		w.text(string(x))
	case types.Timestamp:
		w.byte('t')
		w.buf = binary.AppendVarint(w.buf, x.Unix())
	default:
		w.err = fmt.Errorf("a constant of type %s has no place in a rule", v.Type().TypeName())
	}
}

// reader takes up what a writer wrote. A fault of the bytes ends reading with err set.
type reader struct {
	data  []byte
	texts []string
	types []*types.Type
	err   error
}

var errImage = errors.New("the checked expressions are damaged")

func (r *reader) fail() {
	r.err, r.data = errImage, nil
}

func (r *reader) int() int {
	n, used := binary.Uvarint(r.data)
	if used <= 0 || n > math.MaxInt32 {
		r.fail()
		return 0
	}
	r.data = r.data[used:]
	return int(n)
}

func (r *reader) signed() int64 {
	n, used := binary.Varint(r.data)
	if used <= 0 {
		r.fail()
		return 0
	}
	r.data = r.data[used:]
	return n
}

func (r *reader) byte() byte {
	if len(r.data) == 0 {
		r.fail()
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

func (r *reader) text() string {
	if i := r.int(); i < len(r.texts) {
		return r.texts[i]
	}
	r.fail()
	return ""
}

// count reads how many things follow, each at least a byte long.
func (r *reader) count() int {
	n := r.int()
	if n > len(r.data) {
		r.fail()
		return 0
	}
	return n
}

func (r *reader) words() []string {
	n := r.count()
	if n == 0 {
		return nil
	}
	out := make([]string, n)
	for i := range out {
		out[i] = r.text()
	}
	return out
}

func (r *reader) typ() *types.Type {
	i := r.int()
	switch {
	case i == 0:
		return nil
	case i <= len(r.types):
		return r.types[i-1]
	}
	r.fail()
	return nil
}

// growing is a tree being read.
type growing struct {
	factory ast.ExprFactory
	types   map[int64]*types.Type
	refs    map[int64]*ast.ReferenceInfo
}

// tree reads a checked tree.
func (r *reader) tree() *ast.AST {
	g := &growing{ast.NewExprFactory(), map[int64]*types.Type{}, map[int64]*ast.ReferenceInfo{}}
	root := r.node(g, 0)
	if r.err != nil {
		return nil
	}
	return ast.NewCheckedAST(ast.NewAST(root, ast.NewSourceInfo(nil)), g.types, g.refs)
}

func (r *reader) node(g *growing, depth int) ast.Expr {
	kind := ast.ExprKind(r.byte())
	if kind == ast.UnspecifiedExprKind || depth > 4*maxDepth {
		if depth > 4*maxDepth {
			r.fail()
		}
		return g.factory.NewUnspecifiedExpr(0)
	}
	id := int64(r.int())
	if t := r.typ(); t != nil {
		g.types[id] = t
	}
	if x := r.reference(); x != nil {
		g.refs[id] = x
	}
	switch kind {
	case ast.LiteralKind:
		return g.factory.NewLiteral(id, r.literal())
	case ast.IdentKind:
		return g.factory.NewIdent(id, r.text())
	case ast.SelectKind:
		field := r.text()
		return g.factory.NewSelect(id, r.node(g, depth+1), field)
	case ast.CallKind:
		name := r.text()
		if r.byte() == 1 {
			target := r.node(g, depth+1)
			return g.factory.NewMemberCall(id, name, target, r.nodes(g, depth)...)
		}
		return g.factory.NewCall(id, name, r.nodes(g, depth)...)
	case ast.ListKind:
		return g.factory.NewList(id, r.nodes(g, depth), nil)
	case ast.ComprehensionKind:
		item, item2, so := r.text(), r.text(), r.text()
		if x := r.nodes(g, depth); len(x) == 5 {
			if item2 != "" {
				return g.factory.NewComprehensionTwoVar(id, x[0], item, item2, so, x[1], x[2], x[3], x[4])
			}
			return g.factory.NewComprehension(id, x[0], item, so, x[1], x[2], x[3], x[4])
		}
	}
	r.fail()
	return g.factory.NewUnspecifiedExpr(id)
}

func (r *reader) nodes(g *growing, depth int) []ast.Expr {
	out := make([]ast.Expr, r.count())
	for i := range out {
		out[i] = r.node(g, depth+1)
	}
	return out
}

func (r *reader) reference() *ast.ReferenceInfo {
	if r.byte() == 0 {
		return nil
	}
	return &ast.ReferenceInfo{Name: r.text(), OverloadIDs: r.words()}
}

func (r *reader) literal() ref.Val {
	switch r.byte() {
	case 'b':
		return types.Bool(r.byte() == 1)
	case 'i':
		return types.Int(r.signed())
	case 'd':
		if len(r.data) < 8 {
			break
		}
		f := math.Float64frombits(binary.LittleEndian.Uint64(r.data))
		r.data = r.data[8:]
		return types.Double(f)
	case 's':
		return types.String(r.text())
	case 't':
		return types.Timestamp{Time: time.Unix(r.signed(), 0).UTC()}
	}
	r.fail()
	return types.NullValue
}
