package proof

import (
	"slices"

	"plumbline/engine"
	"plumbline/engine/internal/cores"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
	"plumbline/schema/document"
)

// mostMutants is how many mistakes are tried in one rule. Of a rule that could
// have more, every so-many-th is taken.
const mostMutants = 40

// Tally counts what the cases of rules show.
type Tally struct {
	Cases int
	// Parts of the rules, and those the cases show true and false.
	Parts, Shown int
	// Mutants tried, and those a case noticed; Listed are listed as equal in
	// effect and count in neither.
	Mutants, Killed, Listed int
}

func (t *Tally) add(o Tally) {
	t.Cases += o.Cases
	t.Parts, t.Shown = t.Parts+o.Parts, t.Shown+o.Shown
	t.Mutants, t.Killed, t.Listed = t.Mutants+o.Mutants, t.Killed+o.Killed, t.Listed+o.Listed
}

// LeastNoticed is the share of the mistakes tried that cases must notice, in percent.
const LeastNoticed = 95

// NoticesEnough says whether the cases notice at least LeastNoticed of the mistakes.
func (t Tally) NoticesEnough() bool { return t.Killed*100 >= t.Mutants*LeastNoticed }

// Survivor is a mistake in a rule that no case notices.
type Survivor struct {
	Rule string
	// Mutation says the mistake: must: a >= b -> a > b.
	Mutation string
	Place    schema.Place
}

// RuleMeasurement is what the cases of one rule show.
type RuleMeasurement struct {
	Rule, Pack string
	Place      schema.Place
	Tally
	// Unseen are the parts not shown both true and false.
	Unseen []Part
	// Survivors are the mistakes no case notices and no list excuses.
	Survivors []Survivor
}

// Measurement says how far the cases prove the rules.
type Measurement struct {
	Tally
	// Rules are in the order of the library.
	Rules []RuleMeasurement
	// Problems are wrong lines of the lists of equals.
	Problems document.Problems
}

// Without leaves some rules out of a measurement.
func (m *Measurement) Without(rules []string) *Measurement {
	out := &Measurement{Problems: m.Problems}
	for _, r := range m.Rules {
		if !slices.Contains(rules, r.Rule) {
			out.Rules = append(out.Rules, r)
			out.Tally.add(r.Tally)
		}
	}
	return out
}

// Measure runs the cases of every rule against the rule with one small mistake
// at a time (another comparison, a limit or number moved by five percent, a
// clause dropped, && for ||, a condition negated, another word), and watches
// which parts of the rule the cases show true and false. A mistake is noticed,
// or killed, when the verdict on some case changes; one that would not load is
// not counted. Equals are mistakes known to make no difference.
func Measure(l *engine.Library, equals []Equal) (*Measurement, error) {
	l = l.Written()
	benches := map[int]*bench{}
	for w := range cores.Workers(len(l.Rules())) {
		b, err := newBench(l)
		if err != nil {
			return nil, err
		}
		benches[w] = b
	}
	out := &Measurement{Rules: make([]RuleMeasurement, len(l.Rules()))}
	problems := make([]document.Problems, len(l.Rules()))
	errs := make([]error, len(l.Rules()))
	cores.Do(len(l.Rules()), func(worker, i int) {
		r := l.Rules()[i]
		mine := slices.DeleteFunc(slices.Clone(equals), func(e Equal) bool { return e.Rule != r.ID })
		out.Rules[i], problems[i], errs[i] = benches[worker].measure(r, mine)
	})
	for i := range l.Rules() {
		if errs[i] != nil {
			return nil, errs[i]
		}
		out.Tally.add(out.Rules[i].Tally)
		out.Problems = append(out.Problems, problems[i]...)
	}
	for _, e := range equals {
		if !slices.ContainsFunc(l.Rules(), func(r *rule.Rule) bool { return r.ID == e.Rule }) {
			out.Problems = append(out.Problems, e.problem("there is no rule "+e.Rule))
		}
	}
	out.Problems = out.Problems.Tidy()
	return out, nil
}

// measure measures one rule.
func (b *bench) measure(r *rule.Rule, equals []Equal) (RuleMeasurement, document.Problems, error) {
	out := RuleMeasurement{Rule: r.ID, Pack: r.Pack.Pack, Place: r.Decl.Place}
	spots, err := spots(b.library, r)
	if err != nil {
		return out, nil, err
	}
	cases := openCases(b.library, r)
	out.Cases = len(r.Decl.Cases)
	parts, err := b.watch(r, spots, cases)
	if err != nil {
		return out, nil, err
	}
	out.Parts = len(parts)
	for _, p := range parts {
		if p.Missing() != "" {
			out.Unseen = append(out.Unseen, p)
		}
	}
	out.Shown = out.Parts - len(out.Unseen)

	// Try the mistakes, those on the list among them.
	all := b.mutants(r, spots)
	chosen := choose(all, func(m mutant) bool {
		return slices.ContainsFunc(equals, func(e Equal) bool { return e.Mutation == m.what })
	})
	result := map[string]string{}
	for _, m := range chosen {
		changed := m.build(b)
		listed := slices.ContainsFunc(equals, func(e Equal) bool { return e.Mutation == m.what })
		switch {
		case changed == nil:
			result[m.what] = "it would not load anyway"
		case noticed(changed, cases):
			result[m.what] = "a case notices it now"
			out.Mutants++
			out.Killed++
		case listed:
			out.Listed++
			result[m.what] = ""
		default:
			out.Mutants++
			out.Survivors = append(out.Survivors, Survivor{r.ID, m.what, m.place})
		}
	}
	var problems document.Problems
	for _, e := range equals {
		why, tried := result[e.Mutation]
		if !tried {
			why = "the rule has no such place for a mistake any more"
		}
		if why != "" {
			problems = append(problems, e.problem(why+": "+e.Mutation))
		}
	}
	return out, problems, nil
}

// noticed says whether the verdict on some case changes.
func noticed(r *rule.Rule, cases []*openCase) bool {
	return slices.ContainsFunc(cases, func(c *openCase) bool { return c.outcome(r) != c.given })
}

// choose takes at most mostMutants, evenly spread, and those that must be tried.
func choose(all []mutant, must func(mutant) bool) []mutant {
	if len(all) <= mostMutants {
		return all
	}
	var out []mutant
	for i, m := range all {
		if i*mostMutants/len(all) != (i-1)*mostMutants/len(all) || i == 0 || must(m) {
			out = append(out, m)
		}
	}
	return out
}
