package derive

import (
	"strings"

	"plumbline/schema"
)

// Named finds the derived value that a path names, at.idle.pump_voltage, design.measured.expected_can_flow or
// design.circuits[0].at.idle.load_voltage, by the part of the design it belongs to; nil for none.
func Named(path string) (e *Entry, part string, p Point) {
	for _, point := range Points() {
		if name, is := strings.CutPrefix(path, "at."+point.String()+"."); is {
			return All().Find("Design", name), "design", point
		}
		if of, name, is := strings.Cut(path, ".at."+point.String()+"."); is {
			return All().Find(schema.TypeAt(of), name), of, point
		}
	}
	part = string(schema.Path(path).Parent())
	return All().Find(schema.TypeAt(part), schema.Path(path).Key()), part, NoPoint
}

// Named evaluates the derived value that a path names; nil when there is none in the design.
func (s *Session) Named(path string) *Result {
	e, part, p := Named(path)
	if e == nil {
		return nil
	}
	if part == "design" {
		return s.Evaluate(e, s.design, p)
	}
	if on := schema.PartOf(s.design.At(part)); on != nil {
		return s.Evaluate(e, on, p)
	}
	return nil
}
