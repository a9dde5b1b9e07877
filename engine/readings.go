package engine

import (
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// roomSize is how many readings room is made for at a time.
const roomSize = 256

// readings notes what the finding rests on and, from it, where to look.
func (j *judging) readings(f *Finding, reads vocabulary.Reads) {
	j.facts = grown(j.facts, len(reads.Facts))
	for _, r := range reads.Facts {
		path := r.Path()
		if !slices.ContainsFunc(j.facts, func(x FactRead) bool { return x.Path == path }) {
			j.facts = append(j.facts, FactRead{path, r.Text(), r.Place()})
		}
	}
	f.Facts, j.facts = cut(j.facts)
	j.values = grown(j.values, len(reads.Derived))
	for _, d := range reads.Derived {
		if d.Known() && !slices.ContainsFunc(j.values, func(x DerivedRead) bool { return x.Path == d.Path }) {
			j.values = append(j.values, DerivedRead{d.Path, j.number(vocabulary.Native(d.Value())).Text})
		}
	}
	f.Derived, j.values = cut(j.values)
	// The line is that of the last fact read inside the subject, else the subject's own.
	for i := range f.Facts {
		r := &f.Facts[i]
		if within, ok := strings.CutPrefix(r.Path, f.Subject); ok && strings.HasPrefix(within, ".") && !r.Place.IsZero() {
			f.Place = r.Place
		}
	}
}

// grown is an empty list with room for n more.
func grown[T any](list []T, n int) []T {
	if cap(list) < n {
		return make([]T, 0, max(n, roomSize))
	}
	return list[:0]
}

// cut parts a list from the room behind it; an empty list is nil.
func cut[T any](list []T) (own, room []T) {
	if len(list) == 0 {
		return nil, list
	}
	return slices.Clip(list), list[len(list):]
}

// fill writes a sentence.
func (j *judging) fill(parts []rule.Segment) string {
	if len(parts) == 1 && parts[0].Prog == nil {
		return parts[0].Text
	}
	j.line = j.line[:0]
	for _, s := range parts {
		j.line = append(j.line, s.Text...)
		if s.Prog != nil {
			j.line = append(j.line, j.said(&s)...)
		}
	}
	return string(j.line)
}

// said is what a placeholder says. An item whose name nobody gave is called by its kind, or where that is not known either by
// its place in the list, as nameless does.
func (j *judging) said(s *rule.Segment) string {
	v := s.Prog.Eval(&j.names)
	if e := faulty(v); e != nil {
		j.unsaid(j.judged, s, e)
	}
	if own := j.names.own; types.IsUnknown(v) && len(own) > 0 && s.Expr == own[0].name+".name" {
		if label := vocabulary.NameOf(own[0].value); label != "" {
			return label
		}
	}
	return j.words(v)
}
