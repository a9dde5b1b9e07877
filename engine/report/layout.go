package report

import (
	"regexp"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// layout lays findings of one design out for JSON: what several of them share goes into its tables.
type layout struct {
	// file is the design's own; a place in it does not repeat the name.
	file    string
	rules   map[string]Rule
	names   map[string]string
	facts   map[string]Fact
	derived map[string]string
}

func newLayout(file string) *layout {
	return &layout{file: ownFile(file), rules: map[string]Rule{}, names: map[string]string{}, facts: map[string]Fact{}, derived: map[string]string{}}
}

var lineOfFile = regexp.MustCompile(`^(.+):[0-9]+$`)

// ownFile is the file that a design's name stands for: a design that is one line of a file is called FILE:LINE.
func ownFile(name string) string {
	if m := lineOfFile.FindStringSubmatch(name); m != nil {
		return m[1]
	}
	return name
}

// report lays a report out; verbose also lists what passed and what does not apply at length.
func (l *layout) report(r *engine.Report, verbose bool) Report {
	out := Report{
		File: r.File, Title: r.Title, Stage: r.Stage, Counts: countsOf(r.Count),
		Findings: []Finding{}, Questions: []Question{}, Assumptions: []Assumption{},
	}
	out.Counts.Blocking = r.Blocking()
	for _, x := range r.Regions {
		out.Regions = append(out.Regions, newRegion(x))
	}
	rest, number := map[string]int{}, numbersOf(r)
	for i := range r.Findings {
		f := &r.Findings[i]
		if verbose || matters(f) && !quiet(f) {
			told := l.finding(f)
			told.Number = number[f]
			out.Findings = append(out.Findings, told)
			continue
		}
		n, seen := rest[f.Rule]
		if !seen {
			n = len(out.Rest)
			rest[f.Rule] = n
			out.Rest = append(out.Rest, Judged{Rules: []string{f.Rule}})
		}
		l.name(f)
		switch j := &out.Rest[n]; f.Outcome {
		case engine.Pass:
			j.Met = append(j.Met, f.Subject)
		case engine.Open:
			j.Open = append(j.Open, f.Subject)
		default:
			j.NotApplicable = append(j.NotApplicable, f.Subject)
		}
	}
	out.Rest = alike(out.Rest)
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Leaning != nil {
			out.Leanings = append(out.Leanings, newLeaning(f))
			for _, path := range f.Leaning.Usual {
				out.Usual = append(out.Usual, string(schema.Path(path).Generic()))
			}
		}
	}
	slices.Sort(out.Usual)
	out.Usual = slices.Compact(out.Usual)
	out.Patterns = commonPatterns(out.Leanings)
	for _, q := range r.Asked {
		out.Questions = append(out.Questions, Question{
			Path: q.Path, Ask: q.Ask, Example: q.Example, Stated: q.Stated, Complete: q.Complete, Words: q.Words, Danger: string(q.Danger), Rules: append([]string{}, q.Rules...), Alone: q.Alone,
		})
	}
	for _, x := range r.Assumed {
		out.Assumptions = append(out.Assumptions, Assumption{Path: x.Path, Value: x.Value, Because: newReasons(x.Because), Findings: x.Findings})
	}
	out.Shelf = l.shelved(r.Shelved)
	out.Unread = l.read(r.Unread)
	for _, x := range r.Cautions {
		out.Cautions = append(out.Cautions, Caution{ID: x.ID, Text: x.Text, Because: newReasons(x.Because), Rules: x.Rules})
	}
	out.Loosened = l.loosened(r.Loosened)
	out.Overridden = l.overridden(r.Overridden)
	out.Names, out.Facts, out.Derived = l.names, l.facts, l.derived
	return out
}

// alike puts rules together that came out alike on the same parts.
func alike(list []Judged) []Judged {
	var out []Judged
	at := map[string]int{}
	for _, j := range list {
		key := strings.Join(slices.Concat(j.Met, []string{""}, j.NotApplicable, []string{""}, j.Open), "\n")
		if n, known := at[key]; known {
			out[n].Rules = append(out[n].Rules, j.Rules...)
			continue
		}
		at[key] = len(out)
		out = append(out, j)
	}
	return out
}

