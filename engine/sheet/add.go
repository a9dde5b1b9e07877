package sheet

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// missing reports whether a finding is about a list as a whole: what it lacks is to be added, no piece of it is wrong.
func missing(f *engine.Finding) bool {
	switch f.Subject {
	case "design.feed", "design.suction", "design.return_line":
		return !f.Numeric
	}
	return strings.HasSuffix(f.Subject, ".runs")
}

// lacks reports whether what fails is that a part within the one it is about was named as none, and nothing else was looked
// at: that part is to be added, whatever more is wrong with the rest.
func (b *builder) lacks(f *engine.Finding) bool {
	if f.Numeric {
		return false
	}
	none := false
	for _, r := range f.Facts {
		maybe, ok := b.design.At(r.Path).(schema.Optional)
		none = none || ok && maybe.Presence() == schema.Absent && strings.HasPrefix(r.Path, f.Subject+".")
	}
	return none
}

// wanted is what is missing altogether: what fails of parts that nobody has in hand, and what would if nothing more were fitted.
func (b *builder) wanted(parts []Part) []Wanted {
	var out []Wanted
	hand := inHand(b.design)
	told := func(f *engine.Finding) bool {
		return slices.ContainsFunc(parts, func(p Part) bool { return p.Subject == b.owner(f) && p.Text == f.Text })
	}
	for i := range b.report.Findings {
		f := &b.report.Findings[i]
		if f.Outcome == engine.Fail && b.counts(f) && (!slices.Contains(hand, b.owner(f)) || b.lacks(f) && !told(f)) {
			out = append(out, Wanted{Subject: f.Subject, Text: f.Text, Do: f.Remedy, Rules: []string{f.Rule}})
			continue
		}
		if f.Wanting == nil || !b.counts(f) || !b.begun(f.Subject) || f.Wanting.Outcome != engine.Fail || f.Leaning != nil && f.Leaning.Lean == engine.WouldFail {
			continue
		}
		at := slices.IndexFunc(out, func(w Wanted) bool { return w.Do == f.Wanting.Remedy })
		if at >= 0 {
			out[at].Rules = append(out[at].Rules, f.Rule)
			continue
		}
		out = append(out, Wanted{Subject: f.Subject, Text: f.Wanting.Text, Do: f.Wanting.Remedy, Rules: []string{f.Rule}})
	}
	return out
}
