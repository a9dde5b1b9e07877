package engine

import (
	"slices"
	"strings"
	"time"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

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

// What the rules of local packs may take for one design: about a second; the whole library takes a tenth of it. A subject counts as many steps beside those of its expressions.
const (
	localSteps   = 2_000_000
	subjectSteps = 20
)

// names is the activation of a rule: design, at, limits, tables and its variables.
type names struct {
	design, at, today ref.Val
	fixed             map[string]ref.Val
	own               []ownName
	// meter counts the steps of a local pack's rules; nil while a rule of the library is judged.
	meter *vocabulary.Meter
}

// Meter counts the steps taken.
func (n *names) Meter() *vocabulary.Meter { return n.meter }

// of takes up the names of a rule.
func (j *judging) of(r *rule.Rule) {
	j.names.fixed, j.names.own, j.names.meter = r.Names, j.names.own[:0], nil
	if r.Pack.Local {
		j.names.meter = j.options.meter
	}
}

// ownName is a name of one rule: its each or one of its lets.
type ownName struct {
	name  string
	value ref.Val
}

// ResolveName finds a name's value.
func (n *names) ResolveName(name string) (any, bool) {
	switch name {
	case "design":
		return n.design, true
	case "at":
		return n.at, true
	case "today":
		return n.today, true
	}
	for i := range n.own {
		if n.own[i].name == name {
			return n.own[i].value, true
		}
	}
	v, ok := n.fixed[name]
	return v, ok
}

// Parent is none.
func (n *names) Parent() cel.Activation { return nil }

// judging is one design being judged.
type judging struct {
	library *Library
	options Options
	design  *schema.Design
	scope   *vocabulary.Scope
	names   names
	// named are the regions asked for, regions those with the ones they lie in.
	named, regions []string
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
	// bound are the laws that bind the design.
	bound map[*rule.Binding]bool
	// faults are the slips of packs that showed; judged is the rule that is judged.
	faults document.Problems
	judged *rule.Rule
	// worth is what facts are worth that nobody stated.
	worth worth
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
		j.marks = &marks{of: map[string]uint64{}}
	}
	j.named = o.Regions
	if len(j.named) == 0 {
		j.named = RegionsOf(j.design)
	}
	j.regions = l.withParents(j.named)
	j.bind()
	return j
}

