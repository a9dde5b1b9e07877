package engine

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
)

// LimitValue is a limit with where its value came from.
type LimitValue struct {
	// Name is the full name: fuel/delivery.flow_reserve.
	Name string
	// Value is the value in force.
	Value Number
	// Stricter is higher, lower, or empty when it cannot be told.
	Stricter string
	// Steps are the pack's own value and every change, in order.
	Steps []LimitStep
	// Regions are the values it has in regions.
	Regions []Overridden
}

// LimitStep is one value a limit was given.
type LimitStep struct {
	// How is set, tightened, loosened, left when a stricter value stood already, or same when it was this value.
	How    string
	Value  Number
	Reason string
	Place  schema.Place
}

// Loosened is a limit or rule that a local pack made milder.
type Loosened struct {
	// What is the limit or rule.
	What string `json:"what"`
	// From and To say the change in words.
	From   string       `json:"from"`
	To     string       `json:"to"`
	Reason string       `json:"reason"`
	Place  schema.Place `json:"place"`
}

// adjuster works the adjustments of all packs into the compiled library.
type adjuster struct {
	*Library
	problems document.Problems
	steps    map[string][]LimitStep
}

// adjust applies what packs tighten, raise and loosen, in the order of their
// names; a limit ends at the strictest value it is tightened to.
func (l *Library) adjust() document.Problems {
	a := &adjuster{Library: l, steps: map[string][]LimitStep{}}
	for _, p := range l.packs {
		a.shape(p)
	}
	if len(a.problems) > 0 {
		return a.problems
	}
	for _, p := range l.packs {
		if len(p.Regions) > 0 {
			for _, x := range slices.Concat(p.Tighten, p.Raise, p.Loosen) {
				a.problem(x.Place, "a pack of a region states rules of its own; what a limit or a table of another pack is there stands under override", "")
			}
			continue
		}
		for i := range p.Tighten {
			a.limit(&p.Tighten[i], false)
		}
		for i := range p.Raise {
			a.raise(&p.Raise[i])
		}
	}
	// What is loosened is loosened last: a reason stands against every other value.
	for _, p := range l.packs {
		if len(p.Regions) > 0 {
			continue
		}
		for i := range p.Loosen {
			x := &p.Loosen[i]
			if x.Rule != "" {
				a.loosenRule(x)
			} else {
				a.limit(x, true)
			}
		}
	}
	l.steps = a.steps
	return a.problems
}

// shape wants a reason of every change, and each thing changed once in a pack.
func (a *adjuster) shape(p *pack.Pack) {
	first := map[string]schema.Place{}
	for _, x := range slices.Concat(p.Tighten, p.Raise, p.Loosen) {
		if strings.TrimSpace(x.Reason) == "" {
			a.problem(x.Place, "the reason is empty; say why the house wants it otherwise", "")
		}
		what := "the rule " + document.Cut(x.Rule)
		if x.Rule == "" {
			what = "the limit " + document.Cut(x.Limit)
		}
		if at, dup := first[what]; dup {
			a.problem(x.Place, fmt.Sprintf("%s is changed at line %d already; keep one of them", what, at.Line), "")
			continue
		}
		first[what] = x.Place
	}
}

func (a *adjuster) problem(place schema.Place, message, near string) {
	if near != "" {
		message += "; did you mean " + near + "?"
	}
	a.problems = append(a.problems, document.Problem{Place: place, Message: message, Suggest: near})
}

// find splits a limit's full name; the compiler is that of its pack.
func (a *adjuster) find(x *pack.Adjustment) (c *rule.Compiler, e *pack.Limit, name string) {
	if len(a.problems) >= rule.MaxProblems {
		return nil, nil, ""
	}
	if x.Limit == "" || x.Rule != "" {
		a.problem(x.Place, "name a limit and what it is now, such as limit: fuel/delivery.flow_reserve", "")
		return nil, nil, ""
	}
	pack, name, _ := strings.Cut(x.Limit, ".")
	if c = a.compilers[pack]; c != nil {
		if e, ok := c.Pack.Limits.Get(name); ok {
			return c, e, "limit." + name
		}
	}
	a.problem(placeIn(x, "limit"), fmt.Sprintf("there is no limit %q", document.Cut(x.Limit))+besides(x.Limit, a.limitNames()), nearestName(x.Limit, a.limitNames()))
	return nil, nil, ""
}

// nearestName is the full name meant by one that is misspelt or lacks its pack.
func nearestName(name string, full []string) string {
	own := name[strings.LastIndex(name, ".")+1:]
	for _, f := range full {
		if own != "" && strings.HasSuffix(f, "."+own) {
			return f
		}
	}
	return document.Nearest(name, full)
}

func (l *Library) limitNames() []string {
	var out []string
	for _, p := range l.packs {
		for _, e := range p.Limits {
			out = append(out, p.Pack+"."+e.Key)
		}
	}
	return out
}

