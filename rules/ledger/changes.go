package main

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
)

// readReplaced reads which rule took the place of one that is gone, a line each: the old name, a tab, the new name or a
// dash, a tab, the reason.
func readReplaced(name string) (map[string][2]string, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	out := map[string][2]string{}
	for i, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) != 3 || strings.TrimSpace(cells[2]) == "" {
			return nil, fmt.Errorf("%s:%d: write the old name, a tab, the new name or -, a tab, the reason", name, i+1)
		}
		out[cells[0]] = [2]string{cells[1], cells[2]}
	}
	return out, nil
}

// rule says whether a library has a rule of that name.
func (l *library) rule(name string) bool {
	at := strings.LastIndexByte(name, '.')
	if at < 0 || l.Packs[name[:at]] == nil {
		return false
	}
	_, there := l.Packs[name[:at]].Items["rule "+name[at+1:]]
	return there
}

// check lists what is wrong: an edition that does not follow from the ledger, a rule that went without a word.
func check(released, now *library, changes map[string]change, replaced map[string][2]string) []string {
	var out []string
	if n := dueLibrary(released, changes); n != now.Edition {
		out = append(out, fmt.Sprintf("the library must have edition %d, not %d: run go generate ./rules", n, now.Edition))
	}
	for _, name := range slices.Sorted(maps.Keys(now.Packs)) {
		if n := due(released, now, name, changes); n != now.Packs[name].Edition {
			out = append(out, fmt.Sprintf("%s must have edition %d, not %d: run go generate ./rules", name, n, now.Packs[name].Edition))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(changes)) {
		for _, item := range changes[name].gone {
			id, isRule := strings.CutPrefix(item, "rule ")
			if _, told := replaced[name+"."+id]; isRule && !told {
				out = append(out, fmt.Sprintf("%s.%s is gone: say in rules/replaced.txt what takes its place, and why", name, id))
			}
		}
	}
	for _, old := range slices.Sorted(maps.Keys(replaced)) {
		if now.rule(old) {
			out = append(out, fmt.Sprintf("rules/replaced.txt says that %s is gone, but it is there", old))
		}
		if by := replaced[old][0]; by != "-" && !now.rule(by) {
			if _, again := replaced[by]; !again {
				out = append(out, fmt.Sprintf("rules/replaced.txt names %s, which is no rule", by))
			}
		}
	}
	return out
}

// summary lists the changes since the last release, a line a pack.
func summary(released, now *library, changes map[string]change, replaced map[string][2]string) string {
	if len(changes) == 0 {
		return nothing(released.Edition)
	}
	if released.Edition == 0 {
		return fmt.Sprintf("The first: %d packs.\n", len(now.Packs))
	}
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(changes)) {
		c := changes[name]
		switch {
		case now.Packs[name] == nil:
			fmt.Fprintf(&b, "- %s is gone", name)
		case released.Packs[name] == nil:
			fmt.Fprintf(&b, "- %s is new", name)
		default:
			fmt.Fprintf(&b, "- %s, edition %d", name, now.Packs[name].Edition)
		}
		join := ": "
		for _, part := range []struct {
			what  string
			items []string
		}{{"new", c.added}, {"changed", c.changed}, {"gone", c.gone}} {
			if len(part.items) == 0 {
				continue
			}
			said := slices.Clone(part.items)
			for i, item := range said {
				if by, told := replaced[name+"."+strings.TrimPrefix(item, "rule ")]; part.what == "gone" && told {
					said[i] = fmt.Sprintf("%s (%s)", item, strings.TrimPrefix("now "+by[0]+", ", "now -, ")+by[1])
				}
			}
			b.WriteString(join + part.what + " " + strings.Join(said, ", "))
			join = "; "
		}
		b.WriteString("\n")
	}
	return b.String()
}
