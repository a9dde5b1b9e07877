package schema

import (
	"fmt"
	"reflect"

	"plumbline/schema/quantity"
)

// Clone is a copy of a design that shares nothing with it; places and paths are the same.
func (d *Design) Clone() *Design {
	out := *d
	out.Own.apart()
	parted(d.plan(), reflect.ValueOf(&out).Elem())
	return &out
}

// parted gives a copied part lists of its own.
func parted(plan *typePlan, part reflect.Value) {
	for _, f := range plan.fields {
		field := f.in(part)
		switch f.kind {
		case KindPart:
			parted(f.part, field)
		case KindMaybe:
			parted(f.part, reflect.ValueOf(field.Addr().Interface().(maybeSetter).partPointer()).Elem())
		case KindList:
			own := ownItems(field)
			if f.part != nil {
				for i := range own.Len() {
					parted(f.part, own.Index(i))
				}
			}
		}
	}
}

// ownItems gives a copied list items of its own.
func ownItems(list reflect.Value) reflect.Value {
	items := list.FieldByName("Items")
	if items.Len() > 0 {
		own := reflect.MakeSlice(items.Type(), items.Len(), items.Len())
		reflect.Copy(own, items)
		items.Set(own)
	}
	return items
}

// Put states the fact at a path, list indices written [3]: a value of the fact's Go type, a quantity.Value of its
// dimension, or a string for a word. The place stays. The error says what is wrong with path or value; the range of the
// fact is not asked.
func (d *Design) Put(path string, value any) error {
	fact, ok := d.FactAt(path).(factSetter)
	if !ok {
		return fmt.Errorf("there is no fact %s in the design", path)
	}
	into := reflect.ValueOf(fact.valuePointer()).Elem()
	v := reflect.ValueOf(value)
	switch q, isQuantity := value.(quantity.Value); {
	case value != nil && v.Type() == into.Type():
		into.Set(v)
	case value != nil && v.Kind() == reflect.String && into.Kind() == reflect.String:
		into.SetString(v.String())
	case isQuantity && into.Kind() == reflect.Struct && dimensionOf(into) == q.Dimension():
		into.FieldByName("Value").Set(v)
	default:
		return fmt.Errorf("%s cannot hold a %T", path, value)
	}
	fact.state("", fact.(Reading).Place())
	return nil
}

// Take states the fact at a path as another design does, its text and place too; where the other says nothing of it, it is
// unknown. It reports whether both have such a fact.
func (d *Design) Take(path string, from *Design) bool {
	own, ok := d.FactAt(path).(factSetter)
	other := from.FactAt(path)
	if !ok || other == nil {
		return false
	}
	reflect.ValueOf(own).Elem().Set(reflect.ValueOf(other).Elem())
	own.stamp(path)
	return true
}

// PutRange states the quantity at a path as a range between two ends, with its likely value, in SI units.
func (d *Design) PutRange(path string, low, usual, high float64) error {
	fact, ok := d.FactAt(path).(factSetter)
	if !ok {
		return fmt.Errorf("there is no fact %s in the design", path)
	}
	like := reflect.ValueOf(fact.valuePointer()).Elem()
	dimension := dimensionOf(like)
	if dimension == quantity.None {
		return fmt.Errorf("%s is no quantity", path)
	}
	var ends [3]any
	for i, si := range []float64{low, usual, high} {
		v, err := quantity.New(si, dimension)
		if err != nil {
			return err
		}
		end := reflect.New(like.Type()).Elem()
		end.FieldByName("Value").Set(reflect.ValueOf(v))
		ends[i] = end.Interface()
	}
	text := fmt.Sprintf("%s..%s", textOf(ends[0]), textOf(ends[2]))
	fact.stateRange(ends[0], ends[1], ends[2], text, fact.(Reading).Place())
	return nil
}

func dimensionOf(value reflect.Value) quantity.Dimension {
	if q, ok := value.Interface().(interface {
		QuantityDimension() quantity.Dimension
	}); ok {
		return q.QuantityDimension()
	}
	return quantity.None
}

// textOf writes the value of a fact as a design could.
func textOf(value any) string {
	if q, ok := value.(interface {
		Format(quantity.System) string
	}); ok {
		return q.Format(quantity.Metric)
	}
	return fmt.Sprint(value)
}

// Fill is the design with what others state and it does not, one after the other, list by list: an item of another is put together with
// the first of its own that is the same thing (same), the rest of the other's items come behind. Lists and parts that the
// design says are not there stay so. filled are the paths of the facts that were taken of each.
func (d *Design) Fill(others []*Design, same func(list string, own, other any) bool) (out *Design, filled [][]string) {
	out = d.Clone()
	for _, other := range others {
		f := filler{same: same}
		if own := out.Declared(); own != nil {
			other = other.Clone()
			other.declare(own)
		}
		f.part(out.plan(), reflect.ValueOf(out).Elem(), reflect.ValueOf(other).Elem(), rootPath)
		filled = append(filled, f.filled)
	}
	Stamp(out)
	return out, filled
}