// limit tightens or loosens one limit.
func (a *adjuster) limit(x *pack.Adjustment, loosen bool) {
	c, e, name := a.find(x)
	if c == nil || c.Names[name] == nil {
		return
	}
	now := c.Names[name]
	v, err := rule.AsLimit(x.Is, now)
	if err != nil {
		a.problem(x.Place, err.Error(), "")
		return
	}
	for _, v := range a.valued {
		if v.Prog != nil && (v.Pack == c.Pack && slices.Contains(v.Prog.Names, name) || slices.Contains(v.Prog.Names, vocabulary.FigureName("limit", x.Limit))) {
			a.problem(x.Place, fmt.Sprintf("%s is worked out from %s, and by it a higher value may be stricter or milder: it cannot be changed from outside", v.Path(), x.Limit), "")
			return
		}
	}
	stricter := a.stricter(c, name)
	if stricter == vocabulary.Both || stricter == vocabulary.Still {
		a.problem(x.Place, "a higher value of "+x.Limit+" is not simply stricter or milder: its rules use it both ways, so it cannot be changed from outside", "")
		return
	}
	higher := compareBound("more_than", v, now) == types.True
	lower := compareBound("less_than", v, now) == types.True
	tighter, milder := higher, lower
	if stricter == vocabulary.Down {
		tighter, milder = lower, higher
	}
	step := LimitStep{How: "tightened", Value: numberOf(v), Reason: x.Reason, Place: x.Place}
	base := c.Base[name]
	switch {
	case loosen && !milder:
		a.problem(x.Place, fmt.Sprintf("%s is %s: %s does not loosen it; write it under tighten", x.Limit, numberOf(now).Text, numberOf(v).Text), "")
		return
	case loosen:
		if law := a.lawful(c, name); law != "" {
			a.problem(x.Place, fmt.Sprintf("%s cannot be loosened: %s says what the law demands, which is not the shop's to waive", x.Limit, law), "")
			return
		}
		if grave := a.grave(c, name); grave != "" {
			a.problem(x.Place, fmt.Sprintf("%s cannot be loosened: %s guards against %s", x.Limit, grave, a.dangerOf(grave)), "")
			return
		}
		step.How = "loosened"
		a.loosened = append(a.loosened, Loosened{What: "limit " + x.Limit, From: numberOf(now).Text, To: numberOf(v).Text, Reason: x.Reason, Place: x.Place})
	case !tighter && outside(v, base, stricter):
		a.problem(x.Place, fmt.Sprintf("%s is %s of its own: %s loosens it, which needs loosen and a reason", x.Limit, numberOf(base).Text, numberOf(v).Text), "")
		return
	case !tighter && !milder:
		step.How = "same"
	case !tighter:
		step.How = "left"
	}
	a.steps[x.Limit] = append(a.steps[x.Limit], step)
	if !tighter && !loosen {
		return
	}
	c.Names[name] = v
	for _, other := range a.compilers {
		if full := vocabulary.FigureName("limit", x.Limit); other.Names[full] != nil {
			other.Names[full] = v
		}
	}
	for _, r := range a.ready() {
		if r.Mentions(a.nameIn(r, c, name)) {
			r.Grounds = append(r.Grounds, rule.Ground{Standing: "practice", Text: fmt.Sprintf("%s from %s to %s by a local pack: %s", step.How, numberOf(now).Text, step.Value.Text, x.Reason), For: "limit " + e.NameIn(c.Pack)})
		}
	}
}

// outside reports whether a value is milder than the pack's own.
func outside(v, base ref.Val, stricter vocabulary.Lean) bool {
	if stricter == vocabulary.Down {
		return compareBound("more_than", v, base) == types.True
	}
	return compareBound("less_than", v, base) == types.True
}

// numberOf writes a limit's value in both systems.
func numberOf(v ref.Val) Number { return (&judging{}).number(v) }

// stricter tells which way a limit grows stricter: Up when a higher value is,
// from every rule of its pack that uses it.
func (a *adjuster) stricter(c *rule.Compiler, name string) vocabulary.Lean {
	out := vocabulary.Still
	for _, r := range a.ready() {
		if used := a.nameIn(r, c, name); used != "" {
			out |= r.Stricter(used)
		}
	}
	return out
}

// nameIn is what a rule calls a limit that the pack of c calls by a name: limit.reserve in its own pack, elsewhere by its full
// name; "" where it does not read it.
func (a *adjuster) nameIn(r *rule.Rule, c *rule.Compiler, name string) string {
	switch {
	case r.Pack == c.Pack:
		return name
	case !a.compilers[r.Pack.Pack].ReadsOthers():
		return ""
	}
	kind, own, _ := strings.Cut(name, ".")
	return vocabulary.FigureName(kind, c.Pack.Pack+"."+own)
}

// grave names a rule against a grave danger that uses a limit; "" when none does.
func (a *adjuster) grave(c *rule.Compiler, name string) string {
	for _, r := range a.ready() {
		if r.Decl.Danger.Grave() && r.Mentions(a.nameIn(r, c, name)) {
			return r.ID
		}
	}
	return ""
}

