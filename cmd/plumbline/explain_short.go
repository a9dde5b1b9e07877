package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
	"plumbline/schema"
)

// A short explanation is one sentence and then few lines.
const (
	shortLines = 10
	// mostValues and mostFindings are told one by one, the others counted.
	mostValues   = 15
	mostFindings = 6
	mostSources  = 2
	mostToState  = 3
	mostFrom     = 6
)

// deepOnly are the facets of a rule that its tree tells and its short explanation does not: how it is written.
var deepOnly = []string{"Judges each", "Is about", "Applies when", "Measures", "When met", "Take care", "Catches", "Tables"}

// shortFacets are the facets of a name for a short explanation: all where they are few lines, else the first of each.
func shortFacets(x *explanation) (list []glossary.Facet, cut bool) {
	lines := 0
	for _, f := range x.Facets {
		lines += len(f.Text)
	}
	if lines <= shortLines {
		return x.Facets, false
	}
	for _, f := range x.Facets {
		if f.Label == "Says" {
			f.Text = []string{namesInWords(f.Text[0])}
		}
		switch {
		case f.Label == "Must be" || f.Label == "Should be":
			if !slices.ContainsFunc([]string{"at ", "more than ", "less than "}, func(p string) bool { return strings.HasPrefix(f.Text[0], p) }) {
				cut = true
				continue
			}
			f.Text = []string{strings.Join(f.Text, " and ")}
		case x.Kind == "rule" && (slices.Contains(deepOnly, f.Label) || strings.HasPrefix(f.Label, "With ") || strings.HasPrefix(f.Label, "Proved by")):
			cut = true
			continue
		case len(f.Text) > 1:
			most := 2
			if len(x.Facets) < 3 {
				most = shortLines - 1
			}
			if more := len(f.Text) - most; more > 0 {
				f = glossary.Facet{Label: f.Label, Text: []string{strings.Join(f.Text[:most], "; ") + fmt.Sprintf("; and %d more", more)}}
				cut = true
			} else {
				f = glossary.Facet{Label: f.Label, Text: []string{strings.Join(f.Text, "; ")}}
			}
		}
		list = append(list, f)
	}
	return list, cut
}

var inBraces = regexp.MustCompile(`\{[^{}]*\}`)

// namesInWords writes a rule's sentence with what stands in it in words: {at.idle.fuel_demand} becomes [fuel demand].
func namesInWords(text string) string {
	return inBraces.ReplaceAllStringFunc(text, func(s string) string {
		s = strings.Trim(s, "{}")
		return "[" + strings.ReplaceAll(s[strings.LastIndexByte(s, '.')+1:], "_", " ") + "]"
	})
}

// shorter tells how names came out in a design, in short.
type shorter struct{ *writer }

func (s *shorter) explain(x *explanation) {
	h := x.Here
	if len(h.Short) == 1 {
		s.value(&h.Short[0])
		return
	}
	s.Para(0, 2, x.Name+": "+x.Title)
	if x.Kind == "fact" || x.Kind == "part of a design" {
		list, _ := shortFacets(x)
		s.facets(list)
	}
	if h.Note != "" {
		s.line(1, h.Note)
	}
	if len(h.Short) > 0 {
		s.values(h.Short)
	}
	if h.Rule != nil {
		s.rule(h.Rule)
	}
	for _, f := range h.Facts {
		s.line(1, short(f.Path)+" = "+f.Text+" "+bracket(&f.Place))
	}
}

// facets writes what there is to say of a name.
func (w *writer) facets(list []glossary.Facet) {
	for _, f := range list {
		if len(f.Text) == 1 {
			w.Para(2, 4, f.Label+": "+f.Text[0])
			continue
		}
		w.Para(2, 4, f.Label+":")
		for _, line := range f.Text {
			w.Para(4, 6, line)
		}
	}
}

// values tells each of several values in a line, and the working of one.
func (s *shorter) values(list []explain.Value) {
	for i := range list {
		if i == mostValues {
			s.line(1, fmt.Sprintf("and %d more", len(list)-mostValues))
			break
		}
		s.line(1, valueSentence(s.writer, &list[i]))
	}
	// That of the last is told: full load of the operating points.
	for i := range slices.Backward(list) {
		if v := &list[i]; len(v.Working) > 0 {
			s.line(1, "How "+s.named(v.Path)+" came out:")
			s.working(v.Working, 2)
			return
		}
	}
}

// valueSentence is a value in one sentence, or what keeps it from one.
func valueSentence(w *writer, v *explain.Value) string {
	text := w.named(v.Path) + " is " + v.Text
	switch {
	case v.Absent != "":
		text += ": it " + absentWords(v.Absent)
	case len(v.Missing) > 0:
		text += ", for want of " + shortList(v.Missing)
	case len(v.Why) > 0:
		text += ": " + strings.Join(v.Why, "; ")
	}
	return text + "."
}

