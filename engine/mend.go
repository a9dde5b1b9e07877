package engine

import (
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/internal/rule"
)

// remedy picks what to do, by its place in the list.
func (j *judging) remedy(r *rule.Rule) int {
	last := len(r.Mend) - 1
	for i := range last {
		if r.Mend[i].When.Eval(&j.names) == types.True {
			return i
		}
	}
	return last
}

// unsaid lists the remedies that no case of a rule brought about.
func unsaid(r *rule.Rule, said map[int]bool) []string {
	var out []string
	for i := range r.Decl.Mend {
		if len(r.Decl.Mend) > 1 && !said[i] {
			out = append(out, strings.TrimSpace(r.Decl.Mend.Lines()[i]))
		}
	}
	return out
}
