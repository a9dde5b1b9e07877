package engine

import (
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/vocabulary"
)

// readings notes what the finding rests on and, from it, where to look.
func (j *judging) readings(f *Finding, reads vocabulary.Reads) {
	for _, r := range reads.Facts {
		if !slices.ContainsFunc(f.Facts, func(x FactRead) bool { return x.Path == r.Path() }) {
			f.Facts = append(f.Facts, FactRead{r.Path(), r.Text(), r.Place()})
		}
	}
	for _, d := range reads.Derived {
		if d.Known() && !slices.ContainsFunc(f.Derived, func(x DerivedRead) bool { return x.Path == d.Path }) {
			f.Derived = append(f.Derived, DerivedRead{d.Path, j.derivedText(d)})
		}
	}
	// The line is that of the last fact read inside the subject, else the subject's own.
	for _, r := range f.Facts {
		if strings.HasPrefix(r.Path, f.Subject+".") && !r.Place.IsZero() {
			f.Place = r.Place
		}
	}
}

func (j *judging) derivedText(r *derive.Result) string {
	text, ok := j.texts[r.Path]
	if !ok {
		text = j.number(vocabulary.Native(r.Value())).Text
		j.texts[r.Path] = text
	}
	return text
}

func (j *judging) fill(parts []segment) string {
	var b strings.Builder
	for _, s := range parts {
		b.WriteString(s.text)
		if s.prog != nil {
			b.WriteString(j.words(s.prog.Eval(&j.names)))
		}
	}
	return b.String()
}
