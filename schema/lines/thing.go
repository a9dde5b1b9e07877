package lines

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"plumbline/schema"
	"plumbline/schema/words"
)

// thing is a part that is spoken of: a place in the design, made when the first fact of it is stated.
type thing struct {
	// part is its type.
	part string
	// under is the thing it stands in, nil for the design; key its key there; item says that it is a new item of that list.
	under *thing
	key   string
	item  bool
	// first are the facts an item is known by, stated when it is made.
	first []first
	path  string
	made  bool
}

type first struct {
	key, value string
	from       []*token
}

var root = &thing{part: "Design", made: true}

// reader reads lines one after the other.
type reader struct {
	facts    []fact
	stated   map[string]string
	count    map[string]int
	circuits map[string]*thing
	items    int
	// of the line that is being read:
	out *Line
	// last is what the line speaks of, spoken all it spoke of, circuit the circuit it named last.
	last    []*thing
	spoken  []*thing
	circuit *thing
	// previous is the fact of the number before.
	previous option
}

// open makes the thing in the design and returns its path.
func (r *reader) open(t *thing) string {
	if t.made {
		return t.path
	}
	t.made = true
	t.path = join(r.open(t.under), t.key)
	if t.item {
		i := r.count[t.path]
		r.count[t.path]++
		r.items++
		t.path += "[" + strconv.Itoa(i) + "]"
	}
	for _, f := range t.first {
		r.put(t, f.key, f.value, "", f.from...)
	}
	return t.path
}

// single is the part at a path without lists.
func single(path, part string) *thing { return &thing{part: part, under: root, key: path} }

// thingOf is the part or list item that a row of a part names, in what is spoken of; nil where nobody can tell.
func (r *reader) thingOf(row *words.Row) *thing {
	f := known().fields[row.Name()]
	in := r.holder(row.Part)
	if in == nil || f.Part == "" {
		return nil
	}
	t := &thing{part: f.Part, under: in, key: row.Key, item: f.Kind == schema.KindList}
	if f.Part == "Line" {
		return &thing{part: "Run", under: t, key: "runs", item: true}
	}
	if f.Part == "Circuit" || f.Part == "Run" {
		return nil // told by what they supply, or by their kind
	}
	return t
}

// holder is where the facts of a type belong: the part that a design has once, a new item of its list, or the circuit
// that is spoken of. nil where the line does not say.
func (r *reader) holder(part string) *thing {
	if part == "Design" {
		return root
	}
	for _, t := range append(slices.Clone(r.last), r.spoken...) {
		if t.part == part {
			return t
		}
	}
	switch part {
	case "Circuit":
		return r.circuit
	case "Run":
		return r.run("feed")
	case "Filter":
		return &thing{part: "Filter", under: r.run("feed"), key: "filter"}
	case "Fuse", "Relay", "CircuitLoad":
		if r.circuit == nil {
			return nil
		}
		return &thing{part: part, under: r.circuit, key: map[string]string{"Fuse": "fuse", "Relay": "relay", "CircuitLoad": "load"}[part]}
	case "Wire":
		if r.circuit == nil {
			return nil
		}
		return &thing{part: part, under: r.circuit, key: "feed_wires", item: true}
	}
	if path, once := known().home[part]; once {
		if known().spare[part] { // a word alone does not say that there is one
			return nil
		}
		return single(path, part)
	}
	if path, listed := known().list[part]; listed && part != "Wire" {
		return &thing{part: part, under: root, key: path, item: true}
	}
	return nil
}

// run is a new piece of a line: suction, feed, return_line.
func (r *reader) run(line string) *thing {
	return &thing{part: "Run", under: single(line, "Line"), key: "runs", item: true}
}

// circuitOf is the circuit that supplies something.
func (r *reader) circuitOf(v *words.Value, from *token) *thing {
	c := r.circuits[v.Word]
	if c == nil {
		c = &thing{part: "Circuit", under: root, key: "circuits", item: true,
			first: []first{{"name", v.Label, []*token{from}}, {"purpose", v.Word, []*token{from}}}}
		r.circuits[v.Word] = c
	}
	return c
}

// put states a fact; why says what stands in the way, "" when nothing does.
func (r *reader) put(t *thing, key, value, taken string, from ...*token) (why string) {
	if strings.TrimSpace(remark(value)) == "" {
		return "there is nothing in it that can be read"
	}
	if kind := known().fields[leaf(t.part, key)].Kind; kind <= schema.KindQuantity {
		if err := schema.CheckIn(t.part, key, value); err != nil {
			return err.Error()
		}
	}
	if twin := r.twin(t, key); twin != "" {
		return "state it or " + twin + ", not both: they are two ways to say one thing"
	}
	if r.full(t) {
		return fmt.Sprintf("a design has at most %d items in a list and %d in all", schema.MaxItems, schema.MaxItemsInAll)
	}
	path := join(r.open(t), key)
	if known().fields[leaf(t.part, key)].Kind == schema.KindList && value != "none" {
		if r.count[path] >= schema.MaxItems {
			return fmt.Sprintf("a list has at most %d items", schema.MaxItems)
		}
		r.count[path]++
		path += "[" + strconv.Itoa(r.count[path]-1) + "]"
	}
	if old, stated := r.stated[path]; stated && old != value {
		return "another line says " + path + " is " + old
	} else if stated {
		r.understood(path, value, taken, from)
		return ""
	}
	r.stated[path] = value
	r.facts = append(r.facts, fact{path, value})
	r.understood(path, value, taken, from)
	return ""
}

// twin is another way to say a fact that is stated already; "" when none is.
func (r *reader) twin(t *thing, key string) string {
	path, known := t.where()
	if !known {
		return ""
	}
	own := schema.Path("design." + join(path, key))
	for _, f := range schema.FieldsOf(schema.TypeAt(string(own.Parent()))) {
		if f.Excludes == own.Key() || f.Key != own.Key() && schema.Describe(string(own)).Field.Excludes == f.Key {
			other := own.Sibling(f.Key).Short()
			if _, stated := r.stated[other]; stated || r.count[other] > 0 {
				return other
			}
		}
	}
	return ""
}

// full reports whether a thing that is not made yet would be one item too many.
func (r *reader) full(t *thing) bool {
	for ; t != nil && !t.made; t = t.under {
		if !t.item {
			continue
		}
		in, known := t.under.where()
		if r.items >= schema.MaxItemsInAll || known && r.count[join(in, t.key)] >= schema.MaxItems {
			return true
		}
	}
	return false
}

// where is the path of a thing; not known for an item that is not made yet, or what is in it.
func (t *thing) where() (path string, known bool) {
	if t.made {
		return t.path, true
	}
	in, known := t.under.where()
	return join(in, t.key), known && !t.item
}

// leaf is the name Type.key of a fact at a key or path below a part.
func leaf(part, key string) string {
	name := ""
	for step := range schema.Path(key).Steps() {
		name = part + "." + step.Key
		part = known().fields[name].Part
	}
	return name
}

func (r *reader) understood(path, value, taken string, from []*token) {
	text, begin, end := "", -1, -1
	for _, t := range from {
		if t == nil {
			continue
		}
		t.used = Taken
		if begin < 0 || t.from < begin {
			begin = t.from
		}
		end = max(end, t.to)
	}
	if begin >= 0 {
		text = r.out.Text[begin:end]
	}
	u := Understood{Path: path, Value: value, From: text, Taken: taken, begin: begin}
	if !slices.ContainsFunc(r.out.Understood, func(o Understood) bool { return o.Path == path && o.Value == value }) {
		r.out.Understood = append(r.out.Understood, u)
	}
}
