package whatif

import (
	"slices"

	"plumbline/engine"
	"plumbline/schema"
)

// search walks the sizes of one group. Each size it looks at is first judged with all usual values, which costs little; the sizes
// at the ends of what works are judged with all that is usual.
type search struct {
	*group
	bench judge
	// usual and whole are what is wrong with each size, with all usual values and with all that is usual; nil where not judged.
	usual, whole []wrongs
	// found are the findings with all that is usual.
	found [][]engine.Finding
	// alike are the things that are wrong whatever the size, or not, once asked.
	alike map[key]bool
	// order are the sizes, those with the fewest things wrong first.
	order []int
}

// judge judges a design with another value of some facts: an engine.Bench.
type judge interface {
	Usual(facts []string, value any) []engine.Finding
	Try(facts []string, value any) []engine.Finding
}

// key names a finding.
type key struct{ rule, subject string }

// wrongs are the findings that are not met with one size.
type wrongs map[key]*engine.Finding

func (g *group) search(bench judge) *search {
	n := len(g.series.Sizes)
	return &search{group: g, bench: bench, usual: make([]wrongs, n), whole: make([]wrongs, n), found: make([][]engine.Finding, n), alike: map[key]bool{}}
}

// size finds the least that works, the most, and what is wrong beyond them. Between the two all is taken to work.
func (s *search) size() Size {
	out := Size{Facts: s.facts, Of: s.of, Stated: s.stated, Series: s.series.Name}
	first := s.least()
	if first < 0 {
		out.Never = s.nearest()
		return out
	}
	last := s.most(first)
	if first == 0 && last == len(s.usual)-1 {
		return out // nothing decides it
	}
	out.Least, out.Usual = s.series.Sizes[first], s.leans(first)
	if first > 0 {
		out.Below = s.worst(first - 1)
	}
	if last < len(s.usual)-1 {
		out.Most, out.Above = s.series.Sizes[last], s.worst(last+1)
	}
	return out
}

// least is the place of the smallest size that works; -1 for none.
func (s *search) least() int {
	first := -1
	for i := range s.usual {
		if s.rightUsually(i) && s.right(i) {
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
	for last+1 < len(s.usual) && s.rightUsually(last+1) {
		last++
	}
	for last > first && !s.right(last) {
		last--
	}
	for last+1 < len(s.usual) && s.right(last+1) {
		last++
	}
	return last
}

// value is a size as its facts hold it.
func (s *search) value(i int) any {
	value, err := schema.ParseFact(s.facts[0], s.series.Sizes[i])
	if err != nil {
		panic(err) // a series is read with its facts
	}
	return value
}

func (s *search) usually(i int) wrongs {
	if s.usual[i] == nil {
		s.usual[i] = wrongIn(s.bench.Usual(s.facts, s.value(i)))
	}
	return s.usual[i]
}

func (s *search) wholly(i int) wrongs {
	if s.whole[i] == nil {
		s.found[i] = s.bench.Try(s.facts, s.value(i))
		s.whole[i] = wrongIn(s.found[i])
	}
	return s.whole[i]
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

func (s *search) rightUsually(i int) bool { return s.counted(s.usually(i)) == 0 }

func (s *search) right(i int) bool { return s.counted(s.wholly(i)) == 0 }

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
		for i := range s.usual {
			s.order = append(s.order, i)
		}
		slices.SortStableFunc(s.order, func(i, j int) int { return len(s.usually(i)) - len(s.usually(j)) })
	}
	return !slices.ContainsFunc(s.order, func(i int) bool { return s.usually(i)[k] == nil && s.wholly(i)[k] == nil })
}

// moves reports whether what is wrong with every size is another thing at each: its numbers follow the size.
func (s *search) moves(k key) bool {
	said := func(i int) string {
		f := s.usual[i][k]
		if f == nil {
			f = s.whole[i][k]
		}
		if f.Leaning != nil {
			return f.Leaning.AtUsual
		}
		return f.Text
	}
	for i := range s.usual[1:] {
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
	for i := range s.usual {
		if n := s.counted(s.wholly(i)); least < 0 || n <= least {
			best, least = i, n
		}
	}
	return s.worst(best)
}

// worst is the worst thing wrong with a size that the size decides.
func (s *search) worst(i int) *Wrong {
	out := &Wrong{Size: s.series.Sizes[i]}
	var best *engine.Finding
	for k, f := range s.wholly(i) {
		if !s.whatever(k) && (best == nil || f.Danger.Rank() < best.Danger.Rank() || f.Danger == best.Danger && f.Rule+f.Subject < best.Rule+best.Subject) {
			best = f
		}
	}
	if best == nil {
		return out
	}
	out.Rule, out.Text = best.Rule, best.Text
	if best.Leaning != nil {
		out.Text = best.Leaning.Text
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
