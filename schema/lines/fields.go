package lines

import (
	"regexp"
	"slices"
	"sync"

	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// fieldsByName are the fields of every type of part by Type.key, and the way to each type that a design has once.
type catalogue struct {
	fields map[string]schema.FieldInfo
	keys   map[string][]string
	// home is the path to a type that stands in no list; list the list, directly below such a part, whose items are of a type.
	home, list map[string]string
	// spare are the types of parts that a vehicle may do without, and of what is in them.
	spare map[string]bool
}

var known = sync.OnceValue(func() *catalogue {
	c := &catalogue{map[string]schema.FieldInfo{}, map[string][]string{}, map[string]string{"Design": ""}, map[string]string{}, map[string]bool{}}
	for _, t := range schema.Types() {
		for _, f := range t.Fields {
			c.fields[t.Name+"."+f.Key] = f
			c.keys[t.Name] = append(c.keys[t.Name], f.Key)
		}
	}
	for _, name := range skipped {
		c.home[name] = ""
	}
	c.visit("Design", "")
	for _, name := range skipped {
		delete(c.home, name)
	}
	return c
})

// skipped are types that stand in many places: which is meant, a line does not say.
var skipped = []string{"LineEnd", "Joint", "ThermistorPoint", "PassingWire", "Line", "Run", "Filter", "Circuit"}

func (c *catalogue) visit(part, path string) {
	for _, key := range c.keys[part] {
		f := c.fields[part+"."+key]
		at := join(path, key)
		if _, seen := c.home[f.Part]; seen || f.Part == "" {
			continue
		}
		if f.Kind == schema.KindList {
			if _, seen := c.list[f.Part]; !seen {
				c.list[f.Part] = at
			}
			continue
		}
		c.home[f.Part] = at
		c.spare[f.Part] = f.Kind == schema.KindMaybe || c.spare[part]
		c.visit(f.Part, at)
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// takes reports whether a fact may hold a number: by its dimension and range, or as a whole number.
func takes(r *words.Row, n *number) bool {
	f := known().fields[r.Name()]
	switch f.Kind {
	case schema.KindQuantity:
		if fraction.MatchString(n.core) && f.Dimension != quantity.DimLength && f.Dimension != quantity.DimWireSize {
			return false // a relay of 30/40 A has two contacts
		}
		if n.date || n.bare && n.taken == "" && f.Dimension != quantity.DimRatio {
			return false
		}
	case schema.KindInt:
		if !n.whole {
			return false
		}
	case schema.KindDate:
		if !n.date {
			return false
		}
	default:
		return false
	}
	_, err := schema.ParseIn(r.Part, r.Key, n.core)
	return err == nil
}

// fraction is a number that people write over another one; only sizes are meant so.
var fraction = regexp.MustCompile(`^\d+/\d`)

// within reports whether a number lies in the span in which a fact is said without its name.
func within(r *words.Row, n *number) bool {
	if r.Bare.Low == "" {
		return true
	}
	d := known().fields[r.Name()].Dimension
	read := func(text string) float64 {
		if n.whole {
			d = quantity.DimRatio
		}
		v, err := quantity.Parse(text, d)
		if err != nil {
			return 0
		}
		return v.SI()
	}
	v := read(n.core)
	return read(r.Bare.Low) <= v && v <= read(r.Bare.High)
}

// below are the parts inside a type that belong to it when it is spoken of: the injectors of a throttle body.
func below(part string) map[string]string {
	out := map[string]string{}
	for _, key := range known().keys[part] {
		f := known().fields[part+"."+key]
		if f.Kind == schema.KindPart && !slices.Contains([]string{"LineEnd"}, f.Part) {
			out[key] = f.Part
		}
	}
	return out
}
