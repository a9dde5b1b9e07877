package engine

import (
	"sync"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// marks are those of the facts that findings rest on.
type marks struct {
	sync.Mutex
	// of are those of each finding; what the list of a rule rests on has no subject.
	of map[pointKey]uint64
	// laws are those of the facts by which a law binds.
	laws map[*rule.Binding]uint64
}

func newMarks() *marks { return &marks{of: map[pointKey]uint64{}, laws: map[*rule.Binding]uint64{}} }

// mark notes what a finding rests on.
func (j *judging) mark(r *rule.Rule, subject string, reads vocabulary.Reads) {
	if j.marks == nil {
		return
	}
	out := j.marksOf(reads)
	for i := range r.Grounds {
		out |= j.marks.laws[r.Grounds[i].Law]
	}
	j.marks.of[pointKey{r.ID, subject}] |= out
}

// marksOf joins the marks of all that was read.
func (j *judging) marksOf(reads vocabulary.Reads) (out uint64) {
	s := j.scope.Session()
	for _, fact := range reads.Facts {
		out |= s.MarkOf(fact)
	}
	for _, values := range [][]*derive.Result{reads.Derived, reads.Decided} {
		for _, value := range values {
			out |= s.Marks(value)
		}
	}
	return out
}

// join adds the marks of another judging, which is done.
func (m *marks) join(other *marks) {
	if m == nil || other == nil {
		return
	}
	m.Lock()
	defer m.Unlock()
	for k, x := range other.of {
		m.of[k] |= x
	}
}

// byRule joins the marks of all findings of each rule.
func (m *marks) byRule() map[string]uint64 {
	out := map[string]uint64{}
	for k, x := range m.of {
		out[k.rule] |= x
	}
	return out
}

// untouched reports whether what a rule finds of a subject rests on nothing that is changed now, so that it is as before. What a
// rule that goes through a list finds may always be otherwise where the list is.
func (b *Bench) untouched(rule, subject string) bool {
	if b == nil || b.changed == 0 || b.lists[rule] || b.marks.of[pointKey{rule, ""}]&b.changed != 0 {
		return false
	}
	mark, known := b.marks.of[pointKey{rule, subject}]
	return known && mark&b.changed == 0
}
