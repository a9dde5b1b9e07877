package engine

import (
	"fmt"
	"slices"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
	"plumbline/schema/document"
)

// faulty is the error that an evaluation broke with: a slip of the pack, since what is not known and what is not there are
// no errors. Nil for all else.
func faulty(v ref.Val) *types.Err {
	e, ok := v.(*types.Err)
	if _, absent := vocabulary.AbsentPart(v); !ok || absent {
		return nil
	}
	return e
}

// fault says that a rule cannot be judged for a slip of its own, with the place of the slip in the pack.
func (j *judging) fault(r *rule.Rule, programs []*vocabulary.Program, e *types.Err, subject string) *document.Problem {
	place, path := r.Decl.Place, "rules."+r.Decl.ID
	if why, ok := vocabulary.Costly(e); ok {
		return &document.Problem{Place: place, Path: path, Message: fmt.Sprintf("%s is too costly: %s; this is a fault of the pack, not of the design", r.ID, why.Why)}
	}
	for _, p := range programs {
		if broke := faulty(p.Eval(&j.names)); broke != nil && broke.Error() == e.Error() {
			place, path = j.library.compilers[r.Pack.Pack].Where(r, p, broke.NodeID())
			break
		}
	}
	return &document.Problem{Place: place, Path: path,
		Message: fmt.Sprintf("%s cannot be judged of %s: %s; this is a fault of the pack, not of the design", r.ID, subject, e.Error())}
}

// unsaid notes a sentence that cannot be said for a slip of its own.
func (j *judging) unsaid(r *rule.Rule, s *rule.Segment, e *types.Err) {
	if j.trial {
		return
	}
	place, path := j.library.compilers[r.Pack.Pack].Where(r, s.Prog, e.NodeID())
	j.note(&document.Problem{Place: place, Path: path,
		Message: fmt.Sprintf("%s cannot say {%s}: %s; this is a fault of the pack, not of the design", r.ID, s.Expr, e.Error())})
}

// note keeps a fault, of several at one place the first.
func (j *judging) note(p *document.Problem) {
	if !slices.ContainsFunc(j.faults, func(x document.Problem) bool { return x.Place == p.Place && x.Path == p.Path }) {
		j.faults = append(j.faults, *p)
	}
}

// takeFaults parts the findings that are faults of a pack from those of the design.
func (j *judging) takeFaults() {
	if !slices.ContainsFunc(j.found, func(f *Finding) bool { return f.Fault != nil }) {
		return
	}
	var found []*Finding
	var orders []int
	for i, f := range j.found {
		if f.Fault != nil {
			j.note(f.Fault)
			continue
		}
		found, orders = append(found, f), append(orders, j.orders[i])
	}
	j.found, j.orders, j.room = found, orders, nil // the room held all of them side by side
}
