package derive

import (
	"fmt"

	"plumbline/schema/quantity"
)

// Point is an operating point: the state a derived value holds for.
type Point int

// The four operating points. NoPoint marks values that hold always.
const (
	NoPoint Point = iota
	Cranking
	Idle
	Cruise
	FullLoad
)

// Points lists the operating points in their usual order.
func Points() []Point { return []Point{Cranking, Idle, Cruise, FullLoad} }

// String gives the point's name in rules: cranking, idle, cruise, full_load.
func (p Point) String() string {
	return [...]string{"", "cranking", "idle", "cruise", "full_load"}[p]
}

// Meaning is the state in one line.
func (p Point) Meaning() string {
	return [...]string{"", "the starter turns the engine and the battery alone feeds everything", "the engine idles warm",
		"the vehicle rolls along at a steady road speed", "the throttle is wide open at the speed of greatest power"}[p]
}

// Kind is the type of a derived value: a quantity of some dimension, or a
// plain number, yes/no or word.
type Kind int

// The kinds of derived values.
const (
	Quantity Kind = iota
	Number
	Truth
	Text
)

// Source says where a formula comes from; Kind is law, standard, handbook, physics,
// practice or memory.
type Source struct {
	Kind  string `json:"kind"`
	Title string `json:"title"`
	Where string `json:"where,omitempty"`
}

// Entry is one derived value.
type Entry struct {
	// Name is the last part of the value's path, snake_case.
	Name string
	// On is the schema type the value belongs to: "Design", "Circuit", "Run", ...
	On string
	// PerPoint is true when the value differs by operating point.
	PerPoint bool
	// Kind and, for quantities, Dimension give the type.
	Kind      Kind
	Dimension quantity.Dimension
	// Words lists the values a Text entry can take; empty when free.
	Words []string
	// Meaning is one line, Formula the arithmetic in words or symbols.
	Meaning string
	Formula string
	// Needs names the facts and values it reads, for documentation.
	Needs []string
	// Sources says where the formula comes from.
	Sources []Source
	// Compute returns the value as float64 (SI, or plain number), bool or string.
	// It reads facts and other values only through c. What it returns is
	// discarded when c lacks something.
	Compute func(c *Calc) any
	// Working writes how a known value came out with its numbers put in, no more
	// than a few lines; its last line is the value. It is asked only to explain.
	Working func(w *Work)
	// at caches the names below a part by operating point. family numbers the
	// part among those of the index, slot the entry's first result on it.
	at           [FullLoad + 1]string
	family, slot int
}

// worked gives an entry its working.
func worked(working func(w *Work), e Entry) Entry {
	e.Working = working
	return e
}

// Path gives the value's name as rules write it, for a part at base (such as
// "design.circuits[2]"; empty for the whole design).
func (e *Entry) Path(base string, p Point) string {
	switch {
	case base != "" && base != "design":
		return base + "." + e.below(p)
	case e.PerPoint:
		return e.below(p)
	}
	return "design." + e.Name
}

// below is the value's name below its part: the name itself, or at.idle.name.
func (e *Entry) below(p Point) string {
	switch {
	case !e.PerPoint:
		return e.Name
	case e.at[p] != "":
		return e.at[p]
	}
	return "at." + p.String() + "." + e.Name
}

// Check reports what is missing or wrong in the entry itself.
func (e *Entry) Check() error {
	switch {
	case e.Name == "" || e.On == "" || e.Meaning == "" || e.Formula == "" || len(e.Sources) == 0 || e.Compute == nil:
		return fmt.Errorf("derived value %s.%s lacks a name, part, meaning, formula, source or function", e.On, e.Name)
	case e.Kind == Quantity && e.Dimension == 0:
		return fmt.Errorf("derived value %s.%s has no dimension", e.On, e.Name)
	}
	return nil
}
