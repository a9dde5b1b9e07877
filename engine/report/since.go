package report

import (
	"maps"
	"path"
	"slices"
	"strings"

	"plumbline/engine"
)

// standing is how a finding stands against a stored report; "" when it matters in neither.
type standing string

const (
	isNew       standing = "new"
	isWorse     standing = "worse"
	isUnchanged standing = "unchanged"
	isMilder    standing = "milder"
	isMended    standing = "mended"
)

// Progress is what changed in designs since a report was stored.
type Progress struct {
	name    string
	about   About
	designs []*designChange
	// notJudged are the designs of the stored report that were not named now.
	notJudged []string
	// unread are designs that could not be judged now, in the stored report or not.
	unread  []Item
	verbose bool
	// rules says whether the library is the one the stored report was made with.
	rules rulesThen
}

// rulesThen says whether the rules are those of a stored report.
type rulesThen int

const (
	rulesSame rulesThen = iota
	rulesChanged
	rulesUnknown
)

// designChange is what changed in one design.
type designChange struct {
	report *engine.Report
	// old is the stored report of the design, nil when there is none.
	old *Report
	// changes has one entry per finding of the report, in its order; gone are the stored findings without a counterpart.
	changes, gone []change
}

// change is one finding now and then; either may be nil.
type change struct {
	now, was *engine.Finding
	since    standing
	// before says in words what it was, or why it is gone.
	before string
}

// NewProgress compares the reports of this run, made with the library a, with a
// stored report that is called name.
//
// A finding is known again by its design's cleaned path, its rule and the name
// of its subject; by the path of its subject where that has no name.
func NewProgress(name string, old *Document, reports []*engine.Report, a About) *Progress {
	var items []Item
	for _, r := range reports {
		items = append(items, Item{Name: r.File, Report: r})
	}
	return newProgress(name, old, items, a)
}

func newProgress(name string, old *Document, items []Item, a About) *Progress {
	c := &Progress{name: name, about: a, rules: rulesChanged}
	switch {
	case old.Library.Digest == "" || a.Digest == "":
		c.rules = rulesUnknown
	case old.Library.Digest == a.Digest:
		c.rules = rulesSame
	}
	old = completed(old, a)
	lib := newRuleHistory(old, a, c.rules)
	judged := map[string]bool{}
	for _, x := range items {
		r := x.Report
		judged[cleanPath(x.Name)] = true
		if r == nil {
			c.unread = append(c.unread, x)
			continue
		}
		judged[cleanPath(r.File)] = true
		c.designs = append(c.designs, compareDesign(old, findReport(old, r.File), r, lib))
	}
	for i := range old.Reports {
		if file := cleanPath(old.Reports[i].File); !judged[file] {
			judged[file] = true
			c.notJudged = append(c.notJudged, old.Reports[i].File)
		}
	}
	slices.Sort(c.notJudged)
	return c
}

// completed is a stored report whose table of rules also has those that the library has now: of what was merely met or open
// then, a report has the rule's name only.
func completed(old *Document, a About) *Document {
	out := *old
	out.Rules = map[string]Rule{}
	for _, p := range a.Packs {
		for i := range p.Rules {
			r := &p.Rules[i]
			out.Rules[p.Pack+"."+r.ID] = Rule{Title: r.Title, Part: p.Part, Danger: string(r.Danger), Due: r.Due}
		}
	}
	maps.Copy(out.Rules, old.Rules)
	return &out
}

// unreadable names the designs that could not be judged now.
func (c *Progress) unreadable() []string {
	var out []string
	for _, x := range c.unread {
		out = append(out, x.Name)
	}
	return out
}

// reports are the reports of this run.
func (c *Progress) reports() []*engine.Report {
	var out []*engine.Report
	for _, d := range c.designs {
		out = append(out, d.report)
	}
	return out
}

// cleanPath makes the spellings of one design's path equal.
func cleanPath(file string) string { return path.Clean(strings.ReplaceAll(file, "\\", "/")) }

func findReport(d *Document, file string) *Report {
	for i := range d.Reports {
		if cleanPath(d.Reports[i].File) == cleanPath(file) {
			return &d.Reports[i]
		}
	}
	return nil
}

