package interview

import (
	"slices"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/words"
)

// candidates are what can be asked and was not skipped, the most useful first.
func (s *Session) candidates() []engine.Ranked {
	return engine.Rank(s.report, func(missing string) string {
		if path := s.askable(missing); !s.skipped[path] && s.answerable(path) {
			return path
		}
		return ""
	})
}

// answerable reports whether somebody can know it now: nobody at a counter knows what only the maker's sheet tells.
func (s *Session) answerable(path string) bool {
	return path != "" && (s.o.All || engine.StageRank(s.report.Stage) > 0 || engine.WhereTo(s.o.Declared, path) != words.Sheet)
}

// askable is what to ask for a missing fact: the outermost part on the way to it that may be absent, or list, of which
// nothing is stated; else the fact itself. It is "" when no answer could be given.
func (s *Session) askable(path string) string {
	for at, step := range schema.Path(path).Along() {
		whole := string(at)
		if step.Item {
			whole = string(at.Parent())
		}
		switch kind := s.field(whole).Kind; {
		case kind != schema.KindMaybe && kind != schema.KindList:
		case !s.stated[whole].known:
			return whole
		case s.stated[whole].absent:
			return ""
		}
	}
	if s.stated[path].open {
		return path // whether that is all
	}
	f := s.field(path)
	if f.Kind == schema.KindPart || s.stated[path].known || s.stated[twin(path)].known || s.stated[sibling(path, f.Excludes)].known {
		return ""
	}
	return s.figureFirst(path)
}

// figureFirst is what to ask for a number that is printed behind another, the pressure at which a flow holds: the other one,
// while that is not stated.
func (s *Session) figureFirst(path string) string {
	row := s.o.Declared.Said(path)
	if row == nil || len(row.Bare.After) == 0 || slices.ContainsFunc(row.Bare.After, func(key string) bool { return s.stated[sibling(path, key)].known }) {
		return path
	}
	return sibling(path, row.Bare.After[0])
}

// sibling is the path of another field of the same part.
func sibling(path, key string) string { return string(schema.Path(path).Sibling(key)) }

// stay is what to ask next of the best of a list: as long as there is something of the item asked about last that weighs
// half as much, that; nobody likes to take up each wire three times.
func stay(list []engine.Ranked, last string) engine.Ranked {
	best := list[0]
	item := schema.Path(last).Item()
	for _, c := range list {
		if item != "" && item.Holds(schema.Path(c.Path)) && c.Path != string(item) && c.Beside(best) {
			return c
		}
	}
	return best
}