// commonPatterns takes the patterns of the first leaning, mostly those of all, out of each that is from the same ones.
func commonPatterns(list []Leaning) []string {
	if len(list) == 0 {
		return nil
	}
	common := list[0].Patterns
	for i := range list {
		if slices.Equal(list[i].Patterns, common) {
			list[i].Patterns = nil
		}
	}
	return common
}

func newLeaning(f *engine.Finding) Leaning {
	x := f.Leaning
	text := func(n *engine.Number) string {
		if n == nil {
			return ""
		}
		return n.Text
	}
	out := Leaning{Rule: f.Rule, Subject: f.Subject, Lean: string(x.Lean), Text: x.Text, Remedy: x.Remedy, AtUsual: x.AtUsual, Measured: text(x.Measured), Low: text(x.Low),
		High: text(x.High), Patterns: x.Patterns, Points: x.Points}
	return out
}

func (l *layout) loosened(list []engine.Loosened) []Loosened {
	var out []Loosened
	for _, x := range list {
		out = append(out, Loosened{What: x.What, From: x.From, To: x.To, Reason: x.Reason, Place: l.place(x.Place)})
	}
	return out
}

// finding lays a finding out and puts its rule, facts, values and its subject's name into the tables.
func (l *layout) finding(f *engine.Finding) Finding {
	law := l.rule(f)
	l.name(f)
	out := Finding{
		Rule: f.Rule, Outcome: string(f.Outcome), Blocks: f.Blocks, Subject: f.Subject, Place: l.place(f.Place), Remedy: f.Remedy,
		Law: law, Missing: f.Missing, Unreachable: f.Unreachable, Assumed: f.Assumed, Absent: f.Absent, Facts: l.read(f.Facts),
	}
	if f.Text != f.Title {
		out.Text = f.Text
	}
	out.Measured, out.Bounds = numbers(f)
	for _, x := range f.Likely {
		out.Likely = append(out.Likely, Likely{Path: x.Path, Stated: x.Stated, Meant: x.Meant, Place: l.place(x.Place)})
	}
	if c := f.Cause; c != nil {
		out.Cause = &Cause{Path: c.Path, Stated: c.Stated, Place: l.place(c.Place), Meant: c.Meant}
	}
	for _, r := range f.Derived {
		l.derived[r.Path] = r.Text
		out.Derived = append(out.Derived, r.Path)
	}
	out.Doubts = doubtsOf(f)
	if c := f.Conceded; c != nil {
		out.Conceded = &Conceded{Reason: c.Reason, GrantedBy: c.By, Until: c.Until, Place: l.place(c.Place)}
	}
	return out
}

// rule puts the rule of a finding into the table, with its grounds once one of its findings is judged, and returns which of
// these are the law for the finding.
func (l *layout) rule(f *engine.Finding) (law []int) {
	rule, known := l.rules[f.Rule]
	if !known {
		rule = Rule{Title: f.Title, Part: f.Part, Danger: string(f.Danger), Due: f.Due, Sense: f.Sense,
			Region: f.Region, Consequence: f.Consequence, KnownFrom: f.KnownFrom, Confirm: f.Confirm}
	}
	if f.Outcome != engine.Open {
		rule.Because, law = groundsOfRule(f)
	}
	l.rules[f.Rule] = rule
	return law
}

func (l *layout) name(f *engine.Finding) {
	if f.SubjectName != "" {
		l.names[f.Subject] = f.SubjectName
	}
}

// read puts facts into their table and lists their paths.
func (l *layout) read(list []engine.FactRead) []string {
	var out []string
	for _, r := range list {
		l.facts[r.Path] = Fact{Text: r.Text, Place: l.place(r.Place)}
		out = append(out, r.Path)
	}
	return out
}

func (l *layout) place(p schema.Place) *Place {
	if p.IsZero() {
		return nil
	}
	out := Place(p)
	if out.File == l.file {
		out.File = ""
	}
	return &out
}

// groundsOfRule are the grounds of a finding's rule as they are for every design, and which of them are the law for this
// one. A law of a rule for everywhere binds where it is the law; that of a region's own rule binds wherever that rule is judged.
func groundsOfRule(f *engine.Finding) (because []Reason, law []int) {
	because = newReasons(f.Because)
	if f.Region != "" {
		return because, nil
	}
	for i := range because {
		if because[i].Standing == "law" {
			because[i].Standing = "law_elsewhere"
			law = append(law, i)
		}
	}
	return because, law
}

