package rule

import (
	"slices"
	"strings"
	"sync"

	"plumbline/engine/derive"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Stricter tells which way a limit, or a column of a table, makes one rule stricter.
func (r *Rule) Stricter(name string) vocabulary.Lean {
	lean := r.leans(func(n string) vocabulary.Lean {
		switch {
		case n == name:
			return vocabulary.Up
		case strings.HasPrefix(n, "table.") && strings.HasPrefix(name, n+"."):
			return vocabulary.Both // a row, or all of the table
		}
		return vocabulary.Still
	})
	out := lean(r.Applies) // a rule that applies more often is stricter
	if lean(r.Each) != vocabulary.Still {
		return vocabulary.Both
	}
	measure := lean(r.Measure)
	for _, t := range []*Test{r.Must, r.Should} {
		if t == nil {
			continue
		}
		out |= lean(t.Condition).Opposite() // a condition easier to meet is milder
		for _, b := range t.Bounds {
			if b.Op == "at_least" || b.Op == "more_than" {
				out |= lean(b.Prog) | measure.Opposite()
			} else {
				out |= lean(b.Prog).Opposite() | measure
			}
		}
	}
	return out
}

// Straight reports whether the conditions of the rule turn once at most while a fact grows: what comes out alike at both
// ends of its range then does so all over it. A rule that measures is asked where it applies only: what it measures is
// watched. What is computed from the fact may go any way.
func (r *Rule) Straight(path string) bool {
	key := schema.Path(path).Key()
	lean := r.leans(func(name string) vocabulary.Lean {
		at := name[strings.LastIndexByte(name, '.')+1:]
		switch {
		case strings.HasPrefix(name, "limit.") || strings.HasPrefix(name, "table."):
			return vocabulary.Still
		case computed()[at], strings.HasPrefix(name, "design.own.") && name != path:
			return vocabulary.Both
		case at == key:
			return vocabulary.Up
		}
		return vocabulary.Still
	})
	if r.folds() {
		return false
	}
	conditions := []*vocabulary.Program{r.Applies}
	for _, t := range []*Test{r.Must, r.Should} {
		if t != nil && r.Measure == nil {
			conditions = append(conditions, t.Condition)
		}
	}
	return lean(r.Each) == vocabulary.Still && !slices.ContainsFunc(conditions, func(p *vocabulary.Program) bool { return lean(p) == vocabulary.Both })
}

// folds reports whether what the rule measures is a distance without its sign: it falls and rises again between two points at
// which it is the same.
func (r *Rule) folds() bool {
	if r.Measure == nil {
		return false
	}
	programs := []*vocabulary.Program{r.Measure}
	for _, l := range r.Lets {
		programs = append(programs, l.Prog)
	}
	return slices.ContainsFunc(programs, func(p *vocabulary.Program) bool { return strings.Contains(p.Text, "size_of_change") })
}

// computed are the names of all derived values.
var computed = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, e := range derive.All().Entries() {
		out[e.Name] = true
	}
	return out
})

// leans tells which way the expressions of the rule go, its lets too, when it is told of names.
func (r *Rule) leans(of func(name string) vocabulary.Lean) func(p *vocabulary.Program) vocabulary.Lean {
	lets := map[string]vocabulary.Lean{}
	lean := func(p *vocabulary.Program) vocabulary.Lean {
		if p == nil {
			return vocabulary.Still
		}
		tree, err := vocabulary.ParseTree(p.Text)
		if err != nil {
			return vocabulary.Both
		}
		return tree.Lean(func(n string) vocabulary.Lean {
			if l, is := lets[n]; is {
				return l
			}
			if root, _, part := strings.Cut(n, "."); part && lets[root] != vocabulary.Still {
				return vocabulary.Both
			}
			return of(n)
		})
	}
	for _, l := range r.Lets {
		lets[l.Name] = lean(l.Prog)
	}
	return lean
}
