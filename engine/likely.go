package engine

import (
	"cmp"
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

const (
	// mostSuspects are how many facts of one check of sense are tried, mostLikely how many slips are named.
	mostSuspects, mostLikely = 8, 3
	// mostSenses is how many checks of sense of one design are looked into; with more, the file is not of this world.
	mostSenses = 40
)

// likely looks, for every check of sense that warns, for the slip of unit or point that would explain it: each quantity it
// read is put as it was perhaps meant, one at a time, and the rule is judged again. Of those that meet it the ones are
// named that leave the fewest checks of sense in the whole design, and of these another unit or one place of the point before
// more places. It changes no fact and no outcome.
func (j *judging) likely() {
	var warned []*Finding
	for _, f := range j.found {
		if f.Sense && f.Outcome == Warn {
			warned = append(warned, f)
		}
	}
	if len(warned) == 0 {
		return
	}
	s := &slips{judging: j, rules: map[string]*rule.Rule{}, readers: map[string][]string{}, now: map[string]int{}, left: map[slip]int{}}
	for _, r := range j.library.rules {
		if r.Decl.Sense {
			s.rules[r.ID] = r
		}
	}
	for _, f := range j.found {
		if !f.Sense {
			continue
		}
		if f.Outcome == Warn {
			s.now[f.Rule]++
		}
		for _, r := range f.Facts {
			if !slices.Contains(s.readers[r.Path], f.Rule) {
				s.readers[r.Path] = append(s.readers[r.Path], f.Rule)
			}
		}
	}
	for _, f := range warned[:min(len(warned), mostSenses)] {
		f.Likely = s.of(f)
	}
	causes(warned)
}

// slip is one fact as it was perhaps meant.
type slip struct{ path, meant string }

// slips weighs the slips of one design.
type slips struct {
	*judging
	rules map[string]*rule.Rule
	// readers are the checks of sense that read a fact.
	readers map[string][]string
	// now counts the warnings of each check of sense, left those that a slip leaves.
	now  map[string]int
	left map[slip]int
}

// of lists the slips that would explain a check of sense, the best first.
func (s *slips) of(f *Finding) []Likely {
	type candidate struct {
		Likely
		rank int
	}
	var list []candidate
	suspects := 0
	for _, r := range f.Facts {
		d := s.library.declared.Describe(r.Path).Field.Dimension
		if !d.Valid() || r.Place.IsZero() || suspects == mostSuspects {
			continue
		}
		suspects++
		for _, x := range quantity.Slips(r.Text, d) {
			other, err := s.design.Instead(r.Path, x.Text)
			if err != nil || !s.meets(other, f) {
				continue
			}
			list = append(list, candidate{Likely{r.Path, r.Text, x.Text, r.Place}, 2*s.leaves(other, slip{r.Path, x.Text}, r.Path) + far(x.Point)})
		}
	}
	for _, c := range s.columns(f) {
		for _, meant := range c.meant() {
			other, err := c.instead(s.design, meant)
			if err != nil || !s.meets(other, f) {
				continue
			}
			text := strings.Join(meant, ", ")
			list = append(list, candidate{Likely{c.path, strings.Join(c.texts, ", "), text, c.place}, 2 * s.leaves(other, slip{c.path, text}, c.paths...)})
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(a.rank, b.rank) })
	var out []Likely
	for _, c := range list {
		if c.rank == list[0].rank && len(out) < mostLikely {
			out = append(out, c.Likely)
		}
	}
	return out
}

// far is 1 for a point that has moved by more than one place.
func far(places int) int {
	if places < -1 || places > 1 {
		return 1
	}
	return 0
}

// again judges another design by some rules, as this one is judged.
func (s *slips) again(d *schema.Design, rules ...*rule.Rule) []*Finding {
	values := derive.Options{Assumptions: s.library.assumptions}
	if s.options.NoAssumptions {
		values.Assumptions = nil
	}
	j := s.library.open(d, s.options, values)
	j.rules(rules)
	return j.found
}

// meets tells whether a check of sense is gone in another design.
func (s *slips) meets(d *schema.Design, f *Finding) bool {
	return slices.ContainsFunc(s.again(d, s.rules[f.Rule]), func(x *Finding) bool { return x.Subject == f.Subject && x.Outcome == Pass })
}

// leaves counts the warnings of all checks of sense when facts are put as they were perhaps meant: only those that read them change.
func (s *slips) leaves(d *schema.Design, x slip, paths ...string) int {
	if n, known := s.left[x]; known {
		return n
	}
	var rules []*rule.Rule
	n := 0
	for _, warns := range s.now {
		n += warns
	}
	for _, path := range paths {
		for _, id := range s.readers[path] {
			if !slices.Contains(rules, s.rules[id]) {
				rules = append(rules, s.rules[id])
				n -= s.now[id]
			}
		}
	}
	for _, f := range s.again(d, rules...) {
		if f.Outcome == Warn {
			n++
		}
	}
	s.left[x] = n
	return n
}
