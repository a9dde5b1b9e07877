package engine

import (
	"cmp"
	"slices"
)

// causes gives checks of sense that warn, and that one stated fact explains, that fact as their cause: the fact that explains
// the most first, each warning once. A fact explains a warning when a slip of it would. Where no slip explains a warning, a
// fact that some check finds out of the ordinary all by itself explains those others that read it.
func causes(warned []*Finding) {
	alone := map[string]bool{}
	for _, f := range warned {
		if facts := f.stated(); len(f.Likely) == 0 && len(facts) == 1 {
			alone[facts[0].Path] = true
		}
	}
	left := slices.Clone(warned)
	for {
		by := map[string][]*Finding{}
		var order []string
		for _, f := range left {
			for _, path := range f.explainedBy(alone) {
				if by[path] == nil {
					order = append(order, path)
				}
				by[path] = append(by[path], f)
			}
		}
		if len(order) == 0 {
			return
		}
		// The first of the greatest.
		best := slices.MaxFunc(order, func(a, b string) int { return cmp.Compare(len(by[a]), len(by[b])) })
		group := by[best]
		if len(group) < 2 {
			return
		}
		c := causeOf(best, group)
		for _, f := range group {
			f.Cause = c
		}
		left = slices.DeleteFunc(left, func(f *Finding) bool { return f.Cause != nil })
	}
}

// stated are the facts read that stand in a file.
func (f *Finding) stated() []FactRead {
	return slices.DeleteFunc(slices.Clone(f.Facts), func(r FactRead) bool { return r.Place.IsZero() })
}

// explainedBy lists the facts that explain a check of sense, each once.
func (f *Finding) explainedBy(alone map[string]bool) []string {
	var out []string
	for _, l := range f.Likely {
		if !slices.Contains(out, l.Path) {
			out = append(out, l.Path)
		}
	}
	if len(f.Likely) > 0 {
		return out
	}
	for _, r := range f.stated() {
		if alone[r.Path] {
			out = append(out, r.Path)
		}
	}
	return out
}

// causeOf is a fact with the slips of it that explain the most of a group.
func causeOf(path string, group []*Finding) *Cause {
	out, most := &Cause{Path: path}, 0
	count := map[string]int{}
	var order []string
	for _, f := range group {
		for _, r := range f.Facts {
			if r.Path == path {
				out.Stated, out.Place = r.Text, r.Place
			}
		}
		for _, l := range f.Likely {
			if l.Path != path {
				continue
			}
			out.Stated, out.Place = l.Stated, l.Place
			if count[l.Meant] == 0 {
				order = append(order, l.Meant)
			}
			count[l.Meant]++
			most = max(most, count[l.Meant])
		}
	}
	for _, meant := range order {
		if count[meant] == most {
			out.Meant = append(out.Meant, meant)
		}
	}
	return out
}
