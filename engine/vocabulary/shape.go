package vocabulary

import (
	"fmt"
	"reflect"
	"strings"
	"time"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// typePrefix begins every CEL type name of a part.
const typePrefix = "plumbline."

// maybePrefix comes before the type's name when the part may be none.
const maybePrefix = "Maybe"

// shape is a CEL object type: the fields a part offers to rules.
type shape struct {
	name   string
	fields map[string]*field
	order  []string
	// optional says the part may be `none`; its fields must be guarded by `fitted`.
	optional bool
}

type field struct {
	name  string
	typ   *types.Type
	words []string
	// longest is the longest text a table has here, 0 elsewhere.
	longest int
	// guarded fields may only be read where the rule also asks whether the part is fitted.
	guarded bool
	// derived is set for derived values.
	derived *derive.Entry
	// low and high are the ends of its range, in SI units, when it is ranged.
	low, high float64
	ranged    bool
	// at is the field's place in its shape.
	at int
	// open gives the field's value for the first time; object.read keeps it.
	open func(o *object) cell
}

func (s *shape) add(f *field) error {
	if _, dup := s.fields[f.name]; dup {
		return fmt.Errorf("%s has two fields named %s", s.name, f.name)
	}
	f.at = len(s.order)
	s.fields[f.name] = f
	s.order = append(s.order, f.name)
	return nil
}

// shapes holds every CEL object type by name.
type shapes map[string]*shape

type builder struct {
	shapes shapes
	index  *derive.Index
	err    error
}

// buildShapes makes the CEL types of all parts, from the Go types of a design
// and the derived values of each.
func buildShapes(index *derive.Index) (shapes, error) {
	b := &builder{shapes: shapes{}, index: index}
	b.part(reflect.TypeFor[schema.Design](), false)
	return b.shapes, b.err
}

func (b *builder) fail(err error) {
	if b.err == nil {
		b.err = err
	}
}

// part returns the CEL type name of a schema struct, building it when new.
func (b *builder) part(t reflect.Type, optional bool) string {
	name := typePrefix + t.Name()
	if optional {
		name = typePrefix + maybePrefix + t.Name()
	}
	if b.shapes[name] != nil {
		return name
	}
	s := &shape{name: name, fields: map[string]*field{}, optional: optional}
	b.shapes[name] = s
	if optional {
		b.fail2(s.add(&field{name: "fitted", typ: types.BoolType, open: fitted}))
	}
	for i := range t.NumField() {
		sf := t.Field(i)
		key, _, _ := strings.Cut(sf.Tag.Get("json"), ",")
		if key == "" {
			continue
		}
		f := b.field(sf, i)
		f.name, f.guarded = key, optional
		f.low, f.high, f.ranged = schema.RangeOf(t.Name(), key)
		b.fail2(s.add(f))
	}
	b.derivedFields(s, t.Name(), optional)
	for _, l := range derive.Links() {
		if l.On == t.Name() {
			b.fail2(s.add(b.link(l, optional)))
		}
	}
	if t == reflect.TypeFor[schema.Design]() {
		for _, v := range derive.Views() {
			b.fail2(s.add(b.view(v)))
		}
	}
	return name
}

// link gives the access to another part.
func (b *builder) link(l derive.Link, guarded bool) *field {
	inner := b.part(l.Item, false)
	return &field{name: l.Name, typ: types.NewObjectType(inner), guarded: guarded, open: func(o *object) cell {
		to, r := o.scope.session.Follow(&l, o.part.Addr().Interface())
		if to == nil {
			return cell{value: derivedValue(r), decided: r, turn: -1}
		}
		return cell{value: &object{shape: b.shapes[inner], part: reflect.ValueOf(to).Elem(), scope: o.scope}, decided: r, turn: -1}
	}}
}

// view gives the access to a view. What is not stated stands in its list as an
// unknown, so that what is there can be judged and the rest stays open.
func (b *builder) view(v derive.View) *field {
	inner := b.part(v.Item, false)
	return &field{name: v.Name, typ: types.NewListType(types.NewObjectType(inner)), open: func(o *object) cell {
		var items []ref.Val
		for _, x := range v.Gather(o.scope.session.Design()) {
			if x.Part == nil {
				items = append(items, unknownFact(x.Missing))
				continue
			}
			items = append(items, &object{shape: b.shapes[inner], part: reflect.ValueOf(x.Part).Elem(), scope: o.scope})
		}
		return cell{value: listOf(items)}
	}}
}

func (b *builder) fail2(err error) {
	if err != nil {
		b.fail(err)
	}
}

func fitted(o *object) cell {
	switch o.maybe.Presence() {
	case schema.Present:
		return cell{value: types.True}
	case schema.Absent:
		return cell{value: types.False}
	}
	return cell{value: unknownFact(o.maybe.Path())}
}

// field builds the access to one struct field.
func (b *builder) field(sf reflect.StructField, i int) *field {
	var words []string
	if w := sf.Tag.Get("words"); w != "" {
		words = strings.Split(w, ",")
	}
	at := func(o *object) reflect.Value { return o.part.Field(i).Addr() }
	ptr := reflect.New(sf.Type).Interface()
	switch ptr.(type) {
	case schema.Reading:
		return &field{typ: factType(sf.Type), words: words, open: func(o *object) cell {
			return o.scope.fact(at(o).Interface().(schema.Reading))
		}}
	case schema.Optional:
		inner := b.part(sf.Type.Field(0).Type, true)
		return &field{typ: types.NewObjectType(inner), open: func(o *object) cell {
			p := at(o)
			m := p.Interface().(schema.Optional)
			c := &object{shape: b.shapes[inner], part: p.Elem().Field(0), scope: o.scope, maybe: m}
			if m.Presence() == schema.Absent {
				c.absent = m.Path()
			}
			return cell{value: c}
		}}
	case schema.Listing:
		elem := sf.Type.Field(0).Type.Elem()
		if _, isFact := reflect.New(elem).Interface().(schema.Reading); isFact {
			return &field{typ: types.NewListType(factType(elem)), words: words, open: func(o *object) cell {
				p := at(o)
				out := cell{turn: -1, value: o.scope.list(p, func(v reflect.Value) ref.Val { return o.scope.fact(v.Interface().(schema.Reading)).value })}
				items := p.Elem().Field(0)
				for i := range items.Len() {
					out.items = append(out.items, items.Index(i).Addr().Interface().(schema.Reading))
				}
				return out
			}}
		}
		inner := b.part(elem, false)
		return &field{typ: types.NewListType(types.NewObjectType(inner)), open: func(o *object) cell {
			return cell{value: o.scope.list(at(o), func(v reflect.Value) ref.Val {
				return &object{shape: b.shapes[inner], part: v.Elem(), scope: o.scope}
			})}
		}}
	}
	inner := b.part(sf.Type, false)
	return &field{typ: types.NewObjectType(inner), open: func(o *object) cell {
		return cell{value: &object{shape: b.shapes[inner], part: at(o).Elem(), scope: o.scope}}
	}}
}

func (s *Scope) list(at reflect.Value, item func(reflect.Value) ref.Val) ref.Val {
	l := at.Interface().(schema.Listing)
	if !l.Known() && !l.Open() {
		return unknownFact(l.Path())
	}
	if list, ok := s.lists[at.Interface()]; ok {
		return list
	}
	slice := at.Elem().Field(0)
	items := make([]ref.Val, slice.Len(), slice.Len()+1)
	for i := range items {
		items[i] = item(slice.Index(i).Addr())
	}
	if l.Open() {
		items = append(items, unknownFact(l.Path())) // what nobody named
	}
	list := listOf(items)
	s.lists[at.Interface()] = list
	return list
}

// PointOf names the type of a part's derived values at an operating point.
func PointOf(part string) string { return part + "Point" }

// derivedFields adds the derived values of a part: those that hold always as
// fields of their own, those of an operating point behind `at`.
func (b *builder) derivedFields(s *shape, on string, guarded bool) {
	var perPoint []*derive.Entry
	for _, e := range b.index.Of(on) {
		if e.PerPoint {
			perPoint = append(perPoint, e)
			continue
		}
		b.fail2(s.add(b.derivedField(e, guarded)))
	}
	if len(perPoint) == 0 {
		return
	}
	point := &shape{name: PointOf(s.name), fields: map[string]*field{}}
	for _, e := range perPoint {
		b.fail2(point.add(b.derivedField(e, guarded)))
	}
	at := &shape{name: s.name + "At", fields: map[string]*field{}}
	for _, p := range derive.Points() {
		b.fail2(at.add(&field{name: p.String(), typ: types.NewObjectType(point.name), open: func(o *object) cell {
			return cell{value: &object{shape: point, part: o.part, scope: o.scope, point: p, absent: o.absent, maybe: o.maybe}}
		}}))
	}
	b.shapes[point.name], b.shapes[at.name] = point, at
	b.fail2(s.add(&field{name: "at", typ: types.NewObjectType(at.name), open: func(o *object) cell {
		return cell{value: &object{shape: at, part: o.part, scope: o.scope, absent: o.absent, maybe: o.maybe}}
	}}))
}

func (b *builder) derivedField(e *derive.Entry, guarded bool) *field {
	return &field{name: e.Name, typ: derivedType(e), words: e.Words, guarded: guarded, derived: e, open: func(o *object) cell {
		return derivedCell(o.scope.session.Evaluate(e, o.part.Addr().Interface(), o.point))
	}}
}

func derivedType(e *derive.Entry) *types.Type {
	switch e.Kind {
	case derive.Quantity:
		return dimensionType(e.Dimension)
	case derive.Truth:
		return types.BoolType
	case derive.Text:
		return types.StringType
	}
	return types.DoubleType
}

func dimensionType(d quantity.Dimension) *types.Type {
	if d == quantity.DimRatio {
		return types.DoubleType
	}
	return QuantityType(d)
}

// factType is the CEL type of a schema.Fact[T].
func factType(t reflect.Type) *types.Type {
	value := t.Field(0).Type
	zero := reflect.New(value).Elem().Interface()
	if q, ok := zero.(interface{ QuantityDimension() quantity.Dimension }); ok {
		return dimensionType(q.QuantityDimension())
	}
	switch zero.(type) {
	case bool:
		return types.BoolType
	case int:
		return types.IntType
	case schema.Date:
		return types.TimestampType
	}
	return types.StringType
}

// native turns the Go value of a fact or a derived value into CEL's.
func native(v any) ref.Val {
	switch x := v.(type) {
	case bool:
		return types.Bool(x)
	case int:
		return types.Int(x)
	case float64:
		return finite(x)
	case string:
		return types.String(x)
	case schema.Word:
		return types.String(x)
	case schema.Date:
		t, err := time.Parse(time.DateOnly, string(x))
		if err != nil {
			return types.WrapErr(err)
		}
		return types.Timestamp{Time: t}
	case quantity.Value:
		if x.Dimension() == quantity.DimRatio {
			return finite(x.SI())
		}
		return Quantity{Of: x}
	case interface {
		QuantityDimension() quantity.Dimension
		SI() float64
	}:
		if x.QuantityDimension() == quantity.DimRatio {
			return finite(x.SI())
		}
		return newQuantity(x.SI(), x.QuantityDimension())
	}
	return types.NewErr("no CEL value for %T", v)
}
