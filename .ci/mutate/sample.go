package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"slices"
	"strings"
)

// shuffled orders the mutants by a hash of the seed and what they are, not of
// where they stand: an edit elsewhere does not change which ones are drawn.
func shuffled(mutants []mutant, seed int) []mutant {
	type keyed struct {
		key string
		m   mutant
	}
	times, all := map[string]int{}, make([]keyed, 0, len(mutants))
	for _, m := range mutants {
		name := strings.Join([]string{m.File, m.Text, m.Change()}, "\x00")
		times[name]++ // the same change twice in a line, or in two equal lines
		sum := sha256.Sum256(fmt.Appendf(nil, "%d\x00%s\x00%d", seed, name, times[name]))
		all = append(all, keyed{string(sum[:]), m})
	}
	slices.SortFunc(all, func(a, b keyed) int { return strings.Compare(a.key, b.key) })
	out := make([]mutant, len(all))
	for i := range all {
		out[i] = all[i].m
	}
	return out
}

// equals are mutants that make no difference, by file, line text and change, with
// the reason.
type equals map[[3]string]string

func (e equals) has(m mutant) bool {
	_, ok := e[[3]string{m.File, m.Text, m.Change()}]
	return ok
}

// readEquals reads the list: one a line, file | text of the line | change |
// reason, parted by a bar between spaces; a line that starts with # is a comment.
func readEquals(name string) (equals, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	out := equals{}
	for i, line := range strings.Split(string(data), "\n") {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.Split(line, " | ")
		if len(parts) != 4 || strings.TrimSpace(parts[3]) == "" {
			return nil, fmt.Errorf("%s:%d: write file | text of the line | change | reason", name, i+1)
		}
		out[[3]string{strings.TrimSpace(parts[0]), strings.TrimSpace(parts[1]), strings.TrimSpace(parts[2])}] = parts[3]
	}
	return out, nil
}

// stale lists the entries that fit no mutant of these packages.
func (e equals) stale(mutants []mutant, packages []string) []string {
	left := map[[3]string]bool{}
	for key := range e {
		if at := strings.LastIndex(key[0], "/"); at >= 0 && slices.Contains(packages, key[0][:at]) {
			left[key] = true
		}
	}
	for _, m := range mutants {
		delete(left, [3]string{m.File, m.Text, m.Change()})
	}
	var out []string
	for key := range left {
		out = append(out, strings.Join(key[:], " | "))
	}
	slices.Sort(out)
	return out
}
