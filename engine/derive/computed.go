package derive

import (
	"reflect"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Computed is an assumption that is no fixed value but a derived one of the
// design, by its path, such as design.fuel.blend_density. It must not rest on the
// fact it stands for.
type Computed string

// Entry is the derived value meant, nil when there is none.
func (p Computed) Entry() *Entry {
	part, name := p.on(schema.Empty())
	if part == nil {
		return nil
	}
	return All().Find(reflect.TypeOf(part).Elem().Name(), name)
}

// Evaluate works the value out in a session.
func (s *Session) computed(p Computed) *Result {
	part, name := p.on(s.design)
	if part == nil {
		return &Result{Name: string(p), Reason: "there is no part " + string(p)}
	}
	return s.find(part, name, NoPoint)
}

// Assumed is the value an assumption has in this design; nil when it has none.
func (s *Session) Assumed(v any) any {
	if p, is := v.(Computed); is {
		return s.computed(p).Value()
	}
	return v
}

// on finds the part of a design the value belongs to, and the value's name.
func (p Computed) on(d *schema.Design) (part any, name string) {
	keys := strings.Split(string(p), ".")
	if len(keys) < 2 || keys[0] != "design" {
		return nil, ""
	}
	at := reflect.ValueOf(d).Elem()
	for _, key := range keys[1 : len(keys)-1] {
		if at = fieldBy(at, key); !at.IsValid() {
			return nil, ""
		}
		if inside := at.FieldByName("Part"); inside.IsValid() {
			at = inside
		}
	}
	return at.Addr().Interface(), keys[len(keys)-1]
}

// fieldBy is the field of a part with a key, invalid when there is none.
func fieldBy(part reflect.Value, key string) reflect.Value {
	for i := range part.NumField() {
		if tag, _, _ := strings.Cut(part.Type().Field(i).Tag.Get("json"), ","); tag == key && part.Field(i).Kind() == reflect.Struct {
			return part.Field(i)
		}
	}
	return reflect.Value{}
}

// takeComputed reads a computed assumption as a fact's value. What keeps it from
// one is noted as the calculation's own.
func takeComputed[T any](c *Calc, p Computed) (v T, ok bool) {
	r := c.session.computed(p)
	c.absorb(r)
	q, is := r.Value().(quantity.Value)
	if !is {
		return v, r.Known()
	}
	if field := reflect.ValueOf(&v).Elem(); field.Kind() == reflect.Struct && field.FieldByName("Value").IsValid() {
		field.FieldByName("Value").Set(reflect.ValueOf(q))
		return v, true
	}
	return v, false
}
