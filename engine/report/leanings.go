package report

import (
	"cmp"
	"slices"

	"plumbline/engine"
)

// leanings are what open findings would become with what is usual, the bad ones first. They decide nothing.
func (s *jobSheet) leanings() {
	groups := []struct {
		word string
		list []*engine.Finding
	}{{word: "Would fail"}, {word: "Turns"}, {word: "Would be doubtful"}, {word: "Would pass"}}
	leans := []engine.Lean{engine.WouldFail, engine.Turns, engine.WouldWarn, engine.WouldPass}
	some := false
	for i := range s.report.Findings {
		if f := &s.report.Findings[i]; f.Leaning != nil {
			n := slices.Index(leans, f.Leaning.Lean)
			groups[n].list = append(groups[n].list, f)
			some = true
		}
	}
	if !some || !s.verbose {
		return
	}
	s.Blank()
	s.Heading("With usual values, not stated ones")
	for _, g := range groups {
		slices.SortStableFunc(g.list, func(x, y *engine.Finding) int { return cmp.Compare(y.Leaning.Fails, x.Leaning.Fails) })
		for _, f := range g.list {
			s.Marked(indent, inner, g.word+":", styleBold, LeaningWords(f.Leaning))
			s.Para(inner, inner+2, factName(f.Subject)+". Rule "+f.Rule+".")
		}
	}
}

// LeaningWords say what an open finding would become: with all usual values; of one that turns also where else it may lie.
func LeaningWords(l *engine.Leaning) string {
	text := sentence(l.AtUsual)
	if l.Low != nil && l.High != nil && l.Low.Text != l.High.Text {
		text += " From " + l.Low.Text + " to " + l.High.Text + " with other usual values."
	}
	if l.Lean == engine.Turns {
		text += " With all that is usual it would be " + uncapital(OutcomeWord(l.Likely)) + "."
	}
	return text
}
