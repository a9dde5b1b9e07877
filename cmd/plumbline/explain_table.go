package main

import (
	"bufio"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
	"plumbline/schema/quantity"
)

// partValues are the derived values of one part of a design.
type partValues struct {
	Part   string         `json:"part"`
	Name   string         `json:"name,omitempty"`
	Type   string         `json:"type"`
	Values []*derive.Step `json:"values"`
}

// explainAll lists every derived value of a design.
func (c *Command) explainAll(arg string, f explainFlags) error {
	units, err := unitSystem(f.units)
	if err != nil {
		return err
	}
	lib, err := c.shop.OpenToProve(f.rules)
	if err != nil {
		return err
	}
	in, err := c.inDesign(arg, lib, units, f)
	if err != nil {
		return err
	}
	all := in.all()
	if f.asJSON {
		return c.printJSON(all)
	}
	// The printer writes through the same buffer, so paragraphs and rows keep their order.
	out := bufio.NewWriter(c.Stdout)
	w := &writer{Printer: report.NewPrinter(out, c.width(f.width), false), inDesign: in}
	for i := range all {
		if i > 0 && !(all[i].brief() && all[i-1].brief() && all[i].Type == all[i-1].Type) {
			w.Blank()
		}
		t := table{writer: w, out: out, width: c.width(f.width), part: &all[i]}
		t.print()
	}
	if err := w.Flush(); err != nil {
		return exit.Failure(err)
	}
	return nil
}

// brief says whether the values of the part fit in a line: all are known and none differs by operating point.
func (p *partValues) brief() bool {
	return !slices.ContainsFunc(p.Values, func(s *derive.Step) bool { return s.Entry().PerPoint || s.Value == nil })
}

// all works out every derived value of every part the design has.
func (d *inDesign) all() []partValues {
	var types []string
	for _, e := range derive.All().Entries() {
		if !slices.Contains(types, e.On) {
			types = append(types, e.On)
		}
	}
	own := map[string][]*derive.Entry{}
	for _, v := range d.library.Values() {
		if own[v.Entry.On] == nil {
			types = append(types, v.Entry.On)
		}
		own[v.Entry.On] = append(own[v.Entry.On], v.Entry)
	}
	var out []partValues
	for _, on := range types {
		for _, part := range explain.Parts(d.design, on) {
			path := part.(interface{ Path() string }).Path()
			p := partValues{Part: path, Name: d.labels[path], Type: on}
			for _, e := range append(derive.All().Of(on), own[on]...) {
				for _, at := range glossary.PointsOf(e) {
					p.Values = append(p.Values, d.session.Brief(e, part, at, d.options.Units))
				}
			}
			out = append(out, p)
		}
	}
	return out
}

// table prints the values of one part: those that differ by operating point in columns, the others below.
type table struct {
	*writer
	out   *bufio.Writer
	width int
	part  *partValues
	// notes say why there is no value, each once.
	notes []string
}

// row is a value at the four points; a cell has a line for each system of units.
type row struct {
	name  string
	cells [][]string
}

func (t *table) print() {
	head := t.named(t.part.Part)
	if t.part.Part == "design" {
		head = "The whole design"
	}
	if !t.part.brief() {
		t.Para(0, 2, head)
	}
	var rows []row
	var always []string
	for i := 0; i < len(t.part.Values); i++ {
		s := t.part.Values[i]
		e := s.Entry()
		if !e.PerPoint {
			always = append(always, e.Name+" "+strings.Join(t.cell(s), " = "))
			continue
		}
		r := row{name: e.Name}
		for _, at := range t.part.Values[i : i+len(derive.Points())] {
			r.cells = append(r.cells, t.cell(at))
		}
		i += len(derive.Points()) - 1
		rows = append(rows, r)
	}
	if len(rows) > 0 {
		t.rows(rows)
	}
	switch {
	case t.part.brief():
		t.Para(0, 2, head+": "+strings.Join(always, "; "))
	case len(always) > 0:
		t.line(1, "at all times: "+strings.Join(always, "; "))
	}
	for i, n := range t.notes {
		t.line(1, fmt.Sprintf("(%d) %s", i+1, n))
	}
}

// cell writes a value, or the number of the note that says why there is none.
func (t *table) cell(s *derive.Step) []string {
	if s.Value != nil || len(s.Between) > 0 {
		// A value known between bounds has two ends.
		var us, metric []string
		for end := range strings.SplitSeq(s.Text, " to ") {
			own, other, both := strings.Cut(end, " (")
			if !both || t.options.Units != quantity.Both {
				return []string{s.Text}
			}
			us, metric = append(us, own), append(metric, strings.TrimSuffix(other, ")"))
		}
		return []string{strings.Join(us, " to "), strings.Join(metric, " to ")}
	}
	note := s.Reason
	switch {
	case s.Absent != "":
		note = absentWords(s.Absent)
	case note == "":
		note = t.waitsFor(s.Missing)
	}
	// The column says at which point.
	note, _, _ = strings.Cut(note, ", not at ")
	i := slices.Index(t.notes, note)
	if i < 0 {
		i = len(t.notes)
		t.notes = append(t.notes, note)
	}
	return []string{fmt.Sprintf("(%d)", i+1)}
}

// rows prints the values of the operating points, as columns where the line is long enough.
func (t *table) rows(rows []row) {
	points := derive.Points()
	widths := make([]int, len(points)+1)
	fit := func(column int, text string) { widths[column] = max(widths[column], utf8.RuneCountInString(text)) }
	for i, p := range points {
		fit(i+1, p.String())
	}
	for _, r := range rows {
		fit(0, r.name)
		for i, lines := range r.cells {
			for _, l := range lines {
				fit(i+1, l)
			}
		}
	}
	total := 2
	for _, w := range widths {
		total += w + 2
	}
	if total > t.width {
		for _, r := range rows {
			var parts []string
			for i, lines := range r.cells {
				parts = append(parts, points[i].String()+" "+strings.Join(lines, " = "))
			}
			t.line(1, r.name+": "+strings.Join(parts, "; "))
		}
		return
	}
	line := func(cells []string) {
		var b strings.Builder
		b.WriteString("  ")
		for i, c := range cells {
			b.WriteString(c)
			b.WriteString(strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c)+2))
		}
		t.out.WriteString(strings.TrimRight(b.String(), " ") + "\n")
	}
	head := []string{""}
	for _, p := range points {
		head = append(head, strings.ReplaceAll(p.String(), "_", " "))
	}
	line(head)
	for _, r := range rows {
		for n := 0; ; n++ {
			cells, any := []string{r.name}, n == 0
			if n > 0 {
				cells[0] = ""
			}
			for _, lines := range r.cells {
				text := ""
				if n < len(lines) {
					text, any = lines[n], true
				}
				cells = append(cells, text)
			}
			if !any {
				break
			}
			line(cells)
		}
	}
}
