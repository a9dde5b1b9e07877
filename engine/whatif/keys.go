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

// lone is a part that only one of two designs has, by its key: an item of a list, or a part that may be absent. Come is set where the second has it.
type lone struct {
	key, path string
	come      bool
}

// lones are the parts that only one of two designs has, the outermost of each, by the keys of their facts.
func lones(a, b *side, facts []FactDiffers) map[string]*lone {
	out, known := map[string]*lone{}, map[string]*lone{}
	for i := range facts {
		f := &facts[i]
		if f.Before != "" && f.After != "" && f.Before != "none" && f.After != "none" {
			continue
		}
		own, other := b, a
		if _, has := b.keys.facts[f.Key]; !has || f.After == "none" {
			own, other = a, b
		}
		x := own.loneAt(own.keys.facts[f.Key].Path, other)
		if x == nil {
			continue
		}
		x.come = own == b
		if first := known[x.key]; first != nil {
			x = first
		}
		known[x.key], out[f.Key] = x, x
	}
	for i := range facts {
		if x := known[facts[i].Key]; x != nil {
			out[facts[i].Key] = x // that there is none
		}
	}
	return out
}

// loneAt is the outermost part on the way to a path that another design has not; nil where it has all of them.
func (s *side) loneAt(path string, other *side) *lone {
	for i := range len(path) {
		rest := path[i:]
		switch {
		case strings.HasPrefix(rest, "]"):
			item := path[:i+1]
			if schema.TypeAt(item) != "" && !other.has(s.keys.item(item)) {
				return &lone{key: s.keys.item(item), path: item}
			}
		case strings.HasPrefix(rest, ".") && i > 0:
			if part, is := s.design.At(path[:i]).(schema.Optional); is && part.Presence() == schema.Present {
				if at := other.pathOfPart(path[:i], s); at == "" || other.design.At(at).(schema.Optional).Presence() != schema.Present {
					return &lone{key: s.keys.of(path[:i]), path: path[:i]}
				}
			}
		}
	}
	return nil
}

// has reports whether a design says anything of an item of a list.
func (s *side) has(key string) bool {
	for _, known := range s.keys.order {
		if known == key || strings.HasPrefix(known, key+".") || strings.HasPrefix(known, key+"[") {
			return true
		}
	}
	return false
}

// pathOfPart is the path in this design of a part of another; "" for none.
func (s *side) pathOfPart(path string, other *side) string {
	end := strings.LastIndexByte(path, ']')
	if end < 0 {
		return path
	}
	item := s.itemOf(path[:end+1], other)
	if item == "" || s.design.At(item+path[end+1:]) == nil {
		return ""
	}
	return item + path[end+1:]
}

// itemOf is the path in this design of an item of a list of another; "" for none.
func (s *side) itemOf(item string, other *side) string {
	list, key := s.listOf(item, other), other.keys.item(item)
	if list == "" {
		return ""
	}
	for i := 0; s.design.At(fmt.Sprintf("%s[%d]", list, i)) != nil; i++ {
		if at := fmt.Sprintf("%s[%d]", list, i); s.keys.item(at) == key {
			return at
		}
	}
	return ""
}

// listOf is the path in this design of the list that an item of another stands in; "" for none.
func (s *side) listOf(item string, other *side) string {
	list := item[:strings.LastIndexByte(item, '[')]
	up := strings.LastIndexByte(list, ']')
	if up < 0 {
		return list
	}
	above := s.itemOf(list[:up+1], other)
	if above == "" {
		return ""
	}
	return above + list[up+1:]
}

// with is the first design with the part as the second has it: there, before what comes behind it in the second, or not there; nil where that
// cannot be.
func (x *lone) with(a, b *side) *schema.Design {
	d := a.design.Clone()
	list, at, item := schema.Path(x.path).Split()
	switch {
	case !item || !strings.HasSuffix(x.path, "]"):
		path := x.path
		if x.come {
			path = a.pathOfPart(x.path, b)
		} else if b.pathOfPart(x.path, a) != x.path {
			path = "" // it stands elsewhere in the other one
		}
		if path == "" || path != x.path && strings.Contains(x.path, "[") || !d.Adopt(path, b.design) {
			return nil
		}
	case x.come:
		own, before := a.listOf(x.path, b), 0
		for i := at - 1; i >= 0 && before == 0; i-- {
			if known := a.itemOf(fmt.Sprintf("%s[%d]", list, i), b); known != "" {
				_, n, _ := schema.Path(known).Split()
				before = n + 1
			}
		}
		if own == "" || !d.Insert(own, before, b.design, x.path) {
			return nil
		}
	case !d.Remove(string(list), at):
		return nil
	}
	return d
}

// withAlone is the first design with one fact as in the second; nil where that cannot be: a fact of a part or a list that only one of them has,
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

// pathOf is the path in this design of a fact of another, in a part that both have; "" for none.
func (s *side) pathOf(path string, other *side) string {
	if out := s.pathOfPart(path, other); out != "" && s.design.FactAt(out) != nil {
		return out
	}
	return ""
}
