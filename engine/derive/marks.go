package derive

import "plumbline/schema"

// Marks joins the marks of the facts that a value rests on, down through the values it was computed from.
func (s *Session) Marks(r *Result) uint64 {
	if r.marked {
		return r.marks
	}
	r.marked = true
	for _, in := range r.reads {
		switch in := in.(type) {
		case *Result:
			r.marks |= s.Marks(in)
		case *assumed:
			r.marks |= s.MarkOf(in.fact)
		case schema.Reading:
			r.marks |= s.MarkOf(in)
		}
	}
	return r.marks
}

// Follow tells the facts that a value rests on, down through the values it was computed from, but for those already followed.
func (r *Result) Follow(followed map[*Result]bool, fact func(path string)) {
	if followed[r] {
		return
	}
	followed[r] = true
	for _, in := range r.reads {
		switch in := in.(type) {
		case *Result:
			in.Follow(followed, fact)
		case *assumed:
			fact(in.fact.Path())
		case schema.Reading:
			fact(in.Path())
		}
	}
}

// MarkOf is the mark of a fact, 0 for none.
func (s *Session) MarkOf(fact schema.Reading) uint64 { return s.options.Marks[fact.Path()] }

// Marking reports whether facts have marks.
func (s *Session) Marking() bool { return s.options.Marks != nil }

// Forget drops the values, in all worlds, that rest on facts with any of the marks: those facts have changed.
func (s *Session) Forget(marks uint64) {
	if s.others != nil {
		for _, other := range s.others.sessions {
			if other != s {
				other.forget(marks)
			}
		}
	}
	s.forget(marks)
}

func (s *Session) forget(marks uint64) {
	for _, kept := range s.values {
		for i, r := range kept {
			if r != nil && s.Marks(r)&marks != 0 {
				kept[i] = nil
			}
		}
	}
	for k, r := range s.memos {
		if s.Marks(r)&marks != 0 {
			delete(s.memos, k)
		}
	}
}
