package whatif

import (
	"slices"

	"plumbline/engine"
	"plumbline/schema"
)

// search walks the sizes of one group. Each size it looks at is first judged at a glance, with all usual values, which costs
// little; the sizes at the ends of what works are judged closely.
type search struct {
	*group
	bench judge
	depth engine.Depth
	// seen and close are what is wrong with each size, at a glance and looked at closely; nil where not judged.
	seen, close []wrongs
	// found are the findings of those looked at closely.
	found [][]engine.Finding
	// alike are the things that are wrong whatever the size, or not, once asked.
	alike map[key]bool
	// order are the sizes, those with the fewest things wrong first.
	order []int
}

// judge judges a design with other values of some facts: an engine.Bench.
type judge interface {
	Try(engine.Depth, ...engine.Change) []engine.Finding
}

// key names a finding.
type key struct{ rule, subject string }

// wrongs are the findings that are not met with one size.
type wrongs map[key]*engine.Finding

// search begins one in which sizes are looked at as closely as the depth says.
func (g *group) search(bench judge, depth engine.Depth) *search {
	n := len(g.series.Sizes)
	return &search{group: g, bench: bench, depth: depth, seen: make([]wrongs, n), close: make([]wrongs, n), found: make([][]engine.Finding, n), alike: map[key]bool{}}
}

// size finds the least that works, the most, and what is wrong beyond them. Between the two all is taken to work.
func (s *search) size() Size {
	out := Size{Facts: s.facts, Of: s.of, Stated: s.stated, Series: s.series.Name, At: s.at}
	first := s.least()
	if first < 0 {
		out.Never = s.nearest()
		return out
	}
	last := s.most(first)
	if first == 0 && last == len(s.seen)-1 {
		return out // nothing decides it
	}
	out.Least, out.Usual = s.series.Sizes[first], s.leans(first)
	if first > 0 {
		out.Below = s.worst(first - 1)
	}
	if last < len(s.seen)-1 {
		out.Most, out.Above = s.series.Sizes[last], s.worst(last+1)
	}
	return out
}

// least is the place of the smallest size that works; -1 for none.
func (s *search) least() int {
	first := -1
	for i := range s.seen {
		if s.rightAtGlance(i) && s.right(i) {
			first = i
			break
		}
	}
	for first > 0 && s.right(first-1) {
		first--
	}
	return first
}

// most is the place of the last size that works from first on.
func (s *search) most(first int) int {
	last := first
	for last+1 < len(s.seen) && s.rightAtGlance(last+1) {
		last++
	}
	for last > first && !s.right(last) {
		last--
	}
	for last+1 < len(s.seen) && s.right(last+1) {
		last++
	}
	return last
}

// changes make the thing one of the sizes.
func (s *search) changes(i int) []engine.Change {
	var out []engine.Change
	put := func(path, text string) {
		value, err := schema.ParseFact(path, text)
		if err != nil {
			panic(err) // a series is read with its facts
		}
		out = append(out, engine.Change{Path: path, Value: value})
	}
	for _, path := range s.facts {
		put(path, s.series.Sizes[i])
	}
	if s.changesAt() {
		put(s.atFact, s.at)
	}
	return out
}

func (s *search) glance(i int) wrongs {
	if s.seen[i] == nil {
		s.seen[i] = wrongIn(s.bench.Try(engine.Glance, s.changes(i)...))
	}
	return s.seen[i]
}

func (s *search) closely(i int) wrongs {
	if s.close[i] == nil {
		s.found[i] = s.bench.Try(s.depth, s.changes(i)...)
		s.close[i] = wrongIn(s.found[i])
	}
	return s.close[i]
}

func wrongIn(found []engine.Finding) wrongs {
	out := wrongs{}
	for i := range found {
		if f := &found[i]; wrong(f) {
			out[key{f.Rule, f.Subject}] = f
		}
	}
	return out
}

func (s *search) rightAtGlance(i int) bool { return s.counted(s.glance(i)) == 0 }

func (s *search) right(i int) bool { return s.counted(s.closely(i)) == 0 }

// counted is how many things are wrong that the size decides.
func (s *search) counted(w wrongs) int {
	n := 0
	for k := range w {
		if !s.whatever(k) {
			n++
		}
	}
	return n
}

// whatever reports whether something is wrong with every size, so that the size does not decide it. What is wrong with the part
// itself by numbers that follow the size is not so.
func (s *search) whatever(k key) bool {
	out, known := s.alike[k]
	if !known {
		out = s.always(k) && (schema.Path(k.subject).Section() != schema.Path(s.of).Section() || !s.moves(k))
		s.alike[k] = out
	}
	return out
}

// always looks at the sizes with the fewest things wrong first: one of them is looked at closely anyway.
func (s *search) always(k key) bool {
	if s.order == nil {
		for i := range s.seen {
			s.order = append(s.order, i)
		}
		slices.SortStableFunc(s.order, func(i, j int) int { return len(s.glance(i)) - len(s.glance(j)) })
	}
	return !slices.ContainsFunc(s.order, func(i int) bool { return s.glance(i)[k] == nil && s.closely(i)[k] == nil })
}

// moves reports whether what is wrong with every size is another thing at each: its numbers follow the size.
func (s *search) moves(k key) bool {
	said := func(i int) string {
		f := s.seen[i][k]
		if f == nil {
			f = s.close[i][k]
		}
		if f.Leaning != nil {
			return f.Leaning.AtUsual
		}
		return f.Text
	}
	for i := range s.seen[1:] {
		if said(i+1) != said(0) {
			return true
		}
	}
	return false
}

// leans reports whether that a size works rests on what is usual: some rule that rests on the size leans.
func (s *search) leans(i int) bool {
	return slices.ContainsFunc(s.found[i], func(f engine.Finding) bool { return f.Leaning != nil })
}

// nearest is what is wrong with the size that comes nearest to working: the one with the fewest things wrong.
func (s *search) nearest() *Wrong {
	best, least := 0, -1
	for i := range s.seen {
		if n := s.counted(s.closely(i)); least < 0 || n <= least {
			best, least = i, n
		}
	}
	return s.worst(best)
}

// worst is the worst thing wrong with a size that the size decides.
func (s *search) worst(i int) *Wrong {
	out := &Wrong{Size: s.series.Sizes[i]}
	var best *engine.Finding
	for k, f := range s.closely(i) {
		if !s.whatever(k) && (best == nil || f.Danger.Rank() < best.Danger.Rank() || f.Danger == best.Danger && f.Rule+f.Subject < best.Rule+best.Subject) {
			best = f
		}
	}
	if best == nil {
		return out
	}
	out.Rule, out.Text = best.Rule, best.Text
	if best.Leaning != nil {
		out.Text, out.Worst = best.Leaning.Text, best.Leaning.Lean == engine.Turns && best.Leaning.Likely == engine.Pass
	}
	return out
}

// wrong reports whether a finding is not met, or would not be with all usual values.
func wrong(f *engine.Finding) bool {
	switch {
	case f.Sense || f.Conceded != nil || engine.StageRank(f.Due) > engine.StageRank("built"): // what is entered and measured follows the part
		return false
	case f.Leaning != nil:
		return f.Leaning.Likely == engine.Warn || f.Leaning.OftenFails()
	}
	return f.Outcome == engine.Fail || f.Outcome == engine.Warn
}
