package derive

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// WorkLine is one line of a working: how a value, or one on the way to it, came
// out, with the numbers put in.
type WorkLine struct {
	// Of says what the line works out.
	Of string `json:"of"`
	// Text is the formula with its numbers, Is what comes out, as printed; empty
	// where the line only tells where a number stands.
	Text string `json:"text"`
	Is   string `json:"is,omitempty"`
	// Value is what comes out in SI units, or a plain number.
	Value     float64 `json:"value,omitempty"`
	Dimension string  `json:"dimension,omitempty"`
	// Path is the derived value whose working the line belongs to; Sources, on its last line, say where its formula comes from.
	Path    string   `json:"path"`
	Sources []Source `json:"sources,omitempty"`
}

// Worked is the working of one value.
type Worked struct {
	// Lines end in the value; none where it has no working.
	Lines []WorkLine
	// Facts are those whose numbers stand in the lines, stated or assumed.
	Facts []Input
	// Rests are the derived values whose numbers stand in the lines.
	Rests []*Result
}

// String is the line as it is printed.
func (l WorkLine) String() string {
	text := l.Of + ": " + l.Text
	if l.Is != "" {
		text += " = " + l.Is
	}
	return text
}

// Working tells how a known value came out from what it read itself, its
// numbers in the given units; the last line ends in the value. It is empty for
// a value that is not known, is known only between bounds, or whose entry has
// no working yet.
func (s *Session) Working(e *Entry, part any, p Point, units quantity.System) Worked {
	r := s.Evaluate(e, part, p)
	if e.Working == nil || !r.Known() || r.bounded != nil && len(s.Span(r)) > 1 {
		return Worked{}
	}
	if !e.PerPoint {
		p = NoPoint
	}
	c := s.begin(e, part, p)
	w := &Work{Calc: c, entry: e, units: units, operands: units, path: r.Path}
	if units == quantity.Both {
		w.operands = s.ownUnits()
	}
	e.Working(w)
	lacks := c.Lacks()
	out := Worked{Lines: w.lines, Facts: w.facts(), Rests: w.rests()}
	s.end(c, &Result{})
	if lacks || len(out.Lines) == 0 {
		return Worked{}
	}
	out.Lines[len(out.Lines)-1].Sources = e.Sources
	return out
}

// facts are the numbers that were read for the lines, each once.
func (w *Work) facts() []Input {
	var out []Input
	for _, r := range w.session.reads[w.base:] {
		if _, derived := r.(*Result); derived {
			continue
		}
		in := inputOf(r)
		if _, word := in.Value.(schema.Word); word || strings.HasSuffix(in.Path, "]") {
			continue
		}
		if !slices.ContainsFunc(out, func(o Input) bool { return o.Path == in.Path }) {
			out = append(out, in)
		}
	}
	return out
}

// manyAlike are so many values of one kind that their workings would bury the rest.
const manyAlike = 3

// rests are the derived values that were read for the lines, each once.
func (w *Work) rests() []*Result {
	if w.by != nil {
		return w.by
	}
	var out []*Result
	alike := map[*Entry]int{}
	for _, r := range w.session.reads[w.base:] {
		if d, ok := r.(*Result); ok && d.Entry != nil && d.Path != w.path && !slices.Contains(out, d) {
			out = append(out, d)
			alike[d.Entry]++
		}
	}
	return slices.DeleteFunc(out, func(d *Result) bool { return alike[d.Entry] >= manyAlike || slices.Contains(w.together, d.Name) })
}

// Work writes the working of one value: it reads as Compute does.
type Work struct {
	*Calc
	entry *Entry
	// units are those of what comes out, operands those of what goes in: of one
	// system, so that a reader can check the line.
	units, operands quantity.System
	path            string
	lines           []WorkLine
	// by are the values that decide, where not all that were read do.
	by []*Result
	// together are values solved with this one: their workings lead round in a circle.
	together []string
}

// put writes a number of a dimension as a line's operand.
func (w *Work) put(d quantity.Dimension, si float64) string {
	q, err := quantity.New(si, d)
	if err != nil {
		return fmt.Sprint(si)
	}
	return q.Format(w.operands)
}

// size writes a wire's size as the design does: by gauge or by area.
func (w *Work) size(f *schema.Fact[quantity.WireSize]) string {
	size := Get(w.Calc, f)
	if isAmerican(f.Text()) {
		return size.Format(quantity.US)
	}
	return size.Format(quantity.Metric)
}

