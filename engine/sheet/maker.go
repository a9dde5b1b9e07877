package sheet

import (
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// maker makes one paper and notes every number it puts there.
type maker struct {
	*Job
	paper *Paper
}

func (m *maker) add(b Block) { m.paper.Blocks = append(m.paper.Blocks, b) }

func (m *maker) foot() {
	f := &m.paper.Foot
	*f = Foot{Design: m.Report.File, Revision: m.Revision, Library: m.Library, Day: m.Day, Stage: m.Report.Stage}
	for i := range m.Report.Findings {
		switch x := &m.Report.Findings[i]; {
		case x.Outcome == engine.Fail:
			f.Wrong++
		case x.Outcome == engine.Open && x.Blocks:
			f.Open++
		}
	}
}

// note keeps a number that was printed.
func (m *maker) note(text string, paths ...string) string {
	m.paper.Figures = append(m.paper.Figures, Figure{Text: text, Paths: paths})
	return text
}

// unknown is printed in the place of what nobody stated.
const unknown = "not known"

// fact prints a stated fact; an unstated one is not known.
func (m *maker) fact(f schema.Reading) Cell {
	switch {
	case f.Ranged():
		return Cell{Text: m.note(f.Text(), f.Path())}
	case !f.Known():
		return Cell{Text: unknown, Unknown: true, Blank: true, Fills: []string{f.Path()}}
	}
	return Cell{Text: m.factText(f)}
}

// done is a fact that is true or false, as a box to tick while it is not known.
func (m *maker) done(f *schema.Fact[bool]) Cell {
	switch yes, ok := f.Get(); {
	case !ok:
		return Cell{Tick: true, Fills: []string{f.Path()}}
	case yes:
		return Cell{Text: "yes"}
	}
	return Cell{Text: "no"}
}

// factText prints a stated fact; "" while it is not.
func (m *maker) factText(f schema.Reading) string {
	if !f.Known() {
		return ""
	}
	if word, ok := f.Any().(schema.Word); ok {
		return wordLabel(f.Path(), string(word))
	}
	if size, ok := f.Any().(quantity.WireSize); ok && size.SI() > 0 {
		return m.note(strings.TrimSpace(f.Text()), f.Path()) // wire is bought by the size that is printed on its reel
	}
	return m.note(derive.FactText(f.Any(), f.Text(), m.Units), f.Path())
}

// wordLabel is a word of the vocabulary as people say it.
func wordLabel(path, word string) string {
	if r := row(path); r != nil {
		if v := r.Value(word); v != nil {
			return v.Label
		}
	}
	return strings.ReplaceAll(word, "_", " ")
}

// value prints a derived value of a part, at a point where it differs by that.
func (m *maker) value(part any, p derive.Point, name string) Cell {
	r := m.Session.On(part, p, name)
	if !r.Known() {
		return Cell{Text: unknown, Unknown: true}
	}
	return Cell{Text: m.note(m.Session.Brief(r.Entry, part, p, m.Units).Text, r.Path)}
}

// row prints derived values of one dimension that are compared, in one unit; what is not known stays so.
func (m *maker) row(results []*derive.Result) []Cell {
	out := make([]Cell, len(results))
	var values []quantity.Value
	var at []int
	for i, r := range results {
		out[i] = Cell{Text: unknown, Unknown: true}
		if q, ok := r.Value().(quantity.Value); ok {
			values, at = append(values, q), append(at, i)
		}
	}
	for i, text := range quantity.Column(m.Units == quantity.US, values...) {
		out[at[i]] = Cell{Text: m.note(text, results[at[i]].Path)}
	}
	return out
}

// sum prints the sum of quantities of one dimension, each given with its path.
func (m *maker) sum(terms []term) Cell {
	total, paths := 0.0, make([]string, 0, len(terms))
	for _, t := range terms {
		total += t.value.SI()
		paths = append(paths, t.path)
	}
	if len(terms) == 0 {
		return Cell{Text: unknown, Unknown: true}
	}
	q, err := quantity.New(total, terms[0].value.Dimension())
	if err != nil {
		return Cell{Text: unknown, Unknown: true}
	}
	return Cell{Text: m.note(q.Format(m.Units), paths...)}
}

// term is one term of a sum.
type term struct {
	path  string
	value quantity.Value
}

// itoa prints a count.
func itoa(n int) string { return strconv.Itoa(n) }

// counted prints a count with its noun.
func (m *maker) counted(n int, one, many string) string {
	if n == 1 {
		return m.note("1", one) + " " + one
	}
	return m.note(itoa(n), many) + " " + many
}

// capitalised makes the first letter a capital.
func capitalised(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
