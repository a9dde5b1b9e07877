package engine

import (
	"github.com/google/cel-go/common/types"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// remedy picks what to do, by its place in the list.
func (j *judging) remedy(r *rule.Rule) int {
	last := len(r.Mend) - 1
	for i := range last {
		v := r.Mend[i].When.Eval(&j.names)
		if e := faulty(v); e != nil && !j.trial {
			j.note(j.fault(r, []*vocabulary.Program{r.Mend[i].When}, e, r.Decl.About))
		}
		if v == types.True {
			return i
		}
	}
	return last
}
