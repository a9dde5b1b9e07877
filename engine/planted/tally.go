package planted

import (
	"fmt"
	"strings"
)

// Tally counts what planted mistakes brought up.
type Tally struct {
	// Found are those that their rule found; the others count only these. Alone drew no other complaint, Near and Across
	// are as in a Result.
	Found, Alone, Near, Across int
	// Systems counts them by the system whose rule found them.
	Systems map[string]int
}

// Add counts one result.
func (t *Tally) Add(r Result) {
	if !r.Found {
		return
	}
	if t.Systems == nil {
		t.Systems = map[string]int{}
	}
	t.Found++
	t.Systems[r.System]++
	if len(r.Fresh) == 1 {
		t.Alone++
	}
	if r.Near {
		t.Near++
	}
	if r.Across {
		t.Across++
	}
}

// BySystem lists the systems with their counts, in the order of Systems.
func (t *Tally) BySystem() string {
	var out []string
	for _, s := range Systems() {
		out = append(out, fmt.Sprintf("%s %d", s.Name, t.Systems[s.Name]))
	}
	return strings.Join(out, "; ")
}
