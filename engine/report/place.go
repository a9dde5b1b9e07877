package report

import (
	"fmt"
	"slices"
	"strings"

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
	return capital(ConsequenceWords(f.Consequence, f.KnownFrom)) + ", " + regionTitle(r, f.Region) + ": " + sentence(f.Confirm)
}

// confirmOpen lists what to confirm about open findings, each text once.
func (s *jobSheet) confirmOpen(list []*engine.Finding) {
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
func (s *jobSheet) loosened() {
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
func (s *jobSheet) places() {
	s.Blank()
	s.Heading("Where it is used")
	if len(s.report.Regions) == 0 {
		s.Para(indent, inner, "The law of no place was looked at. Name the place, regions: [gb], or write regions: none for a vehicle that is never registered; local codes hold all the same.")
		return
	}
	for i := range s.report.Regions {
		r := &s.report.Regions[i]
		s.Para(indent, inner, placeWords(r))
		if s.verbose {
			s.topics(r)
		}
	}
	s.Para(indent, inner, "Rules are as seen on the dates their grounds name. A rule met here is no permission, and freedom from a test is none to take equipment off.")
}

// placeWords sum up one region: what to confirm, what of its rules was judged, and which law was not read.
func placeWords(r *engine.RegionJudged) string {
	text := fmt.Sprintf("%s (%s): %s. %s Decided by %s.", clean(r.Title), clean(r.Name), concernWords(r), sentence(r.Confirm), clean(r.DecidedBy))
	if words := withoutWords(r, engine.NotRead); words != "" {
		text += " Its law was not read on " + words + "."
	}
	return text
}

// concernWords count what of a region's own rules was judged. A region whose rules all concern other vehicles settled nothing.
func concernWords(r *engine.RegionJudged) string {
	text := fmt.Sprintf("%d of its own %d rules %s this vehicle", r.Concern, r.Rules, verb(r.Concern, "concerns", "concern"))
	if r.Rules == 1 {
		text = "its one rule " + verb(r.Concern, "concerns", "does not concern") + " this vehicle"
	}
	var parts []string
	if r.NotMet > 0 {
		parts = append(parts, fmt.Sprintf("%d not met", r.NotMet))
	}
	if r.Open > 0 {
		parts = append(parts, fmt.Sprintf("%d cannot be judged yet", r.Open))
	}
	if met := r.Concern - r.NotMet - r.Open; met > 0 {
		parts = append(parts, fmt.Sprintf("%d met", met))
	}
	if len(parts) == 0 {
		return text + "; nothing was judged here"
	}
	return text + ", " + strings.Join(parts, ", ")
}

// withoutWords list the topics of which a region says the same.
func withoutWords(r *engine.RegionJudged, without string) string {
	var words []string
	for _, t := range r.Topics {
		if t.Without == without {
			words = append(words, t.Topic.Words())
		}
	}
	return strings.Join(words, "; ")
}

// topics tell what a region's law was found to say, matter by matter.
func (s *jobSheet) topics(r *engine.RegionJudged) {
	for _, t := range r.Topics {
		text := capital(t.Topic.Words()) + ": "
		if len(t.Rules) > 0 {
			text += count(len(t.Rules), "rule", "rules")
		} else {
			text += clean(t.Without)
		}
		s.Para(inner, inner+2, text+".")
	}
}
