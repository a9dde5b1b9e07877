package report

import "io"

// Since names the stored report that a report was compared with.
type Since struct {
	// File of the stored report.
	File string `json:"file"`
	// Whether the rules are those the stored report was made with.
	Rules string `json:"rules" jsonschema:"enum=same,enum=changed,enum=unknown"`
	// What changed, all designs together.
	Changes Changes `json:"changes"`
	// Designs of the stored report that are not among those named now.
	NotJudged []string `json:"not_judged,omitempty"`
	// Designs that could not be read now, in the stored report or not.
	Unreadable []string `json:"unreadable,omitempty"`
}

// Changes are numbers of findings by what became of them.
type Changes struct {
	// Were not there, were met or did not apply, or have lost their concession.
	New int `json:"new"`
	// Were milder, or did not stop the job.
	Worse int `json:"worse"`
	// Were worse, and are mended in part.
	Milder int `json:"milder"`
	// Are met, do not apply, are conceded or are no longer judged.
	Mended int `json:"mended"`
	// Those of the mended that are no longer judged.
	Gone int `json:"gone"`
	// Are as they were.
	Unchanged int `json:"unchanged"`
	// New or worse findings that stop the job.
	Blocking int `json:"blocking"`
	// Old findings that still stop the job with a danger of fire, poisoning or loss of control.
	Dangerous int `json:"dangerous"`
}

// Mended is a finding of the stored report that is mended, if only in part.
type Mended struct {
	// Full name of the rule.
	Rule string `json:"rule"`
	// The rule in words.
	Title string `json:"title"`
	// What is at stake.
	Danger string `json:"danger" jsonschema:"enum=fire,enum=poisoning,enum=loss_of_control,enum=shock,enum=burn,enum=engine,enum=none"`
	// Path of what was judged, as it is now when it is still there.
	Subject string `json:"subject"`
	// Its name in the design.
	SubjectName string `json:"subject_name,omitempty"`
	// Outcome in the stored report.
	Was string `json:"was" jsonschema:"enum=fail,enum=open,enum=warn"`
	// What it is now.
	Now string `json:"now" jsonschema:"enum=open,enum=warn,enum=pass,enum=not applicable,enum=conceded,enum=gone"`
	// What it was, or why it is gone, in words.
	Before string `json:"before"`
}

// JSON writes the report document of this run with what changed: the same
// format, each finding marked, and the mended ones listed for each design.
func (c *Progress) JSON(w io.Writer) error {
	form := &jsonForm{about: c.about, since: &Since{File: c.name, Rules: c.rules.String(), Changes: c.counts(), NotJudged: c.notJudged, Unreadable: c.unreadable()}}
	if err := form.Head(w); err != nil {
		return err
	}
	for _, d := range c.designs {
		l := newLayout(d.report.File)
		r, n := l.report(d.report, c.verbose), d.counts()
		r.Changes = &n
		told := 0
		for i := range d.changes {
			x := &d.changes[i]
			if !c.verbose && (!matters(x.now) || quiet(x.now)) {
				continue
			}
			f := &r.Findings[told]
			told++
			f.Since, f.Before = string(x.since), x.before
			if x.was != nil && x.since != "" {
				f.Was = string(x.was.Outcome)
			}
		}
		for _, x := range d.mended() {
			r.Mended = append(r.Mended, newMended(x))
		}
		if err := form.Add(w, laidOut(r, l.rules)); err != nil {
			return err
		}
	}
	for i := range c.unread {
		if err := form.Add(w, form.Piece(c.unread[i])); err != nil {
			return err
		}
	}
	return form.Tail(w)
}

// mended are the findings that are mended, those in part included, in the order of the report, then those that are gone.
func (d *designChange) mended() []*change {
	var out []*change
	for i := range d.changes {
		if x := &d.changes[i]; x.since == isMended || x.since == isMilder {
			out = append(out, x)
		}
	}
	for i := range d.gone {
		out = append(out, &d.gone[i])
	}
	return out
}

func newMended(x *change) Mended {
	f, now := x.now, "gone"
	switch {
	case f == nil:
		f = x.was
	case f.Conceded != nil && x.since == isMended:
		now = "conceded"
	default:
		now = string(f.Outcome)
	}
	return Mended{
		Rule: f.Rule, Title: f.Title, Danger: string(f.Danger), Subject: f.Subject, SubjectName: f.SubjectName,
		Was: string(x.was.Outcome), Now: now, Before: x.before,
	}
}

// String names the state as the JSON report does.
func (r rulesThen) String() string { return [...]string{"same", "changed", "unknown"}[r] }
