package vocabulary

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"sort"
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/schema/quantity"
)

// Checked holds expressions that were compiled before: what checking found
// and the checked tree, which is planned when the expression is first used.
// It is safe for concurrent use.
type Checked struct {
	texts []string
	types []*types.Type
	// index are the places of the expressions in body, in order of their marks:
	// eight bytes of mark, four of place.
	index, body []byte
}

// indexEntry is the length of an entry of the index.
const indexEntry = 12

// Marks are FNV-1a sums. They tell the expressions of the library apart, which
// nobody chooses to confuse them; those of other packs are never looked up by mark.
const (
	startMark uint64 = 14695981039346656037
	markPrime uint64 = 1099511628211
)

// mark goes on with a sum over a text and its end.
func mark(sum uint64, text string) uint64 {
	for i := range len(text) {
		sum = (sum ^ uint64(text[i])) * markPrime
	}
	return (sum ^ 0xff) * markPrime
}

// Fingerprint changes when anything changes that a checked expression rests
// on: the fields of parts, their types and words, and the functions with their overloads, CEL's own too.
func (v *Vocabulary) Fingerprint() uint64 {
	h := fnv.New64a()
	for _, name := range slices.Sorted(maps.Keys(v.shapes)) {
		s := v.shapes[name]
		if strings.HasPrefix(name, tablePrefix) {
			continue // of the packs
		}
		fmt.Fprintln(h, name, s.optional)
		for _, key := range s.order {
			f := s.fields[key]
			fmt.Fprintln(h, key, typeKey(f.typ), f.words, f.guarded)
		}
	}
	for _, d := range quantity.Dimensions() { // what products come out as
		p, ok := d.Powers()
		fmt.Fprintln(h, d, p, ok)
	}
	functions := v.base.Functions()
	for _, name := range slices.Sorted(maps.Keys(functions)) {
		for _, o := range functions[name].OverloadDecls() {
			fmt.Fprintln(h, o.ID(), o.IsMemberFunction(), typeKey(o.ResultType()), len(o.ArgTypes()))
		}
	}
	return h.Sum64()
}

// WriteChecked writes every expression that the vocabularies, clones of one,
// have compiled. The same expressions give the same bytes.
func WriteChecked(from ...*Vocabulary) ([]byte, error) {
	all, names := map[uint64]*Program{}, map[uint64]string{}
	for _, v := range from {
		for key, p := range v.done {
			if other := all[p.sum]; other != nil && (other.Text != p.Text || names[p.sum] != key.env) {
				return nil, fmt.Errorf("two expressions share a mark: %s and %s", other.Text, p.Text)
			}
			all[p.sum], names[p.sum] = p, key.env
		}
	}
	w := &writer{}
	var index []byte
	for _, m := range slices.Sorted(maps.Keys(all)) {
		index = binary.LittleEndian.AppendUint64(index, m)
		index = binary.LittleEndian.AppendUint32(index, uint32(len(w.buf)))
		w.program(all[m])
	}
	if w.err != nil {
		return nil, w.err
	}
	body := w.buf
	w.buf = nil
	for _, t := range w.list {
		w.typeOf(t)
	}
	typed := w.buf
	w.buf = nil
	w.int(len(w.texts.order))
	for _, s := range w.texts.order {
		w.int(len(s))
		w.buf = append(w.buf, s...)
	}
	w.int(len(w.list))
	w.buf = append(w.buf, typed...)
	w.int(len(index) / indexEntry)
	w.buf = append(w.buf, index...)
	return append(w.buf, body...), nil
}

