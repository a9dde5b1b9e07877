package report

import (
	"fmt"
	"slices"

	"plumbline/engine"
)

// regionTitle is what a region judged for is called.
func regionTitle(r *engine.Report, name string) string {
	for _, x := range r.Regions {
		if x.Name == name {
			return clean(x.Title)
		}
	}
	return clean(name)
}

// confirmWords say what a regional finding is where the vehicle is used, and what to confirm; "" for any other.
func confirmWords(r *engine.Report, f *engine.Finding) string {
	if f.Region == "" {
		return ""
	}
	return capital(ConsequenceWords(f.Consequence)) + ", " + regionTitle(r, f.Region) + ": " + sentence(f.Confirm)
}

// confirmOpen lists what to confirm about open findings, each text once.
func (s *sheet) confirmOpen(list []*engine.Finding) {
	var told []string
	for _, f := range list {
		if f.Region == "" || slices.Contains(told, f.Confirm) {
			continue
		}
		told = append(told, f.Confirm)
		s.Para(inner, inner+2, sentence(f.Confirm))
	}
}

// loosened lists what local packs made milder.
func (s *sheet) loosened() {
	if len(s.report.Loosened) == 0 {
		return
	}
	s.Blank()
	s.Heading("Made milder by local packs")
	for _, x := range s.report.Loosened {
		s.Para(indent, inner, loosenedWords(x))
	}
}

func loosenedWords(x engine.Loosened) string {
	return fmt.Sprintf("%s: %s instead of %s (%s): %s", capital(clean(x.What)), clean(x.To), clean(x.From), place(x.Place), sentence(x.Reason))
}

// places tells which regions the design was judged for and what that does not settle.
func (s *sheet) places() {
	if len(s.report.Regions) == 0 {
		return
	}
	s.Blank()
	s.Heading("Where it is used")
	for _, r := range s.report.Regions {
		s.Para(indent, inner, placeWords(s.report, r))
	}
	s.Para(indent, inner, "Rules are as seen on the dates their grounds name. A rule met here is no permission, and freedom from a test is none to take equipment off.")
}

// placeWords sum up one region.
func placeWords(report *engine.Report, r engine.RegionJudged) string {
	broken, open := 0, 0
	for i := range report.Findings {
		if f := &report.Findings[i]; f.Region == r.Name {
			switch f.Outcome {
			case engine.Fail, engine.Warn:
				broken++
			case engine.Open:
				open++
			}
		}
	}
	result := "no conflict found"
	switch {
	case broken > 0 && open > 0:
		result = fmt.Sprintf("%d not met, %d cannot be judged yet", broken, open)
	case broken > 0:
		result = fmt.Sprintf("%d not met", broken)
	case open > 0:
		result = fmt.Sprintf("%d cannot be judged yet", open)
	}
	return fmt.Sprintf("%s (%s): %s, decided by %s: %s. %s",
		clean(r.Title), clean(r.Name), count(r.Rules, "rule", "rules"), clean(r.DecidedBy), result, sentence(r.Confirm))
}
