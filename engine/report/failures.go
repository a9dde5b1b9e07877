package report

import (
	"fmt"
	"strings"
)

// Failure is one way a conversion is known to fail.
type Failure struct {
	// ID is its number: FM062.
	ID string
	// Words say it in short.
	Words string
	// Unseen is why no rule can catch it; empty when one does.
	Unseen string
}

// ReadFailures reads known failures, a line each: number, words and, where no
// rule can catch it, the reason, parted by tabs.
func ReadFailures(text string) ([]Failure, error) {
	var out []Failure
	seen := map[string]bool{}
	for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		cells := strings.Split(line, "\t")
		if len(cells) < 2 || len(cells) > 3 || cells[0] == "" || cells[1] == "" || len(cells) == 3 && cells[2] == "" {
			return nil, fmt.Errorf("line %d of the known failures: number, words and perhaps a reason are expected, parted by tabs", i+1)
		}
		if seen[cells[0]] {
			return nil, fmt.Errorf("line %d of the known failures: %s is there already", i+1, cells[0])
		}
		seen[cells[0]] = true
		f := Failure{ID: cells[0], Words: cells[1]}
		if len(cells) == 3 {
			f.Unseen = cells[2]
		}
		out = append(out, f)
	}
	return out, nil
}
