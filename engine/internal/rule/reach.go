package rule

import (
	"slices"

	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// lintReach refuses what no design can decide: a condition or bound that the ranges and words of the facts leave only one
// way, and slips that would show when a design is judged.
func (c *Compiler) lintReach(r *pack.Rule, out *Rule, path string) {
	x := &reaching{Compiler: c, Reach: vocabulary.NewReach(c.Names), rule: r, out: out, path: path}
	w := vocabulary.Everywhere()
	if out.Each != nil {
		x.slips(w, out.Each)
		w = x.Each(w, out.EachVar, out.Each)
	}
	for _, l := range out.Lets {
		x.Let(l.Name, l.Prog)
	}
	if out.Applies != nil {
		x.key = "applies"
		w = x.condition(w, out.Applies, "the rule never applies", "leave it out: the rule applies to every design")
	}
	x.key = "measure"
	x.slips(w, out.Measure)
	x.test(x.test(w, out.Must, "must"), out.Should, "should")
	x.texts(w)
}

// decides compiles a condition that stands alone, of a caution, which the design must decide.
func (c *Compiler) decides(e *pack.Expression, path string, fault func(text string, args ...any)) *vocabulary.Program {
	alone, before, filling := &Rule{}, len(c.Problems), c.filling
	c.filling = alone
	p := c.condition(e, path, c.Vars)
	c.filling = filling
	switch {
	case p == nil || c.Trusted || len(c.Problems) > before:
	case !slices.Contains(p.Names, "design") && !slices.Contains(p.Names, "at"):
		fault("the condition never depends on the design: leave it out")
	default:
		x := &reaching{Compiler: c, Reach: vocabulary.NewReach(c.Names), out: alone, path: path}
		x.condition(vocabulary.Everywhere(), p, "leave out what it decides", "leave it out")
	}
	return p
}

// undecided says why a condition that stands in another file never comes out both ways.
func (c *Compiler) undecided(p *vocabulary.Program) []string {
	if c.Trusted {
		return nil
	}
	r, w := vocabulary.NewReach(nil), vocabulary.Everywhere()
	var out []string
	for _, s := range r.Slips(w, p) {
		out = append(out, s.Message)
	}
	if len(out) == 0 && (r.Assume(w, p, true) == nil || r.Assume(w, p, false) == nil) {
		out = append(out, "the condition comes out one way for every design"+because(r.Tell(w, p)))
	}
	return out
}

// whole reports whether every expression of a rule was compiled.
func (r *Rule) whole() bool {
	for _, p := range append(r.Deciding(), r.texts()...) {
		if p == nil {
			return false
		}
	}
	return true
}

// reaching is one rule being looked through.
type reaching struct {
	*Compiler
	*vocabulary.Reach
	rule *pack.Rule
	out  *Rule
	path string
	// key of the rule is looked through.
	key string
}

// slips reports those of an expression at their places; false when there are none.
func (x *reaching) slips(w *vocabulary.World, p *vocabulary.Program) bool {
	list := x.Slips(w, p)
	for _, s := range list {
		n, offset, path := x.nodeOf(s.Program)
		x.fault(n, offset, path, s.Program.Text, s.Fault)
	}
	return len(list) > 0
}

// condition looks a condition through and narrows the world to where it is met.
func (x *reaching) condition(w *vocabulary.World, p *vocabulary.Program, never, always string) *vocabulary.World {
	if w == nil || p == nil || x.slips(w, p) {
		return w
	}
	met, broken := x.Assume(w, p, true), x.Assume(w, p, false)
	switch n, _, path := x.nodeOf(p); {
	case met == nil:
		x.Problem(n, path, "no design can meet this"+because(x.Tell(w, p))+": "+never, "")
		return w
	case broken == nil:
		x.Problem(n, path, "every design meets this"+because(x.Tell(w, p))+": "+always, "")
	}
	return met
}

func because(facts string) string {
	if facts == "" {
		return ""
	}
	return " (" + facts + ")"
}

// test looks a must or should through and narrows the world to where it is met.
func (x *reaching) test(w *vocabulary.World, t *Test, key string) *vocabulary.World {
	if w == nil || t == nil {
		return w
	}
	x.key = key
	if t.Condition != nil {
		return x.condition(w, t.Condition, "the rule can only be broken", "the rule can never be broken")
	}
	for i := range t.Bounds {
		w = x.bound(w, &t.Bounds[i], x.valueNode(key, i), x.path+"."+key)
	}
	return w
}

// bound looks a bound on the measure through.
func (x *reaching) bound(w *vocabulary.World, b *Bound, n *yaml.Node, path string) *vocabulary.World {
	if b.Prog != nil && x.slips(w, b.Prog) || x.out.Measure == nil {
		return w
	}
	is := vocabulary.Bound{Op: b.Op, Value: b.Value, Program: b.Prog}
	met, broken := x.AssumeBound(w, x.out.Measure, is, true), x.AssumeBound(w, x.out.Measure, is, false)
	facts := because(x.Tell(w, x.out.Measure))
	switch {
	case met == nil:
		x.Problem(n, path, "no value can meet this bound"+facts+": write one that lies within", "")
		return w
	case broken == nil:
		x.Problem(n, path, "no value can break this bound"+facts+": write one that lies within, or leave it out", "")
	}
	return met
}

// valueNode is where the value of a bound stands.
func (x *reaching) valueNode(key string, at int) *yaml.Node {
	t := x.rule.Must
	if key == "should" {
		t = x.rule.Should
	}
	if t != nil && at < len(t.Bounds) {
		return t.Bounds[at].Value.Node
	}
	return pack.ChildOf(x.rule.Node, key)
}

// texts looks through the placeholders and the conditions of remedies.
func (x *reaching) texts(w *vocabulary.World) {
	if w == nil {
		return
	}
	x.key = ""
	for _, p := range x.out.texts() {
		x.slips(w, p)
	}
}

// nodeOf is where an expression of the rule stands: its node, its offset there, and its path.
func (x *reaching) nodeOf(p *vocabulary.Program) (n *yaml.Node, offset int, path string) {
	at := x.out.placeOf(p, x.path+"."+x.key)
	return at.node, at.offset, at.path
}
