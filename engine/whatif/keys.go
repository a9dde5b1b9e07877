package whatif

import (
	"fmt"
	"strings"

	"plumbline/schema"
)

// keys name what stands at the paths of a design so that another design has the same name for the same thing: items of lists by their
// name, or what they are, and only where several are the same by their order among these.
type keys struct {
	design *schema.Design
	// items are the keys of items already found, by their paths.
	items map[string]string
	// facts are the facts that are stated, and the parts and lists that are said not to be there, by their keys; order is theirs.
	facts map[string]schema.Visit
	order []string
}

func keysOf(d *schema.Design) *keys {
	k := &keys{design: d, items: map[string]string{}, facts: map[string]schema.Visit{}}
	schema.WalkAll(d, func(v schema.Visit) {
		switch {
		case v.Reading != nil && schema.IsStated(v.Reading):
		case v.Optional != nil && v.Optional.Presence() == schema.Absent:
		case v.Listing != nil && v.Listing.Known() && v.Listing.Len() == 0:
		default:
			return
		}
		key := k.of(v.Path)
		if _, had := k.facts[key]; !had {
			k.order = append(k.order, key)
		}
		k.facts[key] = v
	})
	return k
}

// naming are the facts that say what an item of a list is.
var naming = []string{"name", "purpose", "kind", "rule", "terminal"}

// of is the key of what stands at a path.
func (k *keys) of(path string) string {
	end := strings.LastIndexByte(path, ']')
	if end < 0 {
		return path
	}
	return k.item(path[:end+1]) + path[end+1:]
}

// item is the key of an item of a list.
func (k *keys) item(path string) string {
	if out, known := k.items[path]; known {
		return out
	}
	open := strings.LastIndexByte(path, '[')
	list, own := path[:open], k.called(path)
	same := 0
	for i := 0; ; i++ {
		other := fmt.Sprintf("%s[%d]", list, i)
		if other == path || k.design.At(other) == nil {
			break
		}
		if k.called(other) == own {
			same++
		}
	}
	switch {
	case own == "":
		own = fmt.Sprint(same + 1)
	case same > 0:
		own = fmt.Sprintf("%s %d", own, same+1)
	}
	out := k.of(list) + "[" + own + "]"
	k.items[path] = out
	return out
}

// called is what an item is called: its name, or what it is; "" for one that is known by its place only.
func (k *keys) called(path string) string {
	for _, key := range naming {
		if fact := k.design.FactAt(path + "." + key); fact != nil && fact.Known() {
			return strings.ReplaceAll(fact.Text(), "_", " ")
		}
	}
	if fact := k.design.FactAt(path); fact != nil && fact.Known() {
		return fact.Text() // of a list of words, the word
	}
	return ""
}

// text is what a design states at a key; "" for nothing.
func (k *keys) text(key string) string {
	v, there := k.facts[key]
	switch {
	case !there:
		return ""
	case v.Reading == nil:
		return "none"
	}
	return v.Reading.Text()
}

// factsThatDiffer are what two designs state otherwise, in the order of the second; what it has no more at the end.
func factsThatDiffer(a, b *side) []FactDiffers {
	var out []FactDiffers
	note := func(key string, in *keys) {
		v := in.facts[key]
		x := FactDiffers{Key: key, Path: v.Path, Before: a.keys.text(key), After: b.keys.text(key)}
		if x.Before != x.After && !ofFile(v.Path) && !sameValue(a.keys.facts[key], b.keys.facts[key]) {
			out = append(out, x)
		}
	}
	for _, key := range b.keys.order {
		note(key, b.keys)
	}
	for _, key := range a.keys.order {
		if _, still := b.keys.facts[key]; !still {
			note(key, a.keys)
		}
	}
	return out
}

// ofFile reports whether a fact is of the file, not of the vehicle.
func ofFile(path string) bool {
	switch schema.Path(path).Section() {
	case "plumbline", "title", "notes", "based_on", "leave_out":
		return true
	}
	return false
}

// sameValue reports whether two facts say the same in other words: 1 m and 100 cm.
func sameValue(a, b schema.Visit) bool {
	if a.Reading == nil || b.Reading == nil || !a.Reading.Known() || !b.Reading.Known() {
		return false
	}
	x, is := a.Quantity()
	y, also := b.Quantity()
	if is && also {
		return x.SI() == y.SI()
	}
	return !is && !also && fmt.Sprint(a.Reading.Any()) == fmt.Sprint(b.Reading.Any())
}

// withAlone is the first design with one fact as in the second; nil where that cannot be: a part or a list that only one of them has,
// or a range.
func withAlone(a, b *side, key string) *schema.Design {
	was, had := a.keys.facts[key]
	is, has := b.keys.facts[key]
	switch {
	case had && !has && was.Reading != nil:
		return a.design.Keep(func(path string) bool { return path != was.Path })
	case !has || is.Reading == nil || !is.Reading.Known():
		return nil
	}
	path := was.Path
	if !had {
		if path = a.pathOf(is.Path, b); path == "" {
			return nil
		}
	}
	d := a.design.Clone()
	if d.Put(path, is.Reading.Any()) != nil {
		return nil
	}
	return d
}

// pathOf is the path in this design of what stands at a path of another, in a part that both have; "" for none.
func (s *side) pathOf(path string, other *side) string {
	end := strings.LastIndexByte(path, ']')
	if end >= 0 {
		key := other.keys.item(path[:end+1])
		list := path[:strings.LastIndexByte(path[:end], '[')]
		if up := strings.LastIndexByte(list, ']'); up >= 0 { // an item of an item
			if list = s.pathOf(list[:up+1], other) + list[up+1:]; !strings.HasPrefix(list, "design") {
				return ""
			}
		}
		own := ""
		for i := 0; s.design.At(fmt.Sprintf("%s[%d]", list, i)) != nil; i++ {
			if at := fmt.Sprintf("%s[%d]", list, i); s.keys.item(at) == key {
				own = at + path[end+1:]
			}
		}
		path = own
	}
	if path == "" || s.design.FactAt(path) == nil {
		if path != "" && s.design.At(path) != nil {
			return path
		}
		return ""
	}
	return path
}