// judge applies some rules, or all of the library when they are nil: then it also says of the design what no rule does.
func (l *Library) judge(d *schema.Design, o Options, values derive.Options, rules []*rule.Rule) *Report {
	whole := rules == nil
	if whole {
		rules = l.rules
	}
	j := l.open(d, o, values)
	var bench *Bench
	if whole && len(o.Things) > 0 {
		bench = l.bench(d, o, o.Things, Near)
		j, values = bench.open(), bench.values
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
	report.Loosened = l.loosened
	stage := StageRank(report.Stage)
	for _, f := range j.found {
		f.Blocks = f.Conceded == nil && !(f.Sense && f.Outcome == Open) && (f.Outcome == Fail || f.Outcome == Open) && blocks(f.Outcome, stage, StageRank(f.Due))
	}
	j.likely()
	report.Findings = j.arrange()
	if !o.Waiting {
		report.Findings = slices.DeleteFunc(report.Findings, func(f Finding) bool { return f.Sense && f.Outcome == Open })
	}
	report.Regions = j.judgedFor(report.Findings)
	report.Unread = j.read.unread(d)
	report.Cautions = j.take(report.Findings)
	report.Faults = j.faults.Tidy()
	report.decides = j.worth.decide()
	report.Asked = questions(d, report)
	report.Assumed = l.assumptionsUsed(j.scope.Session(), report.Findings, o.Units)
	return report
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

// rules applies rules to their subjects.
func (j *judging) rules(rules []*rule.Rule) {
	for _, r := range rules {
		r.Ready()
	}
	for i, list := range j.foresee(rules) {
		j.rule(rules[i], list)
	}
}

// rule applies one rule to its subjects, the items of its list if it has one.
func (j *judging) rule(r *rule.Rule, list ref.Val) {
	j.of(r)
	if r.Each == nil {
		if j.afford(r, r.Decl.About) {
			j.subject(r, r.Decl.About, nil, 0)
		}
		return
	}
	items, ok := vocabulary.ItemsOf(list)
	if !ok {
		j.unlisted(r, r.List(), list)
		return
	}
	view, judged := derive.ViewAt(r.List()), 0
	for i, item := range items {
		missing, _ := vocabulary.Missing(item)
		if len(missing) > 0 && view != nil && view.Spare == missing[0] {
			continue // a rule about the part itself asks for it
		}
		judged++
		if len(missing) > 0 && j.rest(missing[0]) {
			continue // those that were named are judged; whether there are more is asked once, by rules that need to know
		}
		if len(missing) > 0 {
			j.unlisted(r, missing[0], item) // a list of the view that nobody stated
			continue
		}
		if !j.afford(r, r.List()) {
			return
		}
		j.names.own = append(j.names.own[:0], ownName{r.EachVar, item})
		j.subject(r, vocabulary.PathOf(item), item, i)
	}
	if judged == 0 {
		f := j.begin(r, r.List())
		f.Outcome, f.Absent = NotApplicable, r.List()
		f.Text = "There is nothing of this kind in the design."
	}
}

// afford takes the steps of one subject of a local pack's rule; where there are none left, the rule stays open.
func (j *judging) afford(r *rule.Rule, subject string) bool {
	if j.names.meter == nil || j.names.meter.Spend(subjectSteps) {
		return true
	}
	j.unsettled(j.begin(r, subject), vocabulary.Spent())
	return false
}

// rest reports whether a path is that of an open list, which stands for what is not named of it.
func (j *judging) rest(path string) bool {
	_, open := j.design.OpenListAt(path)
	return open
}

// unlisted judges a rule whose list is not known: what applies asks beside the items may rule it out already.
func (j *judging) unlisted(r *rule.Rule, subject string, list ref.Val) {
	j.scope.Start()
	f := j.begin(r, subject)
	if r.Applies != nil {
		j.names.own = append(j.names.own[:0], ownName{r.EachVar, list})
		for _, l := range r.Lets {
			j.names.own = append(j.names.own, ownName{l.Name, l.Prog.Eval(&j.names)})
		}
		if r.Applies.Eval(&j.names) == types.False {
			f.Outcome, f.Text = NotApplicable, f.Title
			return
		}
	}
	j.unsettled(f, list)
}

// begin makes a finding and notes it among those found.
func (j *judging) begin(r *rule.Rule, subject string) *Finding {
	f := j.next()
	j.judged = r
	f.Rule, f.Title, f.Part, f.Danger, f.Due = r.ID, r.Decl.Title, r.Pack.Part, r.Decl.Danger, r.Decl.Due
	f.Subject, f.Because, f.Place, f.Sense = subject, j.standing(r.Grounds), j.placeOf(subject), r.Decl.Sense
	f.Numeric = r.Measure != nil
	j.regional(r, f)
	j.found, j.orders = append(j.found, f), append(j.orders, r.Order)
	return f
}

// subject judges one subject of a rule; at is its place in the rule's list.
func (j *judging) subject(r *rule.Rule, path string, item ref.Val, at int) {
	j.scope.Start()
	f := j.begin(r, path)
	f.SubjectName = vocabulary.NameOf(item)
	for _, l := range r.Lets {
		j.names.own = append(j.names.own, ownName{l.Name, l.Prog.Eval(&j.names)})
	}
	j.outcome(r, f)
	j.oneUnit(f)
	reads := j.scope.Reads()
	j.read.note(reads)
	j.mark(r, reads)
	if j.resting {
		f.rests = newFacts()
		f.rests.note(reads)
	}
	f.Assumed = slices.Clone(reads.Assumed)
	met := bounds(reads)
	if f.Outcome != NotApplicable || len(met) > 0 {
		j.readings(f, reads)
	}
	switch f.Outcome {
	case Fail, Warn:
		f.Text = j.fill(r.Say)
		f.Which = j.remedy(r)
		f.Remedy = j.fill(r.Mend[f.Which].Text)
	case Pass:
		f.Text = j.fill(r.Met)
	}
	if f.Text == "" {
		f.Text = f.Title
	}
	if len(met) > 0 {
		j.across(r, f, at, met)
	}
	switch f.Outcome {
	case Fail, Warn, Pass:
		f.Text = withHearsay(f.Text, r.KnownFrom)
	}
}

// outcome decides between pass, warn, fail, open and not applicable.
func (j *judging) outcome(r *rule.Rule, f *Finding) {
	if r.Applies != nil {
		switch v := r.Applies.Eval(&j.names); v {
		case types.True:
		case types.False:
			f.Outcome = NotApplicable
			return
		default:
			j.unsettled(f, v)
			return
		}
	}
	var measured ref.Val
	if r.Measure != nil {
		measured = r.Measure.Eval(&j.names)
		if types.IsUnknownOrError(measured) {
			if r.Must == nil || r.Must.Condition == nil {
				j.unsettled(f, measured)
				return
			}
		} else {
			n := j.number(measured)
			f.Measured = &n
		}
	}
	strong, weak := "must", "should"
	if r.Milder {
		strong = "should"
	}
	if r.Raised {
		weak = "must"
	}
	must := j.test(r.Must, strong, measured, f)
	if must == types.False {
		f.Outcome = broken(strong)
		return
	}
	if must != types.True {
		j.unsettled(f, must)
		return
	}
	switch should := j.test(r.Should, weak, measured, f); should {
	case types.True:
		f.Outcome = Pass
	case types.False:
		f.Outcome = broken(weak)
	default:
		j.unsettled(f, should)
	}
}

// broken is the outcome when a must or a should is not met.
func broken(of string) Outcome {
	if of == "must" {
		return Fail
	}
	return Warn
}

// test evaluates must or should: true, false, or what keeps it from both.
func (j *judging) test(t *rule.Test, of string, measured ref.Val, f *Finding) ref.Val {
	switch {
	case t == nil:
		return types.True
	case t.Condition != nil:
		return t.Condition.Eval(&j.names)
	}
	out := ref.Val(types.True)
	for _, b := range t.Bounds {
		limit := b.Value
		if b.Prog != nil {
			limit = b.Prog.Eval(&j.names)
		}
		met := compareBound(b.Op, measured, limit)
		if types.IsUnknownOrError(met) {
			if out == types.True {
				out = met
			}
			continue
		}
		f.Bounds = append(f.Bounds, j.boundFound(of, b.Op, measured, limit, met == types.True))
		if met == types.False {
			out = types.False
		}
	}
	return out
}

// absence says why something is absent: the design says that a part is not
// there, or a derived value leaves nothing for it.
func absence(path string) string {
	if strings.HasPrefix(path, "at.") {
		return "there is nothing to judge, with the " + path + " there is"
	}
	return "the design says there is none: " + path
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// unsettled makes a finding open, or not applicable when a part is absent.
func (j *judging) unsettled(f *Finding, v ref.Val) {
	f.Outcome = Open
	if path, ok := vocabulary.AbsentPart(v); ok {
		f.Outcome, f.Absent = NotApplicable, path
		f.Text = capital(absence(path)) + "."
		return
	}
	if e := faulty(v); e != nil {
		f.Unreachable = append(f.Unreachable, e.Error())
		if !j.trial {
			f.Fault = j.fault(j.judged, j.judged.Deciding(), e, f.Subject)
		}
		return
	}
	f.Missing, f.Unreachable = vocabulary.Missing(v)
	for i, reason := range f.Unreachable {
		f.Unreachable[i] = derive.InUnits(reason, j.options.Units)
	}
	if len(f.Missing) == 0 {
		j.blame(f)
	}
}

// blame makes the facts that a value failed on the question of a finding that
// lacks none: what is stated there is to be looked at again.
func (j *judging) blame(f *Finding) {
	if j.trial {
		return
	}
	reads := j.scope.Reads()
	for _, d := range reads.Derived {
		for _, path := range d.Blamed() {
			if !slices.Contains(f.Missing, path) {
				f.Missing = append(f.Missing, path)
			}
		}
	}
	for i := 0; i < len(reads.Facts) && len(f.Missing) == 0; i++ {
		f.Missing = append(f.Missing, reads.Facts[i].Path())
	}
	slices.Sort(f.Missing)
}
