package schema

import (
	"errors"
	"fmt"
	"reflect"
	"slices"

	"gopkg.in/yaml.v3"
)

// Instead returns a copy of a design in which a stated quantity says something else, checked as the loader does. The
// copy shares nothing with the design that either could change; the fact keeps its place.
func (d *Design) Instead(path, text string) (*Design, error) {
	out := *d
	out.Own.apart()
	plan, v := out.plan(), reflect.ValueOf(&out).Elem()
	steps := slices.Collect(Path(path).Steps())
	for at, step := range steps {
		f := fieldOf(plan, step.Key)
		if f == nil {
			return nil, errors.New("there is no " + path + " in a design")
		}
		v = f.in(v)
		switch f.kind {
		case KindMaybe:
			v = reflect.ValueOf(v.Addr().Interface().(maybeSetter).partPointer()).Elem()
		case KindList:
			// Another list, so that the design's own stays.
			items := v.FieldByName("Items")
			own := reflect.MakeSlice(items.Type(), items.Len(), items.Len())
			reflect.Copy(own, items)
			items.Set(own)
			if step.Index < 0 || step.Index >= own.Len() {
				return nil, fmt.Errorf("there is no item %d of %s in the design", step.Index, step.Key)
			}
			v = own.Index(step.Index)
		}
		if f.part != nil {
			plan = f.part
			continue
		}
		if at != len(steps)-1 || f.kind != KindQuantity || !v.Addr().Interface().(Reading).Known() {
			break
		}
		fact := v.Addr().Interface().(factSetter)
		if wrong := readFact(&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}, f.fact, fact.valuePointer()); wrong.message != "" {
			return nil, errors.New(wrong.message)
		}
		fact.state(text, v.Addr().Interface().(Reading).Place())
		return &out, nil
	}
	return nil, errors.New(path + " is no stated quantity")
}
