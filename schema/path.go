package schema

import (
	"iter"
	"slices"
	"strconv"
	"strings"
)

// Path names a fact, part, list or derived value as rules and reports write it: design.feed.runs[2].bore. An item of a
// list is counted from 0; [] stands for any item.
type Path string

// Step is one step of a path.
type Step struct {
	// Key is the name of the field.
	Key string
	// Item says that the step goes on to an item of the list, Index to which: AnyItem for [].
	Item  bool
	Index int
}

// AnyItem is the index of a step that stands for every item of a list.
const AnyItem = -1

// Steps goes along the path, without the design it begins with. An index that is no number gives a step without a key,
// which no part has, and ends it.
func (p Path) Steps() iter.Seq[Step] {
	return func(yield func(Step) bool) {
		if rest := p.Short(); rest != "" {
			for key := range strings.SplitSeq(rest, ".") {
				if step, ok := stepOf(key); !yield(step) || !ok {
					return
				}
			}
		}
	}
}

// Along goes along the path like Steps, each step with the path up to it.
func (p Path) Along() iter.Seq2[Path, Step] {
	return func(yield func(Path, Step) bool) {
		at := len(p) - len(p.Short())
		for step := range p.Steps() {
			end := len(p)
			if i := strings.IndexByte(string(p[at:]), '.'); i >= 0 {
				end = at + i
			}
			if !yield(p[:end], step) {
				return
			}
			at = end + 1
		}
	}
}

func stepOf(key string) (Step, bool) {
	name, index, item := strings.Cut(key, "[")
	step := Step{Key: name, Item: item, Index: AnyItem}
	if !item {
		return step, true
	}
	index, closed := strings.CutSuffix(index, "]")
	if !closed {
		return Step{Index: AnyItem}, false
	}
	if index != "" {
		i, err := strconv.Atoi(index)
		if err != nil || i < 0 {
			return Step{Index: AnyItem}, false
		}
		step.Index = i
	}
	return step, true
}

// Short is the path as a design file is laid out, without the design it begins with.
func (p Path) Short() string {
	if string(p) == rootPath {
		return ""
	}
	return strings.TrimPrefix(string(p), rootPath+".")
}

// Generic is the path with its indices blanked: design.feed.runs[].bore.
func (p Path) Generic() Path {
	if !strings.Contains(string(p), "[") {
		return p
	}
	var b strings.Builder
	inside := false
	for _, r := range string(p) {
		inside = inside && r != ']'
		if !inside {
			b.WriteRune(r)
		}
		inside = inside || r == '['
	}
	return Path(b.String())
}

// Section is the first key: feed.
func (p Path) Section() string {
	key, _, _ := strings.Cut(p.Short(), ".")
	name, _, _ := strings.Cut(key, "[")
	return name
}

// Key is the last key, without an index: bore.
func (p Path) Key() string {
	key, _, _ := strings.Cut(string(p)[strings.LastIndexByte(string(p), '.')+1:], "[")
	return key
}

// Parent is the part or item that holds what the path names, and the list of an item.
func (p Path) Parent() Path {
	if list, _, ok := p.Split(); ok {
		return list
	}
	if i := strings.LastIndexByte(string(p), '.'); i >= 0 {
		return p[:i]
	}
	return ""
}

// Split takes the path of an item apart into its list and its place there; not ok when it is none.
func (p Path) Split() (list Path, index int, ok bool) {
	at := strings.LastIndexByte(string(p), '[')
	if at < 0 || p[len(p)-1] != ']' {
		return p, 0, false
	}
	i, err := strconv.Atoi(string(p[at+1 : len(p)-1]))
	if err != nil || i < 0 {
		return p, 0, false
	}
	return p[:at], i, true
}

// Item is the innermost item of a list on the way to what the path names, that itself included; "" when there is none.
func (p Path) Item() Path { return p[:strings.LastIndexByte(string(p), ']')+1] }

// Sibling is the path of another field of the same part.
func (p Path) Sibling(key string) Path {
	return p[:strings.LastIndexByte(string(p), '.')+1] + Path(key)
}

// Compare orders paths as the fields of a design are declared, items of a list by their number; what no design has comes
// first.
func (p Path) Compare(q Path) int { return slices.Compare(p.order(), q.order()) }

// order is the place of each field on the way, and of each item in its list.
func (p Path) order() []int {
	var out []int
	plan := designPlan()
	for step := range p.Steps() {
		f := fieldOf(plan, step.Key)
		if f == nil {
			break
		}
		out = append(out, f.index, step.Index)
		plan = f.part
	}
	return out
}

// Holds reports whether another path is this one or leads through it.
func (p Path) Holds(other Path) bool {
	rest, ok := strings.CutPrefix(string(other), string(p))
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}
