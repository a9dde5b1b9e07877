package planted

import (
	"fmt"
	"slices"
	"strings"
)

// Mistake is one mistake planted in a clean build.
type Mistake struct {
	// Name says it in short.
	Name string
	// Design is the build's file.
	Design string
	// Change is one fact, "path=value", or the facts that one mistake moves together, parted by "; ".
	Change string
	// Finds is the complaint that must follow, as "fail rule" or "warn rule"; of a change within a limit "pass rule".
	Finds string
	// Companions are the only other complaints that may follow: they see the same physical cause.
	Companions []string
}

// Read reads a list of mistakes, one a line: name, design, change, complaint
// and perhaps companions parted by "; ", with tabs between. Lines that begin
// with # are left out. Names are distinct, and so are designs with changes.
func Read(text string) ([]Mistake, error) { return readLines(text, "fail", "warn") }

// ReadWithin reads a list of changes that stay just within a limit: as Read, but the fourth cell is "pass rule", the rule
// whose limit it is, and there are no companions.
func ReadWithin(text string) ([]Mistake, error) { return readLines(text, "pass") }

func readLines(text string, outcomes ...string) ([]Mistake, error) {
	var out []Mistake
	seen := map[string]bool{}
	for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) < 4 || len(cells) > 5 {
			return nil, fmt.Errorf("line %d of the planted mistakes: write name, design, change and complaint with tabs between", i+1)
		}
		for _, cell := range cells {
			if strings.TrimSpace(cell) == "" {
				return nil, fmt.Errorf("line %d of the planted mistakes has an empty cell", i+1)
			}
		}
		m := Mistake{Name: cells[0], Design: cells[1], Change: cells[2], Finds: cells[3]}
		if len(cells) == 5 {
			m.Companions = strings.Split(cells[4], "; ")
		}
		for _, complaint := range append([]string{m.Finds}, m.Companions...) {
			if kind, rule, _ := strings.Cut(complaint, " "); !slices.Contains(outcomes, kind) || rule == "" {
				return nil, fmt.Errorf("line %d of the planted mistakes: %q is not %s with a rule", i+1, complaint, strings.Join(outcomes, " or "))
			}
		}
		change := m.Design + "\t" + m.Change
		if seen[m.Name] || seen[change] {
			return nil, fmt.Errorf("line %d of the planted mistakes: %s is there already", i+1, m.Name)
		}
		seen[m.Name], seen[change] = true, true
		out = append(out, m)
	}
	return out, nil
}