// value tells one value: a sentence, its working, what it rests on.
func (s *shorter) value(v *explain.Value) {
	text := strings.TrimSuffix(valueSentence(s.writer, v), ".")
	if v.Text != derive.NotKnown {
		text += ": " + v.Meaning
	}
	s.line(0, text+".")
	switch {
	case len(v.Working) > 0:
		s.working(v.Working, 1)
	case v.Text != derive.NotKnown:
		s.line(1, "by: "+v.Formula)
	}
	var from []string
	for _, f := range v.Facts {
		place := "assumed"
		if f.Place != nil {
			place = placeInFile(s.design, *f.Place)
		}
		from = append(from, short(f.Path)+" "+f.Text+" ["+place+"]")
	}
	s.listed("From: ", from, 1)
	s.toState(v.Missing, "To know it, state:", 1)
	s.assumed(v.Assumed, 1)
	if v.Text == derive.NotKnown {
		return
	}
	list, more := v.Sources, ""
	if len(list) > mostSources {
		more = fmt.Sprintf("; and %d more", len(list)-mostSources)
		list = list[:mostSources]
	}
	s.line(1, "Source: "+sourceWords(list)+more)
}

// listed writes the first of a list in a line and counts the rest.
func (s *shorter) listed(lead string, list []string, depth int) {
	if more := len(list) - mostFrom; more > 1 {
		list = append(slices.Clone(list[:mostFrom]), fmt.Sprintf("and %d more", more))
	}
	if len(list) > 0 {
		s.line(depth, lead+strings.Join(list, "; "))
	}
}

// placeInFile is a place of the design: its line, with the file where that is another.
func placeInFile(d *schema.Design, p schema.Place) string {
	if p.File == d.Place().File && p.Line > 0 {
		return fmt.Sprintf(":%d", p.Line)
	}
	return strings.Trim(bracket(&p), "[]")
}

// toState says what to state, and how, of the first of the missing facts.
func (s *shorter) toState(missing []string, lead string, depth int) {
	for i, path := range missing {
		switch {
		case i == 0:
			s.line(depth, lead)
		case i == mostToState:
			s.line(depth+1, fmt.Sprintf("and %d more", len(missing)-i))
			return
		}
		s.line(depth+1, s.howToState(path))
	}
}

// assumed names what was assumed, one with its grounds, several without.
func (s *shorter) assumed(paths []string, depth int) {
	var list []string
	for _, path := range paths {
		value, _, _ := s.session.Assumption(path)
		list = append(list, short(path)+" = "+derive.FactText(value, "", s.options.Units))
	}
	switch len(list) {
	case 0:
	case 1:
		s.line(depth, "Rests on an assumption: "+list[0]+groundsOf(s.library.AssumedBecause(paths[0])))
	default:
		s.line(depth, "Rests on assumptions: "+strings.Join(list, ", "))
	}
}

// working writes the lines of a working.
func (s *shorter) working(lines []derive.WorkLine, depth int) {
	for _, l := range lines {
		s.line(depth, l.String())
	}
}

// rule tells how a rule came out: what is wrong first, then what is open and what is met, and how many it is not about.
func (s *shorter) rule(r *explain.Rule) {
	for i := range r.Judged {
		if i == mostFindings {
			s.line(1, fmt.Sprintf("and %d more: %s", len(r.Judged)-i, outcomeCounts(r.Judged[i:])))
			break
		}
		s.finding(&r.Judged[i], i == 0)
	}
	if n := len(r.NotApplicable); n > 0 {
		var names []string
		for i := range r.NotApplicable {
			f := &r.NotApplicable[i]
			name := short(f.Subject)
			if f.SubjectName != "" {
				name = f.SubjectName
			}
			if i == mostFacts {
				names = append(names, fmt.Sprintf("%d more", n-i))
				break
			}
			names = append(names, name)
		}
		s.line(1, "Does not apply to "+strings.Join(names, ", ")+".")
	}
}

func outcomeCounts(list []explain.Judged) string {
	var order []engine.Outcome
	count := map[engine.Outcome]int{}
	for i := range list {
		if count[list[i].Outcome] == 0 {
			order = append(order, list[i].Outcome)
		}
		count[list[i].Outcome]++
	}
	var out []string
	for _, o := range order {
		out = append(out, fmt.Sprintf("%d %s", count[o], strings.ToLower(report.OutcomeWord(o))))
	}
	return strings.Join(out, ", ")
}

// finding tells one finding; at length with what it rests on, what to do and why.
func (s *shorter) finding(j *explain.Judged, long bool) {
	where := short(j.Subject)
	if j.SubjectName != "" {
		where += ", " + j.SubjectName
	}
	s.line(1, where+": "+report.OutcomeWord(j.Outcome)+": "+j.Text+" "+bracket(&j.Place))
	if n := report.Numbers(&j.Finding); n != "" {
		s.line(2, n+".")
	}
	if l := j.Leaning; l != nil {
		s.line(2, report.LeaningWords(l))
	}
	if !long {
		return
	}
	s.working(j.Working, 2)
	var from []string
	for _, f := range j.Facts {
		from = append(from, short(f.Path)+" "+f.Text+" ["+placeInFile(s.design, f.Place)+"]")
	}
	s.listed("From: ", from, 2)
	s.assumed(j.Assumed, 2)
	s.toState(j.Missing, "To settle it, state:", 2)
	if j.Outcome != engine.Pass && j.Remedy != "" {
		s.line(2, "Do: "+j.Remedy)
	}
	if because := j.Because; len(because) > 0 {
		var why []string
		for i, g := range because {
			if i == mostSources {
				why = append(why, fmt.Sprintf("and %d more", len(because)-i))
				break
			}
			why = append(why, report.GroundWords(g))
		}
		s.line(2, "Why: "+strings.Join(why, "; "))
	}
}
