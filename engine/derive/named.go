package derive

import (
	"strings"

	"plumbline/schema"
)

// Named finds the derived value that a path names, at.idle.pump_voltage or design.measured.expected_can_flow, by the part of
// the design it belongs to; nil for none. The path leads to no item of a list.
func Named(path string) (e *Entry, part string, p Point) {
	for _, point := range Points() {
		if name, is := strings.CutPrefix(path, "at."+point.String()+"."); is {
			return All().Find("Design", name), "design", point
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
	if on := s.design.At(part); on != nil {
		return s.Evaluate(e, on, p)
	}
	return nil
}
