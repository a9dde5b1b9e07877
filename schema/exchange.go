package schema

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
)

// Seat is a place of a design where a part of the shelf may stand.
type Seat struct {
	// Path is that of the part of the design, Type its type.
	Path, Type string
	// Kinds are the kinds of parts that may stand there.
	Kinds []*ShelfKind
	// There is set where the design says anything of the part.
	There bool
}

// Seats lists where parts of the shelf may stand in a design, in the order of its schema: in every part that is not said to be absent,
// and in the items that its lists have. A piece of line takes only parts of its kind.
func (d *Design) Seats() []Seat {
	var out []Seat
	seats(designPlan(), reflect.ValueOf(d).Elem(), rootPath, &out)
	return out
}

func seats(plan *typePlan, part reflect.Value, path string, out *[]Seat) {
	if kinds := kindsFor(plan.name); len(kinds) > 0 {
		fits := slices.DeleteFunc(slices.Clone(kinds), func(k *ShelfKind) bool {
			if k.AsKey == "" {
				return false
			}
			fact := part.Field(plan.byKey[k.AsKey].index).Addr().Interface().(Reading)
			return !fact.Known() || fact.Text() != k.As
		})
		if len(fits) > 0 {
			*out = append(*out, Seat{path, plan.name, fits, part.Addr().Interface().(nodal).node().stated})
		}
	}
	for _, f := range plan.fields {
		field, at := part.Field(f.index), path+"."+f.key
		switch f.kind {
		case KindPart:
			seats(f.part, field, at, out)
		case KindMaybe:
			if maybe := field.Addr().Interface().(maybeSetter); maybe.Presence() != Absent {
				seats(f.part, reflect.ValueOf(maybe.partPointer()).Elem(), at, out)
			}
		case KindList:
			list := field.Addr().Interface().(listSetter)
			for i := range list.Len() {
				if f.part != nil {
					seats(f.part, reflect.ValueOf(list.item(i)).Elem(), at+"["+strconv.Itoa(i)+"]", out)
				}
			}
		}
	}
}

// Exchange puts a part of the shelf in a place of the design, which it changes: what belongs to such a part and stood there is
// unknown again, and what the part says is stated; how it is fitted stays. The error says why it cannot stand there.
func (d *Design) Exchange(path string, p *Part) error {
	plan, at, maybe := d.partAt(path)
	if plan == nil || !p.Kind.Suits(plan.name) {
		return fmt.Errorf("%s cannot stand at %s", p.Called(), path)
	}
	if maybe != nil && maybe.Presence() != Present {
		maybe.setPresence(Present, p.Place())
	}
	node := at.Addr().Interface().(nodal).node()
	if !node.stated {
		node.stated, node.place = true, p.Place()
	}
	exchange(plan, p.Kind.field.part, p.Kind.FactsIn(plan.name), at, p.value())
	if p.Kind.AsKey != "" {
		own := at.Field(plan.byKey[p.Kind.AsKey].index).Addr().Interface().(factSetter)
		reflect.ValueOf(own.valuePointer()).Elem().SetString(p.Kind.As)
		own.state(p.Kind.As, p.Place())
	}
	stampPart(plan, at, path)
	d.shelved = slices.DeleteFunc(slices.Clone(d.shelved), func(s *Shelved) bool { return Path(path).Holds(Path(s.Path)) })
	d.shelved = append(d.shelved, &Shelved{Path: path, Name: p.Called(), Place: node.place, Part: p})
	return nil
}

// exchange takes over some facts of a part; its own are unknown where the other says nothing.
func exchange(plan, from *typePlan, keys []string, own, other reflect.Value) {
	for _, key := range keys {
		mine, its := plan.byKey[key], from.byKey[key]
		field, value := own.Field(mine.index), other.Field(its.index)
		switch mine.kind {
		case KindPart:
			a, b := field.Addr().Interface().(nodal).node(), value.Addr().Interface().(nodal).node()
			if b.stated && !a.stated {
				*a = *b
			}
			exchange(mine.part, its.part, Belonging(mine.part.name), field, value)
		default:
			field.Set(value)
			if mine.kind == KindList {
				ownItems(field) // the shelf keeps its own
			}
		}
	}
}

// partAt is the part at a path, with its plan, and what says whether it is there.
func (d *Design) partAt(path string) (*typePlan, reflect.Value, maybeSetter) {
	var last reflect.Value
	if !d.follow(path, func(v reflect.Value) { last = v }) || !last.IsValid() {
		return nil, last, nil
	}
	var maybe maybeSetter
	if m, is := last.Addr().Interface().(maybeSetter); is {
		maybe, last = m, reflect.ValueOf(m.partPointer()).Elem()
	}
	return planOf(TypeAt(path)), last, maybe
}

// Facts is what the part's label says, as one text: parts of equal facts are alike to a design.
func (p *Part) Facts() string { return p.label }

// Says is what the part's label says of one of the facts that belong to its kind, as one text; "" for nothing.
func (p *Part) Says(key string) string {
	if _, value := entry(p.facts, key); value != nil {
		return flat(value)
	}
	return ""
}