// lawful names a rule of law that uses a limit; "" when none does.
func (a *adjuster) lawful(c *rule.Compiler, name string) string {
	for _, r := range a.ready() {
		if ofLaw(r) && r.Mentions(a.nameIn(r, c, name)) {
			return r.ID
		}
	}
	return ""
}

func (a *adjuster) dangerOf(name string) string {
	i := slices.IndexFunc(a.rules, func(r *rule.Rule) bool { return r.ID == name })
	return a.rules[i].Decl.Danger.Words()
}

// rule finds the rule an adjustment names.
func (a *adjuster) rule(x *pack.Adjustment) *rule.Rule {
	if len(a.problems) >= rule.MaxProblems {
		return nil
	}
	if x.Rule == "" || x.Limit != "" || x.Is.Tag != "" {
		a.problem(x.Place, "name a rule alone, such as rule: fuel/injectors.duty-at-full-load", "")
		return nil
	}
	var names []string
	for _, r := range a.ready() {
		if r.ID == x.Rule {
			return r
		}
		names = append(names, r.ID)
	}
	a.problem(placeIn(x, "rule"), fmt.Sprintf("there is no rule %q", document.Cut(x.Rule))+besides(x.Rule, names), nearestName(x.Rule, names))
	return nil
}

// placeIn is where a name of an adjustment stands.
func placeIn(x *pack.Adjustment, key string) document.Place {
	n := pack.ChildOf(x.Node, key)
	if n == nil {
		return x.Place
	}
	return document.Place{File: x.Place.File, Line: n.Line, Column: n.Column}
}

// besides lists what a pack has when a name in it leads nowhere and none is near.
func besides(name string, full []string) string {
	pack, _, dotted := strings.Cut(name, ".")
	if !dotted || nearestName(name, full) != "" {
		return ""
	}
	var own []string
	for _, x := range full {
		if rest, is := strings.CutPrefix(x, pack+"."); is {
			own = append(own, rest)
		}
	}
	if len(own) == 0 {
		return "; plumbline pack list names the packs"
	}
	slices.Sort(own)
	return "; " + pack + " has " + strings.Join(own, ", ")
}

// raise makes a should a must.
func (a *adjuster) raise(x *pack.Adjustment) {
	r := a.rule(x)
	switch {
	case r == nil:
	case r.Should == nil:
		a.problem(x.Place, x.Rule+" has no should to raise: it is a must already", "")
	default:
		r.Raised = true
		r.Grounds = append(r.Grounds, rule.Ground{Standing: "practice", Text: "raised to a must by a local pack: " + x.Reason})
	}
}

// loosenRule makes a must a should.
func (a *adjuster) loosenRule(x *pack.Adjustment) {
	r := a.rule(x)
	switch {
	case r == nil:
	case r.Decl.Danger.Grave():
		a.problem(x.Place, fmt.Sprintf("%s cannot be loosened: it guards against %s", x.Rule, r.Decl.Danger.Words()), "")
	case ofLaw(r):
		a.problem(x.Place, x.Rule+" cannot be loosened: it says what the law demands, which is not the shop's to waive", "")
	case r.Must == nil:
		a.problem(x.Place, x.Rule+" has no must to loosen: it only warns", "")
	default:
		r.Milder = true
		r.Grounds = append(r.Grounds, rule.Ground{Standing: "practice", Text: "loosened to a should by a local pack: " + x.Reason})
		a.loosened = append(a.loosened, Loosened{What: "rule " + x.Rule, From: "must", To: "should", Reason: x.Reason, Place: x.Place})
	}
}

// Written is the library without what packs change in each other: as the
// cases of every rule were written.
func (l *Library) Written() *Library {
	out := *l
	out.overrides, out.placed = nil, newPlaces()
	out.compilers = map[string]*rule.Compiler{}
	for name, c := range l.compilers {
		own := *c
		own.Names = maps.Clone(c.Names)
		maps.Copy(own.Names, c.Base)
		out.compilers[name] = &own
	}
	out.rules = make([]*rule.Rule, len(l.rules))
	for i, r := range l.rules {
		own := *r.Ready()
		own.Names, own.Raised, own.Milder = out.compilers[r.Pack.Pack].Names, false, false
		out.rules[i] = &own
	}
	return &out
}

// Limits lists every limit with its value in force and where that came from.
func (l *Library) Limits() []LimitValue {
	a := &adjuster{Library: l}
	var out []LimitValue
	for _, p := range l.packs {
		c := l.compilers[p.Pack]
		for i := range p.Limits {
			e := &p.Limits[i]
			full, name := p.Pack+"."+e.Key, "limit."+e.Key
			stricter := map[vocabulary.Lean]string{vocabulary.Up: "higher", vocabulary.Down: "lower"}[a.stricter(c, name)]
			steps := append([]LimitStep{{How: "set", Value: numberOf(c.Base[name]), Place: e.Place}}, l.steps[full]...)
			out = append(out, LimitValue{Name: full, Value: numberOf(c.Names[name]), Stricter: stricter, Steps: steps, Regions: l.Overridden("limit", full)})
		}
	}
	return out
}
