package engine

import (
	"slices"
	"time"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/pattern"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Options change how a design is judged.
type Options struct {
	// Units is the system numbers are printed in.
	Units quantity.System
	// NoAssumptions leaves facts open that a pack would assume.
	NoAssumptions bool
	// Stage judges as if the job had come this far; the design's own, if empty.
	Stage string
	// Regions are the regions judged for; the design's own, if empty.
	Regions []string
	// Today decides how old things are and whether concessions still hold; without it ages are unknown and no concession ends.
	Today time.Time
	// Unread also lists the stated facts that nothing read.
	Unread bool
	// Patterns are usual ways to build something, by which open findings lean; in order of their groups.
	Patterns []*pattern.Pattern
	// Things are facts that will be tried at other values, those that are changed together as one: TakeBench of the report gives what is needed for that.
	Things [][]string
	// Waiting keeps checks of sense that wait for facts, which a report leaves out.
	Waiting bool

	// meter is what the rules of local packs may take for the design, however often it is judged again.
	meter *vocabulary.Meter
}

// judging is one design being judged.
type judging struct {
	library *Library
	options Options
	design  *schema.Design
	scope   *vocabulary.Scope
	names   names
	// named are the regions asked for, regions those with the ones they lie in.
	named, regions []string
	// figures are those of the regions it is judged for, place those in use now; unplaced is set where it does not say where it is used.
	figures  []*placed
	place    *placed
	unplaced bool
	// texts are the quantities already written out.
	texts map[quantity.Value]string
	// found are the findings so far, orders the order of their rules; room is
	// where those foreseen stand.
	found  []*Finding
	orders []int
	room   []Finding
	// facts and values are room for what findings rest on, line for a sentence.
	facts  []FactRead
	values []DerivedRead
	line   []byte
	// places are the places of subjects already looked up.
	places map[string]schema.Place
	// read are the paths of the facts that were read, when that is asked for.
	read *facts
	// trial is set for a judging in another world, resting to note all facts a finding rests on.
	trial, resting bool
	// terse leaves out what findings say.
	terse bool
	// bound are the laws that bind the design.
	bound map[*rule.Binding]bool
	// faults are the slips of packs that showed; judged is the rule that is judged.
	faults document.Problems
	judged *rule.Rule
	// worth is what facts are worth that nobody stated; unasked is set where nobody is asked for any.
	worth   worth
	unasked bool
	// worlds are the other worlds the design was judged in.
	worlds map[derive.World]*judging
	// marks are those of the facts that the findings of a rule rest on, by its name; nil notes none.
	marks *marks
	// bench keeps what judging again and again can share; nil for none.
	bench *Bench
}

func (j *judging) placeOf(subject string) schema.Place {
	p, ok := j.places[subject]
	if !ok {
		p = j.design.PlaceOf(subject)
		j.places[subject] = p
	}
	return p
}

// Judge applies every rule to a design. What cannot be judged is open, never an error; a rule that breaks is a fault of its pack.
func (l *Library) Judge(d *schema.Design, o Options) *Report {
	assumed := l.assumptions
	if o.NoAssumptions {
		assumed = nil
	}
	return l.judge(d, o, derive.Options{Assumptions: assumed}, nil)
}

// open makes a design ready to be judged.
func (l *Library) open(d *schema.Design, o Options, values derive.Options) *judging {
	return l.openIn(derive.NewSession(d, values), o)
}

// openIn makes the design of a session ready to be judged.
func (l *Library) openIn(s *derive.Session, o Options) *judging {
	if o.meter == nil {
		o.meter = vocabulary.NewMeter(localSteps)
	}
	j := &judging{library: l, options: o, design: s.Design(), scope: vocabulary.NewScope(s), texts: map[quantity.Value]string{}, places: map[string]schema.Place{}, bound: map[*rule.Binding]bool{}}
	j.names.design, j.names.at = l.vocabulary.Root(j.scope)
	j.names.today = vocabulary.Day(o.Today)
	if s.Marking() {
		j.marks = newMarks()
	}
	j.named = o.Regions
	if len(j.named) == 0 {
		j.named = RegionsOf(j.design)
	}
	j.regions = l.withParents(j.named)
	j.placed()
	j.bind()
	return j
}

// judge applies some rules, or all of the library when they are nil: then it also says of the design what no rule does.
func (l *Library) judge(d *schema.Design, o Options, values derive.Options, rules []*rule.Rule) *Report {
	whole := rules == nil
	if whole {
		rules = l.rules
	}
	var j *judging
	var bench *Bench
	if whole && len(o.Things) > 0 {
		bench = l.bench(d, o, o.Things, Near, true)
		j, values = bench.open(), bench.values
	} else {
		j = l.open(d, o, values)
	}
	report := &Report{File: d.Place().File, Stage: j.stage()}
	report.Title, _ = d.Title.Get()
	replaced := j.replaced(rules)
	rules = slices.DeleteFunc(slices.Clone(rules), func(r *rule.Rule) bool { return replaced[r.ID] || !j.inRegion(r.Pack) })
	if o.Unread && whole {
		j.read = newFacts()
	}
	j.rules(rules)
	if whole {
		j.takeFaults()
	}
	j.withoutHouse(rules, values)
	if whole || len(o.Patterns) > 0 {
		j.lean(rules, values)
	}
	if bench != nil {
		bench.settled(j)
		report.bench = bench
	}
	j.doubt(rules)
	j.found = append(j.found, j.unknownRegions(j.named)...)
	if whole {
		j.found = append(j.found, j.unstated()...)
	}
	j.found = append(j.found, j.concede(j.found)...)
	report.Overridden = j.overridden()
	report.Loosened, report.Shelved = l.loosened, d.Shelved()
	j.block()
	j.likely()
	report.Findings = j.arrange()
	if !o.Waiting {
		report.Findings = slices.DeleteFunc(report.Findings, func(f Finding) bool { return f.Sense && f.Outcome == Open })
	}
	report.Regions = j.judgedFor(report.Findings)
	report.Unread = j.read.unread(d)
	report.Cautions = j.take(report.Findings)
	report.Faults = j.faults.Tidy()
	report.decides, report.declared = j.worth.decide(), l.declared
	report.Asked = questions(d, report)
	report.Assumed = l.assumptionsUsed(j.scope.Session(), report.Findings, o.Units)
	return report
}

// block marks the findings that stand against the next step of the job.
func (j *judging) block() {
	stage := StageRank(j.stage())
	for _, f := range j.found {
		f.Blocks = f.Conceded == nil && !(f.Sense && f.Outcome == Open) && (f.Outcome == Fail || f.Outcome == Open) && blocks(f.Outcome, stage, StageRank(f.Due))
	}
}

// blocks says whether a finding stands against the next step of the job: a fail when it is due by then, of a planned job
// by the time it is ordered; an open one once the job has come to the stage it is due at, but never while it is only
// planned: a planned design may leave questions.
func blocks(o Outcome, stage, due int) bool {
	switch o {
	case Fail:
		return stage+1 >= due
	case Open:
		return stage >= max(due, StageRank("ordered"))
	}
	return false
}

func (j *judging) stage() string { return j.options.StageOf(j.design) }

// StageOf is the stage a design is judged at: that of the options, its own, or planned.
func (o Options) StageOf(d *schema.Design) string {
	if o.Stage != "" {
		return o.Stage
	}
	if s, ok := d.Stage.Get(); ok {
		return string(s)
	}
	return "planned"
}

// RegionsOf lists the regions a design names.
func RegionsOf(d *schema.Design) []string {
	var out []string
	for _, f := range d.Regions.Items {
		if name, ok := f.Get(); ok {
			out = append(out, name)
		}
	}
	return out
}

func (j *judging) inRegion(p *pack.Pack) bool {
	return len(p.Regions) == 0 || slices.ContainsFunc(p.Regions, func(r string) bool { return slices.Contains(j.regions, r) })
}
