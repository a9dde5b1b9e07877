package schema

import (
	"errors"
	"fmt"
	"reflect"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/words"
)

// Description is what is known of a fact, part or list by its path alone.
type Description struct {
	// Doc is the one-line meaning, Example a value as written in a design.
	Doc, Example string
	// Words are the possible spellings of a word.
	Words []string
	// Field is the field itself; of an item of a list, the list.
	Field FieldInfo
}

// Describe describes what stands at a path, list indices written [3] or [];
// the zero Description when there is nothing.
func Describe(path string) Description { return (*Declared)(nil).Describe(path) }

// Describe is Describe of the declared facts too.
func (d *Declared) Describe(path string) Description { return describe(d.plan(), Path(path)) }

// DescribeIn describes what stands at a path below a part of the given type, such as Run.
func DescribeIn(part, path string) Description { return describe(planOf(part), Path(path)) }

func describe(plan *typePlan, path Path) Description {
	var out Description
	for step := range path.Steps() {
		f := fieldOf(plan, step.Key)
		if f == nil {
			return Description{}
		}
		info := f.info()
		out = Description{Doc: plan.docOf(f), Example: info.Example, Words: info.Words, Field: info}
		plan = f.part
	}
	return out
}

// ParseFact reads a text as the fact at a path would be read: the value is a
// quantity of its dimension, a Word, a number and so on.
func ParseFact(path, text string) (any, error) { return (*Declared)(nil).ParseFact(path, text) }

// ParseFact is ParseFact of the declared facts too.
func (d *Declared) ParseFact(path, text string) (any, error) {
	if !strings.HasPrefix(path, rootPath+".") {
		return nil, fmt.Errorf("the path of a fact begins with design")
	}
	return parseFact(d.plan(), path, text)
}

// ParseIn reads a text as the fact at a path below a part of the given type, such as Run, would be read.
func ParseIn(part, path, text string) (any, error) { return parseFact(planOf(part), path, text) }

// CheckIn says what is wrong with a text as the fact at a path below a part of the given type, a value or a range; nil
// when a design may state it.
func CheckIn(part, path, text string) error {
	f := factAlong(planOf(part), path)
	if f == nil {
		return fmt.Errorf("there is no fact %s", path)
	}
	n := scalar(text)
	fact := reflect.New(f.fact.of).Interface().(factSetter)
	ranged, wrong := readRange(n, f.fact, fact, Place{})
	if !ranged {
		wrong = readFact(n, f.fact, fact.valuePointer())
	}
	if wrong.message != "" {
		return errors.New(wrong.message)
	}
	return nil
}

// factAlong is the fact at the end of a path below a type; nil when there is none.
func factAlong(plan *typePlan, path string) (f *fieldPlan) {
	for step := range Path(path).Steps() {
		if f = fieldOf(plan, step.Key); f == nil {
			return nil
		}
		plan = f.part
	}
	if f == nil || f.fact == nil {
		return nil
	}
	return f
}

func scalar(text string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Value: text}
	n.Tag = n.ShortTag()
	return n
}

func parseFact(plan *typePlan, path, text string) (any, error) {
	f := factAlong(plan, path)
	if f == nil {
		return nil, fmt.Errorf("there is no fact %s", path)
	}
	n := scalar(text)
	fact := reflect.New(f.fact.of).Interface().(factSetter)
	if wrong := readFact(n, f.fact, fact.valuePointer()); wrong.message != "" {
		return nil, errors.New(wrong.message)
	}
	return reflect.ValueOf(fact.valuePointer()).Elem().Interface(), nil
}

func fieldOf(plan *typePlan, key string) *fieldPlan {
	if plan == nil {
		return nil
	}
	return plan.byKey[key]
}

// PlaceOf returns where the fact, part or list at a path stands; when it was
// not written, where the nearest part around it stands.
func (d *Design) PlaceOf(path string) Place {
	at := d.Place()
	d.follow(path, func(v reflect.Value) {
		if place := ownPlace(v); !place.IsZero() {
			at = place
		}
	})
	return at
}