type filler struct {
	same   func(list string, own, other any) bool
	filled []string
}

func (f *filler) part(plan *typePlan, own, other reflect.Value, path string) {
	node, theirs := own.Addr().Interface().(nodal).node(), other.Addr().Interface().(nodal).node()
	if !node.stated {
		*node = *theirs
	}
	for _, field := range plan.fields {
		mine, its := field.in(own), field.in(other)
		switch field.kind {
		case KindPart:
			f.part(field.part, mine, its, path+"."+field.key)
		case KindMaybe:
			a, b := mine.Addr().Interface().(maybeSetter), its.Addr().Interface().(maybeSetter)
			if a.Presence() == NotStated && b.Presence() != NotStated {
				a.setPresence(b.Presence(), b.Place())
			}
			if a.Presence() == Present && b.Presence() == Present {
				f.part(field.part, reflect.ValueOf(a.partPointer()).Elem(), reflect.ValueOf(b.partPointer()).Elem(), path+"."+field.key)
			}
		case KindList:
			if listed(its.Addr().Interface().(listSetter)) {
				f.list(field, mine, its, path+"."+field.key)
			}
		default:
			if stands(its) && !stands(mine) {
				mine.Set(its)
				f.filled = append(f.filled, path+"."+field.key)
			}
		}
	}
}

func (f *filler) list(field *fieldPlan, mine, its reflect.Value, path string) {
	a, b := mine.Addr().Interface().(listSetter), its.Addr().Interface().(listSetter)
	if listed(a) && a.Len() == 0 {
		return
	}
	if field.part == nil || field.part.points() {
		if listed(a) {
			return
		}
		mine.Set(its)
		ownItems(mine)
		f.filled = append(f.filled, path)
		for i := range a.Len() {
			if field.part != nil {
				f.all(field.part, reflect.ValueOf(a.item(i)).Elem(), fmt.Sprintf("%s[%d]", path, i))
			}
		}
		return
	}
	rest := !listed(a) || a.Open()
	if !listed(a) {
		a.setKnown(b.Place())
	}
	a.setOpen(rest && b.Open())
	named := a.Len()
	taken := make([]bool, named)
next:
	for i := range b.Len() {
		its := b.item(i)
		for n := range named {
			if !taken[n] && f.same(path, a.item(n), its) {
				taken[n] = true
				f.part(field.part, reflect.ValueOf(a.item(n)).Elem(), reflect.ValueOf(its).Elem(), fmt.Sprintf("%s[%d]", path, n))
				continue next
			}
		}
		a.grow()
		f.part(field.part, reflect.ValueOf(a.item(a.Len()-1)).Elem(), reflect.ValueOf(its).Elem(), fmt.Sprintf("%s[%d]", path, a.Len()-1))
	}
	// A second one of a kind is like the first.
	for n := range named {
		for i := range b.Len() {
			if its := b.item(i); !taken[n] && f.same(path, a.item(n), its) {
				taken[n] = true
				f.part(field.part, reflect.ValueOf(a.item(n)).Elem(), reflect.ValueOf(its).Elem(), fmt.Sprintf("%s[%d]", path, n))
			}
		}
	}
}

// all notes every fact of a part that was taken whole.
func (f *filler) all(plan *typePlan, part reflect.Value, path string) {
	for _, field := range plan.fields {
		if field.fact != nil && field.kind != KindList && stands(field.in(part)) {
			f.filled = append(f.filled, path+"."+field.key)
		}
	}
}

// points reports whether the items of a list of this type are the points of one curve: whoever states some states the curve.
func (p *typePlan) points() bool { return p.name == "CurvePoint" || p.name == "ThermistorPoint" }

// stands reports whether a fact says anything.
func stands(fact reflect.Value) bool { return IsStated(fact.Addr().Interface().(Reading)) }

// listed reports whether anything of a list is named, or that there is nothing.
func listed(l Listing) bool { return l.Known() || l.Open() }

// Closed is the design when nothing is fitted but what was named: parts nobody mentioned are not there, lists hold what
// they hold.
func (d *Design) Closed() *Design {
	out := d.Clone()
	closePart(d.plan(), reflect.ValueOf(out).Elem())
	return out
}