func numbers(f *engine.Finding) (*Number, []Bound) {
	var measured *Number
	if f.Measured != nil {
		n := Number(*f.Measured)
		measured = &n
	}
	var bounds []Bound
	for _, b := range f.Bounds {
		bounds = append(bounds, Bound{Of: b.Of, Op: b.Op, Bound: Number(b.Bound), Met: b.Met, Margin: b.Margin})
	}
	return measured, bounds
}

func doubtsOf(f *engine.Finding) []Doubt {
	var out []Doubt
	for _, d := range f.Doubts {
		out = append(out, Doubt(d))
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

func newReasons(list []engine.Ground) []Reason {
	out := make([]Reason, len(list))
	for i, g := range list {
		out[i] = Reason{Standing: g.Standing, Text: g.Text, For: g.For}
	}
	return out
}

// stored turns the findings of a stored report back into those of the engine.
func (d *Document) stored(r *Report) []*engine.Finding {
	var out []*engine.Finding
	for i := range r.Findings {
		out = append(out, d.storedFinding(r, &r.Findings[i]))
	}
	for _, x := range r.Rest {
		for _, rule := range x.Rules {
			for _, subject := range x.Met {
				out = append(out, d.storedFinding(r, &Finding{Rule: rule, Outcome: string(engine.Pass), Subject: subject}))
			}
			for _, subject := range x.NotApplicable {
				out = append(out, d.storedFinding(r, &Finding{Rule: rule, Outcome: string(engine.NotApplicable), Subject: subject}))
			}
			for _, subject := range x.Open {
				out = append(out, d.storedFinding(r, &Finding{Rule: rule, Outcome: string(engine.Open), Subject: subject}))
			}
		}
	}
	return out
}

func (d *Document) storedFinding(r *Report, f *Finding) *engine.Finding {
	rule := d.Rules[f.Rule]
	place := func(p *Place) schema.Place {
		if p == nil {
			return schema.Place{}
		}
		out := schema.Place(*p)
		if out.File == "" {
			out.File = ownFile(r.File)
		}
		return out
	}
	out := &engine.Finding{
		Rule: f.Rule, Title: rule.Title, Part: rule.Part, Outcome: engine.Outcome(f.Outcome), Danger: pack.Danger(rule.Danger), Due: rule.Due, Blocks: f.Blocks,
		Subject: f.Subject, SubjectName: r.Names[f.Subject], Place: place(f.Place), Text: f.Text, Remedy: f.Remedy, Sense: rule.Sense,
		Missing: f.Missing, Unreachable: f.Unreachable, Assumed: f.Assumed, Absent: f.Absent,
		Region: rule.Region, Consequence: rule.Consequence, KnownFrom: rule.KnownFrom, Confirm: rule.Confirm,
	}
	if out.Text == "" {
		out.Text = rule.Title
	}
	if f.Measured != nil {
		n := engine.Number(*f.Measured)
		out.Measured = &n
	}
	for _, b := range f.Bounds {
		out.Bounds = append(out.Bounds, engine.BoundFound{Of: b.Of, Op: b.Op, Bound: engine.Number(b.Bound), Met: b.Met, Margin: b.Margin})
	}
	for i, g := range rule.Because {
		if slices.Contains(f.Law, i) {
			g.Standing = "law"
		}
		out.Because = append(out.Because, engine.Ground{Standing: g.Standing, Text: g.Text, For: g.For})
	}
	for _, path := range f.Facts {
		fact := r.Facts[path]
		out.Facts = append(out.Facts, engine.FactRead{Path: path, Text: fact.Text, Place: place(fact.Place)})
	}
	for _, path := range f.Derived {
		out.Derived = append(out.Derived, engine.DerivedRead{Path: path, Text: r.Derived[path]})
	}
	for _, x := range f.Doubts {
		out.Doubts = append(out.Doubts, engine.Doubt(x))
	}
	if c := f.Conceded; c != nil {
		out.Conceded = &engine.Conceded{Reason: c.Reason, By: c.GrantedBy, Until: c.Until, Place: place(c.Place)}
	}
	return out
}
