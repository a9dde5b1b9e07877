package engine

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// Ranked is something that could be asked, with what the answer is good for.
type Ranked struct {
	Path string
	// Rules are those that wait for it, Alone is how many of their findings wait for nothing else.
	Rules []string
	Alone int
	// Danger is the worst one among them, Due the earliest stage one is due at.
	Danger pack.Danger
	Due    string
	// Later says that none of them is due at the stage that comes next.
	Later bool
	// Decides is how many numbers of the parts that are bought hang on it in a usual build of a planned job; 0 for what does
	// not decide. Figure is set for a fact by which such a part is bought, and for a list of such parts; Refines where no
	// half number hangs on it of a part whose figure is unknown: then it makes sharper what is known.
	Decides         float64
	Figure, Refines bool
	// From is where the answer is found.
	From words.Where
	// class is 0 for grave dangers due soon, 1 for the rest that is, 2 and 3 for what is due later.
	class int
	// weight is how many rules it is good for, by the effort of answering: a rule that waits at five circuits counts a
	// fifth for each.
	weight float64
}

// Rank ranks what open findings wait for, the most useful first: what is due at the next stage before the rest, and
// there grave dangers first; then by how many rules each answer is good for. Of a planned job that was judged with patterns
// comes first what decides on the parts: what somebody remembers, sees, reads off, in this order; and what has to be measured
// or looked up comes last. ask says what to ask for a missing fact, "" for nothing.
func Rank(report *Report, ask func(path string) string) []Ranked {
	findings, stage := report.Findings, report.Stage
	waits := func(f *Finding) bool { return f.Outcome == Open && !f.Sense && len(f.Missing) > 0 }
	waiting := map[string]int{}
	for i := range findings {
		if f := &findings[i]; waits(f) {
			waiting[f.Rule]++
		}
	}
	soon := StageRank(stage) + 1
	byPath := map[string]*Ranked{}
	for i := range findings {
		f := &findings[i]
		if !waits(f) {
			continue
		}
		var met []string
		for _, missing := range f.Missing {
			path := ask(missing)
			if path == "" || slices.Contains(met, path) {
				continue
			}
			met = append(met, path)
			r := byPath[path]
			if r == nil {
				r = &Ranked{Path: path, Danger: f.Danger, Due: f.Due, class: math.MaxInt}
				byPath[path] = r
			}
			r.add(f, soon, 1/float64(waiting[f.Rule]))
			if len(f.Missing) == 1 {
				r.Alone++
			}
		}
	}
	deciding(byPath, report.decides, ask)
	planned := soon == 1
	out := make([]Ranked, 0, len(byPath))
	for _, r := range byPath {
		r.weight /= effort(report.declared.Describe(r.Path).Field)
		r.Later = r.class >= 2
		if r.From == "" {
			r.From = WhereTo(report.declared, r.Path)
		}
		slices.Sort(r.Rules)
		out = append(out, *r)
	}
	slices.SortFunc(out, func(a, b Ranked) int {
		return cmp.Or(
			a.order(planned)-b.order(planned),
			cmp.Compare(math.Round(b.Decides*1e6), math.Round(a.Decides*1e6)),
			a.class-b.class,
			cmp.Compare(math.Round(b.weight*1e6), math.Round(a.weight*1e6)),
			b.Alone-a.Alone,
			a.Danger.Rank()-b.Danger.Rank(),
			schema.Path(a.Path).Compare(schema.Path(b.Path)),
			strings.Compare(a.Path, b.Path),
		)
	})
	return out
}

// deciding marks what decides, also where no finding says that it misses it.
func deciding(byPath map[string]*Ranked, decides map[string]*hanging, ask func(path string) string) {
	for path, h := range decides {
		asked := ask(path)
		if asked == "" {
			continue
		}
		r := byPath[asked]
		if r == nil {
			r = &Ranked{Path: asked, Danger: pack.NoDanger, Due: stageOrder[1], class: 1}
			byPath[asked] = r
		}
		r.Decides, r.From, r.Figure = r.Decides+h.numbers+h.late, h.from, r.Figure || h.figure
		r.Refines = h.numbers < decisive
		for rule := range h.rules {
			if !slices.Contains(r.Rules, rule) {
				r.Rules = append(r.Rules, rule)
			}
		}
	}
}

// order is when it is asked: what is due soon before the rest; of a planned job what decides, by where the answer comes from,
// and what is measured or looked up last.
func (r *Ranked) order(planned bool) int {
	switch out := 0; {
	case r.Later:
		return 300
	case !planned:
		return out
	case r.Figure:
		return 10*r.From.Rank() - 1
	case r.Decides > 0 && r.Refines:
		return 50 + r.From.Rank()
	case r.Decides > 0:
		return 10 * r.From.Rank()
	case r.From.AtCounter() || r.From == words.Nobody:
		return 100
	}
	return 200 + r.From.Rank()
}

// Beside says that a question is as good as half the best one and due as soon: it may come before it, where it is about
// what was asked last.
func (r Ranked) Beside(best Ranked) bool {
	return r.class == best.class && r.Decides >= best.Decides/2 && r.weight >= best.weight/2
}

// add counts a finding that waits for it.
func (r *Ranked) add(f *Finding, soon int, weight float64) {
	class := 0
	if StageRank(f.Due) > soon {
		class = 2
	}
	if !f.Danger.Grave() {
		class++
	}
	r.class = min(r.class, class)
	r.weight += weight
	if f.Danger.Rank() < r.Danger.Rank() {
		r.Danger = f.Danger
	}
	if StageRank(f.Due) < StageRank(r.Due) {
		r.Due = f.Due
	}
	if !slices.Contains(r.Rules, f.Rule) {
		r.Rules = append(r.Rules, f.Rule)
	}
}

// effort is what an answer costs: a look, a measurement or a figure from a label, a list.
func effort(f schema.FieldInfo) float64 {
	switch f.Kind {
	case schema.KindWord, schema.KindBool, schema.KindMaybe:
		return 1
	case schema.KindList:
		return 3
	}
	return 2
}

// questions are the missing facts as they rank.
func questions(d *schema.Design, report *Report) []Question {
	ranked := Rank(report, func(path string) string { return path })
	out := make([]Question, len(ranked))
	for i, r := range ranked {
		fact := report.declared.Describe(r.Path)
		out[i] = Question{Path: r.Path, Ask: fact.Doc, Example: fact.Example, Words: fact.Words, Field: fact.Field, Danger: r.Danger, Rules: r.Rules, Alone: r.Alone}
		if list, open := d.OpenListAt(r.Path); open {
			out[i].Ask, out[i].Complete = list.Question(), list.Name
		}
		if stated := d.FactAt(r.Path); stated != nil && stated.Ranged() {
			out[i].Stated = stated.Text()
		}
	}
	return out
}

// assumptionsUsed lists the assumptions findings rest on.
func (l *Library) assumptionsUsed(s *derive.Session, findings []Finding, units quantity.System) []AssumptionUsed {
	count := map[string]int{}
	for i := range findings {
		for _, p := range findings[i].Assumed {
			count[p]++
		}
	}
	out := make([]AssumptionUsed, 0, len(count))
	j := &judging{options: Options{Units: units}}
	for path, n := range count {
		value, _, _ := s.Assumption(path)
		out = append(out, AssumptionUsed{Path: path, Value: j.number(vocabulary.Native(value)).Text, Because: l.AssumedBecause(path), Findings: n})
	}
	slices.SortFunc(out, func(a, b AssumptionUsed) int { return strings.Compare(a.Path, b.Path) })
	return out
}