func closePart(plan *typePlan, part reflect.Value) {
	for _, f := range plan.fields {
		field := f.in(part)
		switch f.kind {
		case KindPart:
			closePart(f.part, field)
		case KindMaybe:
			maybe := field.Addr().Interface().(maybeSetter)
			if maybe.Presence() == NotStated {
				maybe.setPresence(Absent, maybe.Place())
			}
			closePart(f.part, reflect.ValueOf(maybe.partPointer()).Elem())
		case KindList:
			list := field.Addr().Interface().(listSetter)
			if f.part == nil || f.part.points() {
				continue // what nobody copied from a paper is not known, not absent
			}
			list.setKnown(list.Place())
			list.setOpen(false)
			for i := range list.Len() {
				if f.part != nil {
					closePart(f.part, reflect.ValueOf(list.item(i)).Elem())
				}
			}
		}
	}
}

// Keep is the design with only the facts that keep wants, by their paths; the rest is unknown again. A part or list of which
// nothing is left is not mentioned; one that was said to be absent or empty stays so where its own path is wanted.
func (d *Design) Keep(keep func(path string) bool) *Design {
	out := d.Clone()
	keepPart(d.plan(), reflect.ValueOf(out).Elem(), rootPath, keep)
	Stamp(out)
	return out
}

func keepPart(plan *typePlan, part reflect.Value, path string, keep func(string) bool) (any bool) {
	for _, f := range plan.fields {
		field := f.in(part)
		at := path + "." + f.key
		left := false
		switch f.kind {
		case KindPart:
			left = keepPart(f.part, field, at, keep)
		case KindMaybe:
			maybe := field.Addr().Interface().(maybeSetter)
			left = maybe.Presence() == Absent && keep(at)
			if maybe.Presence() == Present {
				left = keepPart(f.part, reflect.ValueOf(maybe.partPointer()).Elem(), at, keep)
			}
		case KindList:
			list := field.Addr().Interface().(listSetter)
			left = list.Known() && list.Len() == 0 && keep(at)
			for i := range list.Len() {
				item := fmt.Sprintf("%s[%d]", at, i)
				if f.part == nil {
					left = left || keep(at)
				} else if keepPart(f.part, reflect.ValueOf(list.item(i)).Elem(), item, keep) {
					left = true
				}
			}
		default:
			left = stands(field) && keep(at)
		}
		if !left && f.kind != KindPart { // of a part each fact is gone by itself
			field.SetZero()
		}
		any = any || left
	}
	if !any {
		part.Addr().Interface().(nodal).node().stated = false
	}
	return any
}

// Insert puts an item of a list of another design into a list of this one, before the item at a place. It reports whether both are there and of
// one type.
func (d *Design) Insert(list string, at int, from *Design, item string) bool {
	own, known := d.valueAt(list)
	other, there := from.valueAt(item)
	if !known || !there {
		return false
	}
	l, is := own.Addr().Interface().(listSetter)
	if !is || at < 0 || at > l.Len() || own.FieldByName("Items").Type().Elem() != other.Type() {
		return false
	}
	if !listed(l) {
		l.setKnown(Place{})
	}
	items := own.FieldByName("Items")
	more := reflect.MakeSlice(items.Type(), 0, items.Len()+1)
	more = reflect.Append(reflect.AppendSlice(more, items.Slice(0, at)), other)
	items.Set(reflect.AppendSlice(more, own.FieldByName("Items").Slice(at, l.Len())))
	if plan := planOf(TypeAt(item)); plan != nil {
		parted(plan, items.Index(at))
	}
	Stamp(d)
	return true
}

// Remove takes an item out of a list. It reports whether it was there.
func (d *Design) Remove(list string, at int) bool {
	own, known := d.valueAt(list)
	if !known {
		return false
	}
	l, is := own.Addr().Interface().(listSetter)
	if !is || at < 0 || at >= l.Len() {
		return false
	}
	items := own.FieldByName("Items")
	less := reflect.MakeSlice(items.Type(), 0, items.Len()-1)
	less = reflect.AppendSlice(less, items.Slice(0, at))
	items.Set(reflect.AppendSlice(less, items.Slice(at+1, l.Len())))
	Stamp(d)
	return true
}

// Adopt makes a part that may be absent as it is in another design: there with all that is stated of it, said not to be there, or not
// mentioned. It reports whether both have such a part.
func (d *Design) Adopt(path string, from *Design) bool {
	own, known := d.valueAt(path)
	other, there := from.valueAt(path)
	if !known || !there || own.Type() != other.Type() {
		return false
	}
	maybe, is := own.Addr().Interface().(maybeSetter)
	if !is {
		return false
	}
	own.Set(other)
	if plan := planOf(TypeAt(path)); plan != nil {
		parted(plan, reflect.ValueOf(maybe.partPointer()).Elem())
	}
	Stamp(d)
	return true
}

// valueAt is what stands at a path.
func (d *Design) valueAt(path string) (out reflect.Value, known bool) {
	at := d.At(path)
	if at == nil {
		return out, false
	}
	return reflect.ValueOf(at).Elem(), true
}
