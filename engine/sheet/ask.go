package sheet

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// mostAsked are how many questions a slip asks.
const mostAsked = 3

// asks are the questions whose answers can change the decision most, among those that someone at the counter can know:
// what parts turn at first, then what most rules of the parts in hand wait for, then the rest.
func (b *builder) asks(parts []Part) []Ask {
	var out []Ask
	add := func(path string, waiting int) {
		if len(out) < mostAsked && atCounter(path) && !slices.ContainsFunc(out, func(a Ask) bool { return a.Path == path || a.Question == b.asking(path) }) {
			out = append(out, Ask{Path: path, Question: b.asking(path), Rules: waiting})
		}
	}
	for _, p := range parts {
		if p.Turn != nil && !p.Turn.Stated {
			add(p.Turn.Path, len(p.Rules))
		}
	}
	for i := range b.report.Asked {
		if q := &b.report.Asked[i]; b.begun(q.Path) && !b.wants(q.Path) {
			add(q.Path, len(q.Rules))
		}
	}
	return out
}

// atCounter reports whether someone at a counter can answer: it is printed on a part, seen, or known to the customer.
func atCounter(path string) bool {
	r := row(path)
	if r == nil {
		return false
	}
	switch schema.Describe(path).Field.Kind {
	case schema.KindMaybe:
		return strings.Count(path, ".") == 1 // a part of the vehicle, there or not
	case schema.KindList, schema.KindPart:
		return false
	}
	owner := ownerOf(path)
	if len(path) > len(owner) && strings.Contains(path[len(owner)+1:], ".") {
		return false // of something on the part: its ends, its fuse
	}
	return r.Where.AtCounter()
}

// question asks for a fact: what it is called, how to find it, and the answers where there are few.
func question(path string) string {
	r := row(path)
	text := r.Label
	if schema.Describe(path).Field.Kind == schema.KindMaybe {
		return "Is there a " + strings.TrimPrefix(text, "a ") + "?"
	}
	if len(r.Values) > 0 && len(r.Values) <= 4 {
		var answers []string
		for _, v := range r.Values {
			answers = append(answers, v.Label)
		}
		text += ": " + strings.Join(answers, " / ") + "?"
	} else if how := strings.TrimSuffix(r.How, "."); how != "" && !strings.EqualFold(how, text) {
		text += ": " + r.How
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// wants reports whether a part is among what is to be added anyway.
func (b *builder) wants(path string) bool {
	return slices.ContainsFunc(b.report.Findings, func(f engine.Finding) bool {
		return f.Wanting != nil && f.Wanting.Outcome == engine.Fail && b.counts(&f) && slices.Contains(f.Missing, path)
	})
}

// asking is the question with the name of the part it is about, where it does not say that itself.
func (b *builder) asking(path string) string {
	owner, text := ownerOf(path), question(path)
	name := b.name(owner)
	if owner == path || strings.Contains(strings.ToLower(text), strings.ToLower(name)) {
		return text
	}
	return strings.ToUpper(name[:1]) + name[1:] + ", " + strings.ToLower(text[:1]) + text[1:]
}
