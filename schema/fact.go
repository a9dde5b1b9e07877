package schema

import "plumbline/schema/document"

// Place is where something stands in a file; lines and columns count from 1.
// The zero Place means nowhere: the thing was never written down.
type Place = document.Place

// Word is one of the spellings a fact's `words` tag lists.
type Word string

// Date is a calendar day, written 2026-11-25.
type Date string

// Fact is one value a design may state: a quantity, a word, a number, a text,
// a date or a yes/no. A fact that is not stated is unknown: not zero, not
// false, not empty. A quantity or whole number may be stated as a range; its
// value is not known then, its span is.
type Fact[T any] struct {
	value T
	known bool
	// span is set instead of the value where the fact is a range.
	span  *span[T]
	text  string
	path  string
	place Place
}

// Stated makes a known fact without a place, for designs built in Go.
func Stated[T any](value T) Fact[T] { return Fact[T]{value: value, known: true} }

// Get returns the value and whether it is stated; that of a range is not.
func (f Fact[T]) Get() (T, bool) { return f.value, f.known }

// Known reports whether the fact is stated as one value.
func (f Fact[T]) Known() bool { return f.known }

// Path is the fact's full name, such as design.pump.place.
func (f Fact[T]) Path() string { return f.path }

// Place is where the value stands in its file.
func (f Fact[T]) Place() Place { return f.place }

// Text is the value as written.
func (f Fact[T]) Text() string {
	if f.text == "" && f.known {
		return textOf(f.value) // put there by Put
	}
	return f.text
}

// Any returns the value without its type; nil when not stated.
func (f Fact[T]) Any() any {
	if !f.known {
		return nil
	}
	return f.value
}

// Reading is what every Fact[T] offers, for code that walks a design without
// knowing the types.
type Reading interface {
	Known() bool
	Path() string
	Place() Place
	Text() string
	Any() any
	// Ranged reports whether the fact is stated as a range. It is not known then.
	Ranged() bool
	// Ends are those of Span without their type; nil when the fact is no range.
	Ends() (low, usual, high any)
}

// factSetter is the loader's side of a Fact.
type factSetter interface {
	valuePointer() any
	state(text string, at Place)
	stateRange(low, usual, high any, text string, at Place)
	stamp(path string)
}

func (f *Fact[T]) valuePointer() any { return &f.value }
func (f *Fact[T]) state(text string, at Place) {
	f.span, f.text, f.place, f.known = nil, text, at, true
}
func (f *Fact[T]) stamp(path string) { f.path = path }

// Node is embedded in every part of a design; it holds where the part stands.
type Node struct {
	path   string
	place  Place
	stated bool
}

// Path is the part's full name, such as design.feed.runs[2].
func (n Node) Path() string { return n.path }

// Place is where the part begins in its file.
func (n Node) Place() Place { return n.place }

// Stated reports whether anything of the part was written.
func (n Node) Stated() bool { return n.stated }

func (n *Node) node() *Node { return n }

// nodal is any part: a struct that embeds Node.
type nodal interface{ node() *Node }

// Presence says whether a part that may be absent is there.
type Presence int

// A part is not mentioned, said to be absent (`none`), or described.
const (
	NotStated Presence = iota
	Absent
	Present
)

// Maybe is a part the vehicle may do without: `catalyst: none` states that
// there is none. Part is usable in every state; its facts are unknown unless
// it is Present.
type Maybe[T any] struct {
	Part     T
	presence Presence
	path     string
	place    Place
}

// Having makes a part that is there, for designs built in Go.
func Having[T any](part T) Maybe[T] { return Maybe[T]{Part: part, presence: Present} }

// Without states that there is no such part, for designs built in Go.
func Without[T any]() Maybe[T] { return Maybe[T]{presence: Absent} }

// Presence reports what the design says.
func (m *Maybe[T]) Presence() Presence { return m.presence }

// Path is the part's full name.
func (m *Maybe[T]) Path() string { return m.path }

// Place is where the part, or its `none`, stands.
func (m *Maybe[T]) Place() Place { return m.place }

// Optional is what every *Maybe[T] offers to code that walks a design.
type Optional interface {
	Presence() Presence
	Path() string
	Place() Place
}

type maybeSetter interface {
	Optional
	partPointer() any
	setPresence(p Presence, at Place)
	stamp(path string)
}

func (m *Maybe[T]) partPointer() any                 { return &m.Part }
func (m *Maybe[T]) setPresence(p Presence, at Place) { m.presence, m.place = p, at }
func (m *Maybe[T]) stamp(path string)                { m.path = path }

// List is a list of parts, or of plain values when T is a Fact. A list that
// is not stated is unknown; an empty one, or `none`, states that there are none.
// One that is open holds what was named so far; see OpenLists.
type List[T any] struct {
	Items []T
	known bool
	open  bool
	path  string
	place Place
}

// ListOf makes a stated list, for designs built in Go; without items it states that there are none.
func ListOf[T any](items ...T) List[T] { return List[T]{Items: items, known: true} }

// Known reports whether the list is stated, and all there is.
func (l *List[T]) Known() bool { return l.known && !l.open }

// Open reports whether something of the list is named and perhaps not all.
func (l *List[T]) Open() bool { return l.known && l.open }

// Path is the list's full name.
func (l *List[T]) Path() string { return l.path }

// Place is where the list begins.
func (l *List[T]) Place() Place { return l.place }

// Listing is what every *List[T] offers to code that walks a design.
type Listing interface {
	Known() bool
	Open() bool
	Path() string
	Place() Place
	// Len is how many items are stated.
	Len() int
}

type listSetter interface {
	Listing
	grow() any
	item(i int) any
	setKnown(at Place)
	setOpen(open bool)
	stamp(path string)
}

func (l *List[T]) grow() any {
	var zero T
	l.Items = append(l.Items, zero)
	return &l.Items[len(l.Items)-1]
}

// Len is how many items are stated.
func (l *List[T]) Len() int          { return len(l.Items) }
func (l *List[T]) item(i int) any    { return &l.Items[i] }
func (l *List[T]) setKnown(at Place) { l.known, l.place = true, at }
func (l *List[T]) setOpen(open bool) { l.open = open }
func (l *List[T]) stamp(path string) { l.path = path }