// ReadChecked takes up what WriteChecked wrote; the bytes are kept.
func ReadChecked(data []byte) (*Checked, error) {
	r := &reader{data: data}
	// One string for all texts: each is a piece of it.
	n := r.count()
	block := string(r.data)
	at := func() int { return len(block) - len(r.data) }
	r.texts = make([]string, n)
	for i := range r.texts {
		size := r.int()
		if size > len(r.data) {
			return nil, errImage
		}
		begin := at()
		r.texts[i] = block[begin : begin+size]
		r.data = r.data[size:]
	}
	n = r.count()
	r.types = make([]*types.Type, n)
	for i := range r.types {
		r.types[i] = r.typeOf(0)
	}
	n = r.count()
	if r.err != nil || n*indexEntry > len(r.data) {
		return nil, errImage
	}
	return &Checked{texts: r.texts, types: r.types, index: r.data[:n*indexEntry], body: r.data[n*indexEntry:]}, nil
}

// typeOf writes a type with its parameters.
func (w *writer) typeOf(t *types.Type) {
	w.byte(byte(t.Kind()))
	w.text(t.TypeName())
	w.int(len(t.Parameters()))
	for _, p := range t.Parameters() {
		w.typeOf(p)
	}
}

// plainTypes are those without parameters that CEL has one of.
var plainTypes = map[types.Kind]*types.Type{
	types.BoolKind: types.BoolType, types.IntKind: types.IntType, types.DoubleKind: types.DoubleType,
	types.StringKind: types.StringType, types.TimestampKind: types.TimestampType, types.DynKind: types.DynType,
	types.NullTypeKind: types.NullType, types.UintKind: types.UintType, types.BytesKind: types.BytesType, types.DurationKind: types.DurationType,
}

func (r *reader) typeOf(depth int) *types.Type {
	kind := types.Kind(r.byte())
	name := r.text()
	params := make([]*types.Type, r.count())
	if depth > maxDepth {
		r.fail()
		return types.DynType
	}
	for i := range params {
		params[i] = r.typeOf(depth + 1)
	}
	if t := plainTypes[kind]; t != nil {
		return t
	}
	switch {
	case kind == types.ListKind && len(params) == 1:
		return types.NewListType(params[0])
	case kind == types.MapKind && len(params) == 2:
		return types.NewMapType(params[0], params[1])
	case kind == types.StructKind:
		return types.NewObjectType(name)
	case kind == types.OpaqueKind:
		return types.NewOpaqueType(name, params...)
	case kind == types.TypeParamKind:
		return types.NewTypeParamType(name)
	}
	r.fail()
	return types.DynType
}

// program writes what a program is made of.
func (w *writer) program(p *Program) {
	w.typ(p.Type)
	w.words(p.Words)
	for _, list := range [][]string{p.Facts, p.Fields, p.Names, p.Guarded, p.Guards} {
		w.words(list)
	}
	w.node(p.tree, p.tree.Expr())
}

// compiledBefore gives an expression of the library by its mark; nil if there is none.
func (v *Vocabulary) compiledBefore(sum uint64, text string) *Program {
	if v.checked == nil {
		return nil
	}
	p, ok := v.found[sum]
	if !ok {
		p = v.checked.find(v, sum, text)
		v.found[sum] = p
	}
	return p
}

// find gives the expression of a mark, ready to be planned; nil if there is none.
func (c *Checked) find(v *Vocabulary, m uint64, text string) *Program {
	n := len(c.index) / indexEntry
	i := sort.Search(n, func(i int) bool { return binary.LittleEndian.Uint64(c.index[i*indexEntry:]) >= m })
	if i == n || binary.LittleEndian.Uint64(c.index[i*indexEntry:]) != m {
		return nil
	}
	return c.at(v, i, text)
}

// at reads the expression of a place in the index; nil when it is damaged.
func (c *Checked) at(v *Vocabulary, i int, text string) *Program {
	place := binary.LittleEndian.Uint32(c.index[i*indexEntry+8:])
	if int(place) > len(c.body) {
		return nil
	}
	r := &reader{data: c.body[place:], texts: c.texts, types: c.types}
	p := &Program{Text: text, vocabulary: v, Type: r.typ(), Words: r.words()}
	for _, list := range []*[]string{&p.Facts, &p.Fields, &p.Names, &p.Guarded, &p.Guards} {
		*list = r.words()
	}
	if r.err != nil {
		return nil
	}
	p.stored = r
	return p
}
