package engine

import (
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
