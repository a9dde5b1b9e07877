package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine"
	"plumbline/engine/pack"
)

// thing makes a finding of the pack fuel on a subject.
func thing(o engine.Outcome, subject, name string, change ...func(f *engine.Finding)) engine.Finding {
	f := engine.Finding{
		Rule: "fuel.hose", Title: "the hose holds", Part: "fuel", Outcome: o, Danger: "engine", Due: "planned", Blocks: o == engine.Fail,
		Subject: subject, SubjectName: name, Text: "the hose holds",
	}
	for _, c := range change {
		c(&f)
	}
	return f
}

func conceding(f *engine.Finding) {
	f.Blocks, f.Conceded = false, &engine.Conceded{Reason: "bench", By: "lead", Until: "2027-03-31"}
}
func fire(f *engine.Finding)    { f.Danger = "fire" }
func control(f *engine.Finding) { f.Danger = "loss_of_control" }
func blocks(f *engine.Finding)  { f.Blocks = true }
func waits(f *engine.Finding)   { f.Blocks = false }
func ruled(name string) func(f *engine.Finding) {
	return func(f *engine.Finding) { f.Rule = name }
}
func text(s string) func(f *engine.Finding) {
	return func(f *engine.Finding) { f.Text = s }
}

// library has the pack fuel with two rules.
func library(digest string) About {
	return About{Version: "test", Digest: digest, Packs: []*pack.Pack{{Pack: "fuel", Rules: []pack.Rule{{ID: "hose"}, {ID: "late"}}}}}
}

func report(file string, findings ...engine.Finding) *engine.Report {
	return &engine.Report{File: file, Stage: "ordered", Findings: findings}
}

// then stores reports made with the library 00.
func then(reports ...*engine.Report) *Document {
	d := NewDocument(reports, library("00"))
	return &d
}

const hoses = "design.feed.runs"

