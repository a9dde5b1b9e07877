package interview

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// candidate is something that could be asked.
type candidate struct {
	path   string
	rules  []Waiting
	danger engine.Danger
	due    string
	// class is 0 for dangers due soon, 1 for the rest that is, 2 and 3 for what is due later.
	class int
	// weight is how many rules it is good for, by the effort of answering: a rule that waits at five circuits counts a
	// fifth for each.
	weight float64
	alone  int
	// order is where it is declared, items of a list by their number.
	order string
}

func (c candidate) later() bool { return c.class >= 2 }

// candidates are what can be asked and was not skipped, the most useful first.
func (s *Session) candidates() []candidate {
	waiting := map[string]int{}
	for i := range s.report.Findings {
		if f := &s.report.Findings[i]; open(f) {
			waiting[f.Rule]++
		}
	}
	soon := engine.StageRank(s.report.Stage) + 1
	byPath := map[string]*candidate{}
	for i := range s.report.Findings {
		f := &s.report.Findings[i]
		if !open(f) {
			continue
		}
		var met []string
		for _, missing := range f.Missing {
			path := s.askable(missing)
			if path == "" || s.skipped[path] || slices.Contains(met, path) {
				continue
			}
			met = append(met, path)
			c := byPath[path]
			if c == nil {
				c = &candidate{path: path, danger: f.Danger, due: f.Due, class: math.MaxInt}
				byPath[path] = c
			}
			c.add(f, soon, 1/float64(waiting[f.Rule]))
			if len(f.Missing) == 1 {
				c.alone++
			}
		}
	}
	out := make([]candidate, 0, len(byPath))
	for _, c := range byPath {
		c.weight /= effort(field(c.path))
		c.order = order(c.path)
		out = append(out, *c)
	}
	slices.SortFunc(out, func(a, b candidate) int {
		return cmp.Or(
			a.class-b.class,
			cmp.Compare(math.Round(b.weight*1e6), math.Round(a.weight*1e6)),
			b.alone-a.alone,
			a.danger.Rank()-b.danger.Rank(),
			strings.Compare(a.order, b.order),
		)
	})
	return out
}

// add counts a finding that waits for the candidate.
func (c *candidate) add(f *engine.Finding, soon int, weight float64) {
	class := 0
	if engine.StageRank(f.Due) > soon {
		class = 2
	}
	if !f.Danger.Grave() {
		class++
	}
	c.class = min(c.class, class)
	c.weight += weight
	if f.Danger.Rank() < c.danger.Rank() {
		c.danger = f.Danger
	}
	if engine.StageRank(f.Due) < engine.StageRank(c.due) {
		c.due = f.Due
	}
	if !slices.ContainsFunc(c.rules, func(w Waiting) bool { return w.Rule == f.Rule }) {
		c.rules = append(c.rules, Waiting{Rule: f.Rule, Title: f.Title, Danger: f.Danger})
	}
}

// askable is what to ask for a missing fact: the outermost part on the way to it that may be absent, or list, of which
// nothing is stated; else the fact itself. It is "" when no answer could be given.
func (s *Session) askable(path string) string {
	for at, step := range schema.Path(path).Along() {
		whole := string(at)
		if step.Item {
			whole = string(at.Parent())
		}
		switch kind := field(whole).Kind; {
		case kind != schema.KindMaybe && kind != schema.KindList:
		case !s.stated[whole].known:
			return whole
		case s.stated[whole].absent:
			return ""
		}
	}
	f := field(path)
	if f.Kind == schema.KindPart || s.stated[path].known || s.stated[twin(path)].known || s.stated[sibling(path, f.Excludes)].known {
		return ""
	}
	return path
}

// sibling is the path of another field of the same part.
func sibling(path, key string) string { return string(schema.Path(path).Sibling(key)) }

// effort is what an answer costs: a look, a measurement or a figure from a label, a list.
func effort(f schema.FieldInfo) float64 {
	switch f.Kind {
	case schema.KindWord, schema.KindBool, schema.KindMaybe:
		return 1
	case schema.KindList:
		return 3
	}
	return 2
}

// stay is what to ask next of the best of a list: as long as there is something of the item asked about last that weighs
// half as much, that; nobody likes to take up each wire three times.
func stay(list []candidate, last string) candidate {
	best := list[0]
	item := schema.Path(last).Item()
	for _, c := range list {
		if item != "" && item.Holds(schema.Path(c.path)) && c.path != string(item) && c.class == best.class && c.weight >= best.weight/2 {
			return c
		}
	}
	return best
}
