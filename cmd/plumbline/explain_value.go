package main

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/report"
	"plumbline/schema"
)

// writer writes how names came out in a design.
type writer struct {
	*report.Printer
	*inDesign
	// described are the derived values whose formula and sources were written.
	described map[string]bool
	// workedOut is the first derived value that a rule reads.
	workedOut string
}

func (w *writer) here(h *here) {
	if h.Note != "" {
		w.line(1, h.Note)
	}
	for i, s := range h.Values {
		if i > 0 {
			w.Blank()
		}
		// The page says what it is, by what formula and source.
		w.described[entryKey(s)] = true
		w.value(s)
	}
	for i := range h.Rules {
		if i > 0 {
			w.Blank()
		}
		w.account(&h.Rules[i])
	}
	if w.workedOut != "" {
		w.Blank()
		w.line(1, "How a value was worked out: plumbline explain "+w.workedOut+" "+w.design.Place().File)
	}
	for _, f := range h.Facts {
		w.line(1, short(f.Path)+" = "+f.Text+" "+bracket(&f.Place))
	}
}

// line writes a line two columns further in for each step, up to twelve steps.
func (w *writer) line(depth int, text string) {
	indent := 2 * min(depth, 12)
	w.Para(indent, indent+2, text)
}

// value writes the account of one derived value.
func (w *writer) value(s *derive.Step) {
	w.step(s, 1)
	var assumed []string
	var visit func(s *derive.Step)
	visit = func(s *derive.Step) {
		if s.Assumed && !slices.Contains(assumed, s.Path) {
			assumed = append(assumed, s.Path)
			w.line(1, "Assumed: "+short(s.Path)+" = "+s.Text+groundsOf(w.library.AssumedBecause(s.Path)))
		}
		for _, in := range s.Inputs {
			visit(in)
		}
	}
	visit(s)
	if len(s.Missing) > 0 {
		w.line(1, "To know it, state:")
		for _, path := range s.Missing {
			w.line(2, w.howToState(path))
		}
	}
}

func groundsOf(list []engine.Ground) string {
	var out []string
	for _, g := range list {
		out = append(out, report.GroundWords(g))
	}
	if len(out) == 0 {
		return ""
	}
	return ", because of " + strings.Join(out, "; ")
}

// entryKey names the derived value of a step, whatever its part and point.
func entryKey(s *derive.Step) string {
	if e := s.Entry(); e != nil {
		return e.On + "." + e.Name
	}
	return s.Path
}

// step writes a derived value and what it was computed from.
func (w *writer) step(s *derive.Step, depth int) {
	text := w.named(s.Path) + " = " + s.Text
	if s.Above {
		w.line(depth, text+" (shown above)")
		return
	}
	if key := entryKey(s); w.described[key] {
		w.line(depth, text)
	} else {
		w.described[key] = true
		w.line(depth, text+": "+s.Meaning)
		w.line(depth+1, "formula: "+s.Formula)
		w.line(depth+1, "source: "+sourceWords(s.Sources))
	}
	switch {
	case s.Absent != "":
		w.line(depth+1, absentWords(s.Absent)+" "+bracketAt(w.design, s.Absent))
	case s.Reason != "":
		w.line(depth+1, "out of reach: "+s.Reason)
	}
	for _, why := range s.Bounds {
		w.line(depth+1, why)
	}
	if len(s.Together) > 0 {
		var parts []string
		for _, t := range s.Together {
			parts = append(parts, t.Path[strings.LastIndexByte(t.Path, '.')+1:]+" "+t.Text)
		}
		w.line(depth+1, "solved together with it: "+strings.Join(parts, ", "))
	}
	w.facts(s.Inputs, depth+1)
	for _, in := range s.Inputs {
		if in.Entry() != nil {
			w.step(in, depth+1)
		}
	}
}

