package whatif

import (
	"encoding/binary"
	"slices"
	"sync"

	"plumbline/engine"
	"plumbline/schema"
)

// memo keeps what each rule finds with some changes, by what the changed places say of the facts that the rule may read: options that say
// the same of these are judged once, and a rule that reads one of two places says of both what it says of that change alone.
type memo struct {
	mu    sync.Mutex
	found map[string][]engine.Finding
}

// about are the keys of the facts that go with what may stand in a seat, by type and key, each with those below it.
type about struct {
	keys  []string
	facts [][]string
}

func (a *about) add(part, key string) {
	name := part + "." + key
	if slices.Contains(a.keys, name) {
		return
	}
	a.keys, a.facts = append(a.keys, name), append(a.facts, fieldsBelow(part, key))
}

// fieldsBelow are a fact, or a part and the facts that belong to it, by type and key.
func fieldsBelow(part, key string) []string {
	out := []string{part + "." + key}
	for _, x := range schema.FieldsOf(part) {
		if x.Key != key || x.Part == "" {
			continue
		}
		for _, below := range schema.Belonging(x.Part) {
			out = append(out, fieldsBelow(x.Part, below)...)
		}
	}
	return out
}

// everything is the set of all keys.
const everything = ^uint64(0)

// says is what an option says of some keys of its seat: options that say the same are of one class.
func (s *seat) says(o *option, keys uint64) string {
	if keys == everything {
		keys = 1<<len(s.about.keys) - 1
	}
	var out []byte
	for i, name := range s.about.keys {
		if keys&(1<<i) == 0 {
			continue
		}
		key := schema.Path(name).Key()
		switch {
		case o.part == nil && slices.Contains(o.keys, name):
			out = append(out, "="+o.size...)
		case o.part != nil && o.part.Kind.AsKey == key:
			out = append(out, "="+o.part.Kind.As...)
		case o.part != nil && slices.Contains(o.part.Kind.Facts, key):
			out = append(out, ":"+o.part.Says(key)...)
		}
		out = append(out, 0)
	}
	return string(out)
}

// classes are the classes of the options of a seat by some of its keys.
func (s *seat) classes(keys uint64) []uint32 {
	s.mu.Lock()
	defer s.mu.Unlock()
	if out := s.classed[keys]; out != nil {
		return out
	}
	out, known := make([]uint32, len(s.options)), map[string]uint32{}
	for i := range s.options {
		text := s.says(&s.options[i], keys)
		class, had := known[text]
		if !had {
			class = uint32(len(known))
			known[text] = class
		}
		out[i] = class
	}
	s.classed[keys] = out
	return out
}

// named is what the finding of a rule rests on with some changes.
func (f *fitter) named(rule int, changes []change, depth engine.Depth) string {
	out := binary.AppendUvarint(nil, uint64(rule))
	out = append(out, byte(depth))
	for _, c := range changes {
		if keys := c.reads[rule]; keys != 0 {
			out = binary.AppendUvarint(out, uint64(c.at))
			out = binary.AppendUvarint(out, uint64(c.classes(keys)[c.option.at]))
		}
	}
	return string(out)
}

// find judges the design with some changes by some rules, and gives what is wrong or open: of rules that were asked with the same before, what
// they found then.
func (f *fitter) find(changes []change, set engine.RuleSet, depth engine.Depth) []engine.Finding {
	var out []engine.Finding
	var names []string
	var asked []int
	left := make(engine.RuleSet, len(set))
	f.memo.mu.Lock()
	for i := range set {
		if !set[i] {
			continue
		}
		name := f.named(i, changes, depth)
		if found, known := f.memo.found[name]; known {
			out = append(out, found...)
			continue
		}
		left[i], names, asked = true, append(names, name), append(asked, i)
	}
	f.memo.mu.Unlock()
	if len(asked) == 0 {
		return out
	}
	by := map[string][]engine.Finding{}
	found := f.v.Judge(f.with(changes), left, depth)
	for i := range found {
		if x := &found[i]; wrong(x) || odd(x) || x.Outcome == engine.Open {
			by[x.Rule] = append(by[x.Rule], *x)
		}
	}
	f.memo.mu.Lock()
	for k, i := range asked {
		list := by[f.v.Rule(i)]
		f.memo.found[names[k]] = list
		out = append(out, list...)
	}
	f.memo.mu.Unlock()
	return out
}
