package rule

import "plumbline/engine/vocabulary"

// Stricter tells which way a limit makes one rule stricter.
func (r *Rule) Stricter(name string) vocabulary.Lean {
	lets := map[string]vocabulary.Lean{}
	of := func(n string) vocabulary.Lean {
		if n == name {
			return vocabulary.Up
		}
		return lets[n]
	}
	lean := func(p *vocabulary.Program) vocabulary.Lean {
		if p == nil {
			return vocabulary.Still
		}
		tree, err := vocabulary.ParseTree(p.Text)
		if err != nil {
			return vocabulary.Both
		}
		return tree.Lean(of)
	}
	for _, l := range r.Lets {
		lets[l.Name] = lean(l.Prog)
	}
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
