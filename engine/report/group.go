package report

import (
	"cmp"
	"slices"

	"plumbline/engine"
)

// entry is one cause: a finding, with the other subjects that broke the same
// rule the same way, the other rules that say the same of the same place, and
// the other checks of sense that the same stated fact explains.
type entry struct {
	*engine.Finding
	same  []*engine.Finding
	also  []string
	sense []*engine.Finding
	// number is that of the job sheet.
	number int
}

// blocks reports whether any finding of the entry blocks.
func (e *entry) blocks() bool {
	return e.Blocks || slices.ContainsFunc(e.same, func(f *engine.Finding) bool { return f.Blocks })
}

// entries joins findings that have one cause, keeping their order.
func entries(findings []*engine.Finding) []*entry {
	type subjectKey struct {
		rule     string
		outcome  engine.Outcome
		conceded bool
	}
	type textKey struct {
		text string
		file string
		line int
	}
	bySubject, byText, byCause := map[subjectKey]*entry{}, map[textKey]*entry{}, map[*engine.Cause]*entry{}
	var out []*entry
	for _, f := range findings {
		if f.Cause != nil {
			if e := byCause[f.Cause]; e != nil {
				e.sense = append(e.sense, f)
				continue
			}
			e := &entry{Finding: f}
			byCause[f.Cause] = e
			out = append(out, e)
			continue
		}
		sk := subjectKey{f.Rule, f.Outcome, f.Conceded != nil}
		tk := textKey{f.Text, f.Place.File, f.Place.Line}
		if e := bySubject[sk]; e != nil {
			e.same = append(e.same, f)
			continue
		}
		if e := byText[tk]; e != nil && e.Outcome == f.Outcome && f.Place.Line > 0 {
			e.also = append(e.also, f.Rule)
			continue
		}
		e := &entry{Finding: f}
		bySubject[sk], byText[tk] = e, e
		out = append(out, e)
	}
	return out
}

// part is one part of the vehicle with its findings, worst first.
type part struct {
	name     string
	findings []*engine.Finding
	list     []*entry // once told
}

// with lists the part's findings of some outcomes.
func (p *part) with(outcomes ...engine.Outcome) []*engine.Finding {
	var out []*engine.Finding
	for _, f := range p.findings {
		if slices.Contains(outcomes, f.Outcome) {
			out = append(out, f)
		}
	}
	return out
}

// parts groups findings by part of the vehicle, the part with the worst finding first. Those of one cause stand with the first of them.
func parts(r *engine.Report) []*part {
	byName, ofCause := map[string]*part{}, map[*engine.Cause]string{}
	var out []*part
	for i := range r.Findings {
		f := &r.Findings[i]
		name := f.Part
		if f.Cause != nil {
			if ofCause[f.Cause] == "" {
				ofCause[f.Cause] = name
			}
			name = ofCause[f.Cause]
		}
		p := byName[name]
		if p == nil {
			p = &part{name: name}
			byName[name] = p
			out = append(out, p)
		}
		p.findings = append(p.findings, f)
	}
	for _, p := range out {
		slices.SortStableFunc(p.findings, worst)
	}
	slices.SortStableFunc(out, func(a, b *part) int {
		return cmp.Or(worst(a.findings[0], b.findings[0]), cmp.Compare(a.name, b.name))
	})
	return out
}

// worst orders findings as a job sheet does: what is wrong, what stops the job unjudged, what is doubtful, what can
// wait; within each the worst danger first.
func worst(a, b *engine.Finding) int {
	return cmp.Or(
		urgency(a)-urgency(b),
		a.Danger.Rank()-b.Danger.Rank(),
		blockRank(a)-blockRank(b),
	)
}

func urgency(f *engine.Finding) int {
	switch {
	case f.Outcome == engine.Fail && f.Conceded == nil:
		return 0
	case f.Outcome == engine.Open && f.Blocks:
		return 1
	case f.Outcome == engine.Fail || f.Outcome == engine.Warn:
		return 2
	}
	return 2 + f.Outcome.Rank()
}

func blockRank(f *engine.Finding) int {
	if f.Blocks {
		return 0
	}
	return 1
}
