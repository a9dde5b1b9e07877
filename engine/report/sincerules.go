package report

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// ruleHistory knows which rules there are and which a stored report judged: a
// report holds a finding for every rule that it judged, met ones included.
type ruleHistory struct {
	then rulesThen
	// now are the rules of the library by full name, judged those of the stored report.
	now, judged map[string]bool
	// packs are the packs of either library; a rule of no pack is the engine's own.
	packs map[string]bool
}

func newRuleHistory(old *Document, a About, then rulesThen) *ruleHistory {
	h := &ruleHistory{then: then, now: map[string]bool{}, judged: map[string]bool{}, packs: map[string]bool{}}
	for _, p := range old.Library.Packs {
		h.packs[p.Name] = true
	}
	for _, p := range a.Packs {
		h.packs[p.Pack] = true
		for i := range p.Rules {
			h.now[p.Pack+"."+p.Rules[i].ID] = true
		}
	}
	for i := range old.Reports {
		for j := range old.Reports[i].Findings {
			h.judged[old.Reports[i].Findings[j].Rule] = true
		}
		for j := range old.Reports[i].Rest {
			for _, rule := range old.Reports[i].Rest[j].Rules {
				h.judged[rule] = true
			}
		}
	}
	return h
}

// whyNew says why a finding was not in the stored report of its design; "" when only its subject is new.
func (h *ruleHistory) whyNew(f *engine.Finding, old *Report) string {
	if f.Region != "" && !slices.ContainsFunc(old.Regions, func(r Region) bool { return r.Name == f.Region }) {
		return "not judged for " + clean(f.Region)
	}
	if h.then != rulesSame && h.now[f.Rule] && !h.judged[f.Rule] && len(old.Findings)+len(old.Rest) > 0 {
		return "not judged, the rule is new"
	}
	return ""
}

// whyGone says why nothing corresponds to a stored finding in the findings of today.
func (h *ruleHistory) whyGone(was *engine.Finding, today []*engine.Finding) string {
	pack, _, _ := strings.Cut(was.Rule, ".")
	if !h.packs[pack] {
		return "not found any more"
	}
	if !h.now[was.Rule] {
		return "no longer judged, the rule is gone from the library"
	}
	seen, apart := false, false
	for _, f := range today {
		if f.Rule != was.Rule {
			continue
		}
		seen = true
		apart = apart || strings.HasPrefix(f.Subject, was.Subject+"[")
		if f.Outcome != engine.NotApplicable && f.SubjectName == was.SubjectName && schema.Path(f.Subject).Generic() == schema.Path(was.Subject).Generic() && was.SubjectName != "" {
			return "no longer found, others of this name are judged"
		}
	}
	switch {
	case apart:
		return "its items are judged one by one now"
	case !seen:
		return "no longer judged, its rules do not cover this design now"
	}
	return "no longer judged, it is not in the design now"
}