// celsius writes a temperature that a formula holds for.
func (w *Work) celsius(degrees float64) string {
	return w.put(quantity.DimTemperature, degrees+273.15)
}

// number writes a plain number.
func (w *Work) number(v float64) string { return valueText(v) }

// line adds a line that works out a value of a dimension.
func (w *Work) line(of string, d quantity.Dimension, si float64, format string, args ...any) {
	l := WorkLine{Of: of, Text: fmt.Sprintf(format, args...), Value: si, Path: w.path}
	if q, err := quantity.New(si, d); err == nil {
		l.Is, l.Dimension = q.Format(w.units), d.String()
	}
	w.lines = append(w.lines, l)
}

// plain adds a line that works out a plain number.
func (w *Work) plain(of string, v float64, format string, args ...any) {
	w.lines = append(w.lines, WorkLine{Of: of, Text: fmt.Sprintf(format, args...), Is: valueText(v), Value: v, Path: w.path})
}

// note adds a line that works out nothing.
func (w *Work) note(of, format string, args ...any) {
	w.lines = append(w.lines, WorkLine{Of: of, Text: fmt.Sprintf(format, args...), Path: w.path})
}

// comes adds the last line: the value itself, of the entry's dimension.
func (w *Work) comes(si float64, format string, args ...any) {
	of := strings.ReplaceAll(w.entry.Name, "_", " ")
	if w.entry.Dimension == 0 {
		w.plain(of, si, format, args...)
		return
	}
	w.line(of, w.entry.Dimension, si, format, args...)
}

// value is the value whose working it is.
func (w *Work) value() float64 { return w.Calc.number(w.session.Evaluate(w.entry, w.on, w.point)) }

// sum writes terms with their names, the largest first where there are more
// than most; the others are taken together.
func (w *Work) sum(d quantity.Dimension, terms []term, most int) string {
	if len(terms) > most {
		terms = largest(terms, most)
	}
	var b strings.Builder
	for i, text := range w.row(d, terms) {
		t := terms[i]
		switch {
		case i > 0 && t.si < 0:
			b.WriteString(" - ")
		case i > 0:
			b.WriteString(" + ")
		case t.si < 0:
			b.WriteString("-")
		}
		b.WriteString(strings.TrimSuffix(text+" "+t.name, " "))
	}
	return b.String()
}

// row writes the terms without their signs, in one unit.
func (w *Work) row(d quantity.Dimension, terms []term) []string {
	var values []quantity.Value
	for _, t := range terms {
		q, err := quantity.New(abs(t.si), d)
		if err != nil {
			return make([]string, len(terms))
		}
		values = append(values, q)
	}
	return quantity.Row(w.operands, values...)
}

// term is one named part of a sum, in SI units.
type term struct {
	name string
	si   float64
}

// largest keeps the largest terms but one in their order and joins the rest.
func largest(terms []term, most int) []term {
	kept := make([]bool, len(terms))
	for range most - 1 {
		best := -1
		for i, t := range terms {
			if !kept[i] && (best < 0 || abs(t.si) > abs(terms[best].si)) {
				best = i
			}
		}
		kept[best] = true
	}
	var out []term
	rest, n := 0.0, 0
	for i, t := range terms {
		if kept[i] {
			out = append(out, t)
			continue
		}
		rest, n = rest+t.si, n+1
	}
	return append(out, term{fmt.Sprintf("in the %d others", n), rest})
}

func abs(x float64) float64 { return max(x, -x) }

// ownUnits is unitsOf the session's design, counted once.
func (s *Session) ownUnits() quantity.System {
	if s.mostly == nil {
		u := unitsOf(s.design)
		s.mostly = &u
	}
	return *s.mostly
}

// unitsOf is the system of units that most of a design is written in.
func unitsOf(d *schema.Design) quantity.System {
	american, metric := 0, 0
	schema.Walk(d, func(v schema.Visit) {
		q, ok := v.Reading.Any().(interface {
			Format(quantity.System) string
			Dimension() quantity.Dimension
		})
		if !ok || !schema.IsStated(v.Reading) || q.Format(quantity.US) == q.Format(quantity.Metric) {
			return
		}
		if isAmerican(v.Reading.Text()) {
			american++
		} else {
			metric++
		}
	})
	if american > metric {
		return quantity.US
	}
	return quantity.Metric
}
