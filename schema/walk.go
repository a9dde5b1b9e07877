package schema

import (
	"reflect"
	"strconv"

	"plumbline/schema/quantity"
)

// Visit is one field met on a walk. Reading is set for facts, Optional for parts that may be absent, Listing for lists.
type Visit struct {
	// Path is the field's full name, such as design.pump.curve[1].flow.
	Path string
	// Type and Key name the part's type and the field: CurvePoint, flow; see Doc. Items of a list have its key.
	Type, Key string
	Kind      Kind
	// Words are the spellings of a word; do not change them.
	Words []string
	// Dimension of a quantity.
	Dimension quantity.Dimension
	Reading   Reading
	Optional  Optional
	Listing   Listing
}

// Quantity returns the value of a stated quantity.
func (v Visit) Quantity() (quantity.Value, bool) {
	if v.Kind != KindQuantity || v.Reading == nil || !v.Reading.Known() {
		return quantity.Value{}, false
	}
	return valueIn(v.Reading.Any()), true
}

// Walk visits every fact of a design, stated or not, in the order of declaration: also the facts of parts that may be
// absent, but not of those stated to be absent; of a list the items it has.
func Walk(d *Design, visit func(Visit)) {
	WalkAll(d, func(v Visit) {
		if v.Reading != nil {
			visit(v)
		}
	})
}

// WalkAll visits what Walk visits, and before the facts inside them the lists and the parts that may be absent.
func WalkAll(d *Design, visit func(Visit)) {
	walkPart(d.plan(), reflect.ValueOf(d).Elem(), rootPath, visit)
}

func walkPart(plan *typePlan, part reflect.Value, path string, visit func(Visit)) {
	for _, f := range plan.fields {
		pointer := f.in(part).Addr().Interface()
		v := Visit{Path: path + "." + f.key, Type: plan.name, Key: f.key, Kind: f.kind}
		switch f.kind {
		case KindPart:
			walkPart(f.part, f.in(part), v.Path, visit)
		case KindMaybe:
			maybe := pointer.(maybeSetter)
			v.Optional = maybe
			visit(v)
			if maybe.Presence() != Absent {
				walkPart(f.part, reflect.ValueOf(maybe.partPointer()).Elem(), v.Path, visit)
			}
		case KindList:
			list := pointer.(listSetter)
			v.Listing = list
			visit(v)
			for i := range list.Len() {
				at := v.Path + "[" + strconv.Itoa(i) + "]"
				if f.part != nil {
					walkPart(f.part, reflect.ValueOf(list.item(i)).Elem(), at, visit)
					continue
				}
				v.Path = at
				visit(v.fact(f.fact, list.item(i)))
				v.Path = path + "." + f.key
			}
		default:
			visit(v.fact(f.fact, pointer))
		}
	}
}

func (v Visit) fact(plan *factPlan, pointer any) Visit {
	v.Kind, v.Words, v.Dimension, v.Listing = plan.kind, plan.words, plan.dimension, nil
	v.Reading = pointer.(Reading)
	return v
}

// Stamp gives every fact, part and list of a design its path. Load does it; designs built or changed in Go need it
// before they are judged.
func Stamp(d *Design) { stampPart(d.plan(), reflect.ValueOf(d).Elem(), rootPath) }

func stampPart(plan *typePlan, part reflect.Value, path string) {
	part.Addr().Interface().(nodal).node().path = path
	for _, f := range plan.fields {
		field := f.in(part)
		pointer := field.Addr().Interface()
		at := path + "." + f.key
		switch f.kind {
		case KindPart:
			stampPart(f.part, field, at)
		case KindMaybe:
			maybe := pointer.(maybeSetter)
			maybe.stamp(at)
			stampPart(f.part, reflect.ValueOf(maybe.partPointer()).Elem(), at)
		case KindList:
			list := pointer.(listSetter)
			list.stamp(at)
			for i := range list.Len() {
				item := at + "[" + strconv.Itoa(i) + "]"
				if f.part != nil {
					stampPart(f.part, reflect.ValueOf(list.item(i)).Elem(), item)
				} else {
					list.item(i).(factSetter).stamp(item)
				}
			}
		default:
			pointer.(factSetter).stamp(at)
		}
	}
}