func TestStanding(t *testing.T) {
	pass, na, warn, open, fail := engine.Pass, engine.NotApplicable, engine.Warn, engine.Open, engine.Fail
	a := func(o engine.Outcome, change ...func(f *engine.Finding)) *engine.Finding {
		f := thing(o, hoses+"[0]", "hose", change...)
		return &f
	}
	for name, c := range map[string]struct {
		was, now *engine.Finding
		since    standing
		before   string
		blocks   bool
	}{
		"not there, fail":                  {nil, a(fail), isNew, "", true},
		"not there, warn":                  {nil, a(warn), isNew, "", false},
		"not there, open":                  {nil, a(open), isNew, "", false},
		"not there, open that blocks":      {nil, a(open, blocks), isNew, "", true},
		"not there, pass":                  {nil, a(pass), "", "", false},
		"not there, conceded":              {nil, a(fail, conceding), isNew, "", false},
		"pass to fail":                     {a(pass), a(fail), isNew, "met", true},
		"pass to conceded fail":            {a(pass), a(fail, conceding), isNew, "met", false},
		"not applicable to fail":           {a(na), a(fail), isNew, "it did not apply", true},
		"pass to open":                     {a(pass), a(open), isNew, "met", false},
		"warn to fail":                     {a(warn), a(fail), isWorse, "doubtful", true},
		"warn to open":                     {a(warn), a(open, blocks), isWorse, "doubtful", true},
		"open to fail":                     {a(open), a(fail), isWorse, "open", true},
		"fail to open":                     {a(fail), a(open), isMilder, "wrong", false},
		"fail to open that blocks":         {a(fail), a(open, blocks), isMilder, "wrong", false},
		"fail to warn":                     {a(fail), a(warn), isMilder, "wrong", false},
		"open to warn":                     {a(open), a(warn), isMilder, "open", false},
		"fail to pass":                     {a(fail), a(pass), isMended, "wrong", false},
		"warn to not applicable":           {a(warn), a(na), isMended, "doubtful", false},
		"open to pass":                     {a(open), a(pass), isMended, "open", false},
		"conceded to pass":                 {a(fail, conceding), a(pass), isMended, "wrong, conceded until 2027-03-31", false},
		"fail stays":                       {a(fail), a(fail), isUnchanged, "", false},
		"warn stays":                       {a(warn), a(warn), isUnchanged, "", false},
		"open stays":                       {a(open), a(open), isUnchanged, "", false},
		"pass stays":                       {a(pass), a(pass), "", "", false},
		"pass to not applicable":           {a(pass), a(na), "", "", false},
		"conceded stays":                   {a(fail, conceding), a(fail, conceding), isUnchanged, "", false},
		"concession lost":                  {a(fail, conceding), a(fail), isNew, "wrong, conceded until 2027-03-31; that concession is gone", true},
		"concession lost, milder":          {a(fail, conceding), a(warn), isNew, "wrong, conceded until 2027-03-31; that concession is gone", false},
		"concession got":                   {a(fail), a(fail, conceding), isMended, "wrong", false},
		"comes to stop the job":            {a(fail, waits), a(fail), isWorse, "wrong, and did not stop the job", true},
		"fire stays":                       {a(fail, fire), a(fail, fire), isUnchanged, "", true},
		"fire stays open":                  {a(open, blocks, fire), a(open, blocks, fire), isUnchanged, "", true},
		"fire stays but does not block":    {a(fail, fire, waits), a(fail, fire, waits), isUnchanged, "", false},
		"fire only mended in part":         {a(fail, fire), a(open, blocks, fire), isMilder, "wrong", true},
		"loss of control stays":            {a(fail, control), a(fail, control), isUnchanged, "", true},
		"the danger became one of fire":    {a(fail), a(fail, fire), isUnchanged, "", true},
		"the danger is no longer one here": {a(fail, fire), a(fail), isUnchanged, "", false},
	} {
		t.Run(name, func(t *testing.T) {
			old := report("a.yaml")
			if c.was != nil {
				old.Findings = append(old.Findings, *c.was)
			}
			p := NewProgress("before.json", then(old), []*engine.Report{report("a.yaml", *c.now)}, library("00"))
			x := p.designs[0].changes[0]
			assert.Equal(t, c.since, x.since)
			assert.Equal(t, c.before, x.before)
			assert.Equal(t, c.blocks, p.Blocks())
		})
	}
}

// What is gone is mended, and the reason is told.
func TestGone(t *testing.T) {
	now := []engine.Finding{thing(engine.Pass, hoses+"[0]", "hose"), thing(engine.Pass, "design.return_line.runs[0]", "")}
	for name, c := range map[string]struct {
		was  engine.Finding
		want string
	}{
		"the item is gone":         {thing(engine.Fail, hoses+"[1]", "tube"), "wrong; no longer judged, it is not in the design now"},
		"the rule is gone":         {thing(engine.Open, hoses+"[0]", "hose", ruled("fuel.old")), "open; no longer judged, the rule is gone from the library"},
		"the rule is not judged":   {thing(engine.Warn, hoses+"[0]", "hose", ruled("fuel.late")), "doubtful; no longer judged, its rules do not cover this design now"},
		"the engine's own finding": {thing(engine.Fail, "design.concessions[0]", "", ruled("design/concessions.valid")), "wrong; not found any more"},
		"the list was not stated":  {thing(engine.Open, "design.return_line.runs", ""), "open; its items are judged one by one now"},
		"one of a name is gone":    {thing(engine.Fail, hoses+"[4]", "hose", text("burst")), "wrong; no longer found, others of this name are judged"},
	} {
		t.Run(name, func(t *testing.T) {
			old := report("a.yaml", thing(engine.Pass, hoses+"[0]", "hose"), c.was)
			p := NewProgress("before.json", then(old), []*engine.Report{report("a.yaml", now...)}, library("00"))
			assert.Equal(t, Changes{Mended: 1, Gone: 1}, p.counts())
			assert.Equal(t, c.want, p.designs[0].gone[0].before)
			assert.False(t, p.Blocks())
		})
	}
}

