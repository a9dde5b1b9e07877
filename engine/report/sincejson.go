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
	// Designs of the stored report that were not judged now.
	NotJudged []string `json:"not_judged,omitempty"`
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
	doc := NewDocument(c.reports(), c.about)
	doc.Since = &Since{File: c.name, Rules: c.rules.String(), Changes: c.counts(), NotJudged: c.notJudged}
	for i, d := range c.designs {
		r, n := &doc.Reports[i], d.counts()
		r.Changes = &n
		for j := range d.changes {
			x, f := &d.changes[j], &r.Findings[j]
			f.Since, f.Before = string(x.since), x.before
			if x.was != nil && x.since != "" {
				f.Was = string(x.was.Outcome)
			}
		}
		for _, x := range d.mended() {
			r.Mended = append(r.Mended, newMended(x))
		}
	}
	return encode(w, doc)
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
