package sheet

import (
	"slices"

	"plumbline/engine"
	"plumbline/schema"
)

// mostAsked are how many questions a slip asks.
const mostAsked = 3

// asks are the questions whose answers can change the decision most, among those that someone at the counter can know:
// what parts turn at first, then the most useful facts of what was named.
func (b *builder) asks(parts []Part) []Ask {
	var out []Ask
	add := func(path string, waiting int) {
		if len(out) < mostAsked && askable(path) && !slices.ContainsFunc(out, func(a Ask) bool { return a.Path == path }) {
			out = append(out, Ask{Path: path, Question: question(path), Rules: waiting})
		}
	}
	for _, p := range parts {
		if p.Turn != nil && !p.Turn.Stated {
			add(p.Turn.Path, len(p.Rules))
		}
	}
	soon := func(q *engine.Question) bool { return q.Alone > 0 }
	for i := range b.report.Asked {
		if q := &b.report.Asked[i]; soon(q) {
			add(q.Path, len(q.Rules))
		}
	}
	return out
}

// askable reports whether someone at a counter can answer.
func askable(path string) bool {
	switch schema.Describe(path).Field.Kind {
	case schema.KindWord, schema.KindBool, schema.KindMaybe, schema.KindInt:
		return true
	}
	return false
}

func question(path string) string { return schema.Describe(path).Doc }