// A finding that was not there says so when its rule or its region is what is new.
func TestWhyNew(t *testing.T) {
	late := thing(engine.Fail, hoses+"[0]", "hose", ruled("fuel.late"))
	regional := thing(engine.Fail, hoses+"[0]", "hose", ruled("fuel.late"), func(f *engine.Finding) { f.Region = "us-ca" })
	engineOwn := thing(engine.Fail, "design.concessions[0]", "", ruled("design/concessions.valid"))
	old := report("a.yaml", thing(engine.Pass, hoses+"[0]", "hose"))
	for name, c := range map[string]struct {
		old    *engine.Report
		now    engine.Finding
		digest string
		want   string
	}{
		"the rule is new":                {old, late, "01", "not judged, the rule is new"},
		"digest not known":               {old, late, "", "not judged, the rule is new"},
		"the library is the same":        {old, late, "00", ""},
		"only the subject is new":        {old, thing(engine.Fail, hoses+"[1]", "tube"), "01", ""},
		"the rule was judged elsewhere":  {report("a.yaml", thing(engine.Pass, "design.pump", "", ruled("fuel.late"))), late, "01", ""},
		"the region was not judged then": {old, regional, "01", "not judged for us-ca"},
		"the engine's own finding":       {old, engineOwn, "01", ""},
		"nothing was stored":             {report("a.yaml"), late, "01", ""},
		"the design was not stored":      {report("b.yaml", old.Findings...), late, "01", ""},
	} {
		t.Run(name, func(t *testing.T) {
			p := NewProgress("before.json", then(c.old), []*engine.Report{report("a.yaml", c.now)}, library(c.digest))
			assert.Equal(t, isNew, p.designs[0].changes[0].since)
			assert.Equal(t, c.want, p.designs[0].changes[0].before)
		})
	}
}

func TestDesignsAreKnownByTheirPath(t *testing.T) {
	old := then(report("./jobs//van.yaml", thing(engine.Warn, "design.pump", "")), report("jobs/z.yaml"), report("jobs/old.yaml"))
	p := NewProgress("before.json", old, []*engine.Report{
		report("jobs/van.yaml", thing(engine.Warn, "design.pump", "")),
		report("jobs/other.yaml", thing(engine.Warn, "design.pump", "")),
	}, library("00"))
	assert.Equal(t, Changes{New: 1, Unchanged: 1}, p.counts())
	assert.Equal(t, []string{"jobs/old.yaml", "jobs/z.yaml"}, p.notJudged)
	assert.Equal(t, []string{
		"jobs/other.yaml is not in before.json: all its findings are new.",
		"In before.json but not judged now: jobs/old.yaml and jobs/z.yaml.",
	}, p.remarks())
}

func TestOtherPathsAreRemarked(t *testing.T) {
	p := NewProgress("before.json", then(report("jobs/van.yaml")), []*engine.Report{report("van.yaml")}, library("00"))
	assert.Equal(t, []string{
		"van.yaml is not in before.json: all its findings are new.",
		"In before.json but not judged now: jobs/van.yaml.",
		"No design has the path it had then. If they are the same designs, check them from the same folder and name them in the same way.",
	}, p.remarks())
}

func TestOtherRegionsAreRemarked(t *testing.T) {
	old, now := report("a.yaml"), report("a.yaml")
	old.Regions = []engine.RegionJudged{{Name: "us"}, {Name: "us-ca"}}
	p := NewProgress("before.json", then(old), []*engine.Report{now}, library("00"))
	assert.Equal(t, []string{"a.yaml: it was judged for us and us-ca then and for no region now."}, p.remarks())
}

func TestRemarksOnRulesAndStage(t *testing.T) {
	built := report("a.yaml")
	built.Stage = "handed_over"
	p := NewProgress("before.json", then(report("a.yaml")), []*engine.Report{built}, library("01"))
	assert.Equal(t, []string{
		"The rules changed since: a new finding may come from a new or tightened rule.",
		"a.yaml: the job was ordered then and is handed over now.",
	}, p.remarks())
}
