package report

import (
	"encoding/json"
	"io"

	"plumbline/engine"
	"plumbline/schema"
)

// JSON writes the report document, indented, with a final newline. It is
// described by schema/report.schema.json.
func JSON(w io.Writer, reports []*engine.Report, a About) error {
	return encode(w, NewDocument(reports, a))
}

func encode(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// NewDocument lays reports out as the JSON report.
func NewDocument(reports []*engine.Report, a About) Document {
	d := Document{
		Format:  Format,
		Program: Program{Name: "Plumbline", Version: a.Version},
		Library: Library{Digest: a.Digest, Packs: []Pack{}},
		Reports: []Report{}, LocalCodes: LocalCodes,
	}
	for _, p := range a.Packs {
		d.Library.Packs = append(d.Library.Packs, Pack{Name: p.Pack, Title: p.Title, Edition: p.Edition, Rules: len(p.Rules)})
	}
	for _, r := range reports {
		d.Reports = append(d.Reports, newReport(r))
	}
	return d
}

func newReport(r *engine.Report) Report {
	out := Report{
		File: r.File, Title: r.Title, Stage: r.Stage,
		Counts: Counts{
			Pass: r.Count(engine.Pass), Warn: r.Count(engine.Warn), Fail: r.Count(engine.Fail), Open: r.Count(engine.Open),
			NotApplicable: r.Count(engine.NotApplicable), Blocking: r.Blocking(),
		},
		Findings: []Finding{}, Questions: []Question{}, Assumptions: []Assumption{},
	}
	for _, x := range r.Regions {
		out.Regions = append(out.Regions, newRegion(x))
	}
	for i := range r.Findings {
		out.Findings = append(out.Findings, newFinding(&r.Findings[i]))
	}
	for _, q := range r.Asked {
		out.Questions = append(out.Questions, Question{
			Path: q.Path, Ask: q.Ask, Example: q.Example, Words: q.Words, Danger: string(q.Danger), Rules: append([]string{}, q.Rules...), Alone: q.Alone,
		})
	}
	for _, x := range r.Assumed {
		out.Assumptions = append(out.Assumptions, Assumption{Path: x.Path, Value: x.Value, Because: newReasons(x.Because), Findings: x.Findings})
	}
	for _, x := range r.Unread {
		out.Unread = append(out.Unread, FactRead{Path: x.Path, Text: x.Text, Place: newPlace(x.Place)})
	}
	for _, x := range r.Cautions {
		out.Cautions = append(out.Cautions, Caution{ID: x.ID, Text: x.Text, Because: newReasons(x.Because), Rules: x.Rules})
	}
	for _, x := range r.Loosened {
		out.Loosened = append(out.Loosened, Loosened{What: x.What, From: x.From, To: x.To, Reason: x.Reason, Place: newPlace(x.Place)})
	}
	return out
}

func newRegion(x engine.RegionJudged) Region {
	out := Region{Name: x.Name, Title: x.Title, DecidedBy: x.DecidedBy, Confirm: x.Confirm, Rules: x.Rules, Concern: x.Concern, NotMet: x.NotMet, Open: x.Open}
	for _, t := range x.Topics {
		out.Topics = append(out.Topics, Topic{Topic: string(t.Topic), Rules: t.Rules, Without: t.Without})
	}
	return out
}

func newFinding(f *engine.Finding) Finding {
	out := Finding{
		Rule: f.Rule, Title: f.Title, Part: f.Part, Outcome: string(f.Outcome), Danger: string(f.Danger), Due: f.Due, Blocks: f.Blocks,
		Subject: f.Subject, SubjectName: f.SubjectName, Place: newPlace(f.Place), Text: f.Text, Remedy: f.Remedy,
		Because: newReasons(f.Because), Missing: f.Missing, Unreachable: f.Unreachable, Assumed: f.Assumed, Absent: f.Absent,
		Region: f.Region, Consequence: f.Consequence, KnownFrom: f.KnownFrom, Confirm: f.Confirm,
	}
	if f.Measured != nil {
		n := Number(*f.Measured)
		out.Measured = &n
	}
	for _, b := range f.Bounds {
		out.Bounds = append(out.Bounds, Bound{Of: b.Of, Op: b.Op, Bound: Number(b.Bound), Met: b.Met, Margin: b.Margin})
	}
	for _, r := range f.Facts {
		out.Facts = append(out.Facts, FactRead{Path: r.Path, Text: r.Text, Place: newPlace(r.Place)})
	}
	out.Sense = f.Sense
	for _, x := range f.Likely {
		out.Likely = append(out.Likely, Likely{Path: x.Path, Stated: x.Stated, Meant: x.Meant, Place: newPlace(x.Place)})
	}
	if c := f.Cause; c != nil {
		out.Cause = &Cause{Path: c.Path, Stated: c.Stated, Place: newPlace(c.Place), Meant: c.Meant}
	}
	for _, r := range f.Derived {
		out.Derived = append(out.Derived, DerivedRead{Path: r.Path, Text: r.Text})
	}
	for _, d := range f.Doubts {
		out.Doubts = append(out.Doubts, Doubt(d))
	}
	if c := f.Conceded; c != nil {
		out.Conceded = &Conceded{Reason: c.Reason, GrantedBy: c.By, Until: c.Until, Place: newPlace(c.Place)}
	}
	return out
}

func newReasons(list []engine.Ground) []Reason {
	out := make([]Reason, len(list))
	for i, g := range list {
		out[i] = Reason{Standing: g.Standing, Text: g.Text, For: g.For}
	}
	return out
}

func newPlace(p schema.Place) *Place {
	if p.IsZero() {
		return nil
	}
	out := Place(p)
	return &out
}
