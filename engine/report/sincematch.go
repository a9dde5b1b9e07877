package report

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// match finds for every finding of now the one of then that is about the same
// thing: its index, or -1. No finding of then is used twice.
//
// Findings that share their rule and the names of their subject (two hoses that
// are both called hose) are told apart by what was found, then by their paths;
// what is left after that counts as another thing, so that nothing new hides
// behind a name.
func match(then, now []*engine.Finding) []int {
	pairs := slices.Repeat([]int{-1}, len(now))
	used := make([]bool, len(then))
	pair := func(n, t int) { pairs[n], used[t] = t, true }

	names, namesNow := subjectNames(then), subjectNames(now)
	groups := map[string][]int{}
	for t, f := range then {
		key := identity(f, names)
		groups[key] = append(groups[key], t)
	}
	groupsNow := map[string][]int{}
	for n, f := range now {
		key := identity(f, namesNow)
		groupsNow[key] = append(groupsNow[key], n)
	}
	for n, f := range now {
		key := identity(f, namesNow)
		if old := groups[key]; len(old) == 1 && len(groupsNow[key]) == 1 {
			pair(n, old[0])
			continue
		}
		for _, t := range groups[key] {
			if !used[t] && content(then[t]) == content(f) {
				pair(n, t)
				break
			}
		}
	}
	for n, f := range now {
		for _, t := range groups[identity(f, namesNow)] {
			if pairs[n] < 0 && !used[t] && then[t].Subject == f.Subject {
				pair(n, t)
			}
		}
	}
	pairByPath(then, now, pairs, used)
	return pairs
}

// pairByPath pairs what has no name on one of the two sides, or the same name under a parent that was renamed.
func pairByPath(then, now []*engine.Finding, pairs []int, used []bool) {
	byPath := map[string]int{}
	for t, f := range then {
		if !used[t] {
			byPath[f.Rule+"\n"+f.Subject] = t
		}
	}
	for n, f := range now {
		t, ok := byPath[f.Rule+"\n"+f.Subject]
		if !ok || pairs[n] >= 0 || used[t] {
			continue
		}
		if was := then[t].SubjectName; was == "" || f.SubjectName == "" || was == f.SubjectName {
			pairs[n], used[t] = t, true
		}
	}
}

// subjectNames are the names of the list items that findings are about, by path.
func subjectNames(list []*engine.Finding) map[string]string {
	out := map[string]string{}
	for _, f := range list {
		if f.SubjectName != "" {
			out[f.Subject] = f.SubjectName
		}
	}
	return out
}

// identity is the rule and the subject of a finding, with names in the place of
// indices where the items have one: names stay when an item is inserted.
func identity(f *engine.Finding, names map[string]string) string {
	var b strings.Builder
	b.WriteString(f.Rule)
	b.WriteByte('\n')
	rest := f.Subject
	for {
		open, end := strings.IndexByte(rest, '['), strings.IndexByte(rest, ']')
		if open < 0 || end < open {
			break
		}
		done := f.Subject[:len(f.Subject)-len(rest)+end+1]
		if name := names[done]; name != "" {
			b.WriteString(rest[:open] + "[name " + name + "]")
		} else {
			b.WriteString(rest[:end+1])
		}
		rest = rest[end+1:]
	}
	b.WriteString(rest)
	return b.String()
}

// content is what was found, without the indices of lists.
func content(f *engine.Finding) string {
	parts := []string{string(f.Outcome), f.Text}
	for _, path := range f.Missing {
		parts = append(parts, string(schema.Path(path).Generic()))
	}
	for _, r := range f.Facts {
		parts = append(parts, string(schema.Path(r.Path).Generic())+" "+r.Text)
	}
	return strings.Join(parts, "\n")
}