func compareDesign(doc *Document, old *Report, now *engine.Report, lib *ruleHistory) *designChange {
	d := &designChange{report: now, old: old}
	var then []*engine.Finding
	today := pointers(now.Findings)
	if old != nil {
		then = doc.stored(old)
	}
	pairs, met := match(then, today), make([]bool, len(then))
	for i, f := range today {
		x := change{now: f}
		if pairs[i] >= 0 {
			x.was, met[pairs[i]] = then[pairs[i]], true
		}
		x.since, x.before = stand(x.was, f)
		if x.was == nil && old != nil && x.since == isNew {
			x.before = lib.whyNew(f, old)
		}
		d.changes = append(d.changes, x)
	}
	for i, f := range then {
		if !met[i] && matters(f) {
			d.gone = append(d.gone, change{was: f, since: isMended, before: wasWords(f) + "; " + lib.whyGone(f, today)})
		}
	}
	return d
}

// matters reports whether a finding is one to compare: a fail, a warn or an open one.
func matters(f *engine.Finding) bool {
	return f != nil && (f.Outcome == engine.Fail || f.Outcome == engine.Warn || f.Outcome == engine.Open)
}

// stand compares a finding with what it was, nil when it was not there. The
// worse outcome is, in order, fail, open, warn; a conceded finding that loses
// its concession is new, one that gets a concession is mended by it. One that
// stops the job now and did not before is worse whatever its outcome.
func stand(was, now *engine.Finding) (standing, string) {
	switch {
	case !matters(now) && !matters(was):
		return "", ""
	case !matters(now):
		return isMended, wasWords(was)
	case was == nil:
		return isNew, ""
	case !matters(was):
		return isNew, wasWords(was)
	case was.Conceded != nil && now.Conceded == nil:
		return isNew, wasWords(was) + "; that concession is gone"
	case was.Conceded == nil && now.Conceded != nil:
		return isMended, wasWords(was)
	case now.Outcome.Rank() < was.Outcome.Rank():
		return isWorse, wasWords(was)
	case now.Blocks && !was.Blocks:
		return isWorse, wasWords(was) + ", and did not stop the job"
	case now.Outcome.Rank() > was.Outcome.Rank():
		return isMilder, wasWords(was)
	}
	return isUnchanged, ""
}

// wasWords say what a stored finding was.
func wasWords(f *engine.Finding) string {
	switch {
	case f.Outcome == engine.Pass:
		return "met"
	case f.Outcome == engine.NotApplicable:
		return "it did not apply"
	case f.Conceded != nil:
		return uncapital(OutcomeWord(f.Outcome)) + ", conceded until " + clean(f.Conceded.Until)
	}
	return uncapital(OutcomeWord(f.Outcome))
}

// fresh reports whether a change is new or worse.
func (x *change) fresh() bool { return x.since == isNew || x.since == isWorse }

// dangerous reports whether an old finding still stops the job with a danger that no stored report may hide.
func (x *change) dangerous() bool {
	return x.now != nil && !x.fresh() && x.now.Blocks && x.now.Danger.Grave()
}

// Blocks reports whether the job is stopped: by a finding that is new or worse,
// or by an old one with a grave danger.
func (c *Progress) Blocks() bool {
	n := c.counts()
	return n.Blocking+n.Dangerous > 0
}

// counts sums all designs up.
func (c *Progress) counts() Changes {
	var n Changes
	for _, d := range c.designs {
		n = n.plus(d.counts())
	}
	return n
}

// counts sums the changes of a design up.
func (d *designChange) counts() Changes {
	n := Changes{Mended: len(d.gone), Gone: len(d.gone)}
	for i := range d.changes {
		x := &d.changes[i]
		switch x.since {
		case isNew:
			n.New++
		case isWorse:
			n.Worse++
		case isUnchanged:
			n.Unchanged++
		case isMilder:
			n.Milder++
		case isMended:
			n.Mended++
		}
		if x.fresh() && x.now.Blocks {
			n.Blocking++
		}
		if x.dangerous() {
			n.Dangerous++
		}
	}
	return n
}

func (n Changes) plus(o Changes) Changes {
	return Changes{
		New: n.New + o.New, Worse: n.Worse + o.Worse, Milder: n.Milder + o.Milder, Mended: n.Mended + o.Mended, Gone: n.Gone + o.Gone,
		Unchanged: n.Unchanged + o.Unchanged, Blocking: n.Blocking + o.Blocking, Dangerous: n.Dangerous + o.Dangerous,
	}
}