// facts writes the facts among the inputs of a value, those of one part together.
func (w *writer) facts(inputs []*derive.Step, depth int) {
	var order []string
	groups := map[string][]*derive.Step{}
	for _, in := range inputs {
		if in.Entry() != nil {
			continue
		}
		part := partOf(in.Path)
		if groups[part] == nil {
			order = append(order, part)
		}
		groups[part] = append(groups[part], in)
	}
	for _, part := range order {
		w.factGroup(part, groups[part], depth)
	}
	var above []string
	for _, part := range order {
		var keys []string
		for _, f := range groups[part] {
			list := strings.TrimSuffix(f.Path, listIndex(f.Path))
			if key := strings.TrimPrefix(list, part+"."); f.Above && !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
		if len(keys) > 0 {
			above = append(above, short(part)+" "+strings.Join(keys, ", "))
		}
	}
	if len(above) > 0 {
		w.line(depth, "and, shown above: "+strings.Join(above, "; "))
	}
}

// partOf is what a fact is told with: the item of a list it lies in, else its part.
func partOf(path string) string {
	path = strings.TrimSuffix(path, listIndex(path))
	if i := strings.LastIndexByte(path, ']'); i >= 0 {
		return path[:i+1]
	}
	return path[:strings.LastIndexByte(path, '.')]
}

// listIndex is the index at the end of a path such as runs_at[2]; empty when there is none.
func listIndex(path string) string {
	if !strings.HasSuffix(path, "]") {
		return ""
	}
	return path[strings.LastIndexByte(path, '['):]
}

// factGroup writes the facts of one part that were not shown; the file is named with the first of them.
func (w *writer) factGroup(part string, facts []*derive.Step, depth int) {
	var told []string
	line, file := 0, ""
	for i := 0; i < len(facts); i++ {
		f := facts[i]
		if f.Above {
			continue
		}
		list := strings.TrimSuffix(f.Path, listIndex(f.Path))
		text := strings.TrimPrefix(list, part+".") + " " + f.Text
		// The items of a list of words are told as one.
		for f.Path != list && i+1 < len(facts) && strings.HasPrefix(facts[i+1].Path, list+"[") {
			i++
			text += ", " + facts[i].Text
		}
		switch {
		case f.Assumed:
			text += " [assumed]"
		case f.Place == nil:
			text = strings.TrimPrefix(list, part+".") + " not stated"
		case f.Place.File != file:
			text += " " + bracket(f.Place)
		case f.Place.Line != line:
			text += fmt.Sprintf(" [:%d]", f.Place.Line)
		}
		if f.Place != nil {
			file, line = f.Place.File, f.Place.Line
		}
		told = append(told, text)
	}
	if len(told) > 0 {
		w.line(depth, w.named(part)+": "+strings.Join(told, "; "))
	}
}

// named is a path with the name that the design gives the part, or the nearest named part around it: circuits[1], fuel
// pump; circuits[1].feed_wires[0] (fuel pump).
func (w *writer) named(path string) string {
	if label := w.labels[path]; label != "" {
		return short(path) + ", " + label
	}
	for end := strings.LastIndexByte(path, ']') + 1; end > 0; end = strings.LastIndexByte(path[:end-1], ']') + 1 {
		if label := w.labels[path[:end]]; label != "" {
			return short(path) + " (" + label + ")"
		}
	}
	return short(path)
}

// short is a path as it is laid out in a design file.
func short(path string) string { return schema.Path(path).Short() }

// bracket writes a place as file and line.
func bracket(p *schema.Place) string {
	switch {
	case p == nil || p.IsZero():
		return "[not written]"
	case p.Line == 0:
		return "[" + p.File + "]"
	}
	return fmt.Sprintf("[%s:%d]", p.File, p.Line)
}

func bracketAt(d *schema.Design, path string) string {
	place := d.PlaceOf(path)
	return bracket(&place)
}

// absentWords say why a value does not apply: a part that is not there, or a fact that rules it out.
func absentWords(path string) string {
	if schema.Describe(path).Field.Kind == schema.KindMaybe {
		return "does not apply: the design says there is none: " + short(path)
	}
	return "does not apply, because of " + short(path)
}

// sourceWords say where a formula comes from.
func sourceWords(list []derive.Source) string {
	var out []string
	for _, s := range list {
		text := s.Title
		if s.Where != "" {
			text += ", " + s.Where
		}
		out = append(out, report.GroundWords(engine.Ground{Standing: s.Kind, Text: text}))
	}
	return strings.Join(out, "; ")
}