// FactAt returns the fact at a path, list indices written [3]; nil when the path leads to none.
func (d *Design) FactAt(path string) Reading {
	fact, _ := d.At(path).(Reading)
	return fact
}

// At returns a pointer to what stands at a path, list indices written [3]: a fact, a part, a Maybe or a List; nil when the
// path leads to none.
func (d *Design) At(path string) any {
	var last reflect.Value
	whole := d.follow(path, func(v reflect.Value) { last = v })
	if !last.IsValid() {
		return nil
	}
	at := last.Addr().Interface()
	if list, ok := at.(Listing); !whole && (!ok || list.Path() != path) {
		return nil
	}
	return at
}

// PartOf is the part inside one that may be absent, as At gives it; anything else is itself.
func PartOf(at any) any {
	if m, ok := at.(maybeSetter); ok {
		return m.partPointer()
	}
	return at
}

// follow shows each field and item on the way to a path; false when the way ends before the path does.
func (d *Design) follow(path string, show func(v reflect.Value)) bool {
	plan, v := d.plan(), reflect.ValueOf(d).Elem()
	for step := range Path(path).Steps() {
		f := fieldOf(plan, step.Key)
		if f == nil {
			return false
		}
		v = f.in(v)
		show(v)
		switch f.kind {
		case KindPart:
		case KindMaybe:
			v = reflect.ValueOf(v.Addr().Interface().(maybeSetter).partPointer()).Elem()
		case KindList:
			list := v.Addr().Interface().(listSetter)
			if !step.Item || step.Index < 0 || step.Index >= list.Len() {
				return false
			}
			v = reflect.ValueOf(list.item(step.Index)).Elem()
			show(v)
		}
		plan = f.part
	}
	return true
}

// ownPlace is where a fact, part or list itself stands. A part is asked by its node: a fact named place hides the
// method of the same name.
func ownPlace(v reflect.Value) Place {
	switch at := v.Addr().Interface().(type) {
	case nodal:
		return at.node().place
	case interface{ Place() Place }:
		return at.Place()
	}
	return Place{}
}

// TypeAt names the type of part at a path: Design, Pump, Run; "" when there is none.
func TypeAt(path string) string { return (*Declared)(nil).TypeAt(path) }

// TypeAt is TypeAt of the declared facts too.
func (d *Declared) TypeAt(path string) string {
	plan := d.plan()
	if !strings.HasPrefix(path, rootPath) {
		return ""
	}
	for step := range Path(path).Steps() {
		f := fieldOf(plan, step.Key)
		if f == nil {
			return ""
		}
		plan = f.part
	}
	if plan == nil {
		return ""
	}
	return plan.name
}

// RangeOf is the range of a fact, or of each fact of a list, in SI units; not ok where there is none.
func RangeOf(part, key string) (low, high float64, ok bool) {
	return (*Declared)(nil).RangeOf(part, key)
}

// RangeOf is RangeOf of the declared facts too.
func (d *Declared) RangeOf(part, key string) (low, high float64, ok bool) {
	f := fieldOf(d.planOf(part), key)
	if f == nil || f.fact == nil || f.fact.lowText == "" {
		return 0, 0, false
	}
	return f.fact.low, f.fact.high, true
}

// docOf is the meaning of a field.
func (p *typePlan) docOf(f *fieldPlan) string {
	if f.slot {
		return f.doc
	}
	return Doc(p.name, f.key)
}

// Said is how people speak of the fact, part or list at a path; nil where the table of words has no row for it.
func Said(path string) *words.Row { return (*Declared)(nil).Said(path) }

// Said is Said of the declared facts too.
func (d *Declared) Said(path string) *words.Row {
	p := Path(path)
	part := d.TypeAt(string(p.Parent()))
	if d != nil && d.rows[part+"."+p.Key()] != nil {
		return d.rows[part+"."+p.Key()]
	}
	return words.Of(part, p.Key())
}
