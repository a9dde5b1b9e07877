package rule

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

var idPattern = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// lint refuses rules that type-check but cannot be right.
func (c *Compiler) lint(r *pack.Rule, out *Rule, path string) {
	say := func(key, format string, args ...any) {
		c.Problem(pack.ChildOf(r.Node, key), path+"."+key, fmt.Sprintf(format, args...), "")
	}
	if !idPattern.MatchString(r.ID) {
		say("id", "an id is lower-case words joined by hyphens")
	}
	if r.Must == nil && r.Should == nil {
		say("id", "a rule needs must or should: otherwise it can only pass")
	}
	if r.Measure != nil && !bounds(r.Must) && !bounds(r.Should) {
		say("measure", "nothing bounds the measure")
	}
	if r.About == "" && len(r.Each) == 0 && pack.ChildOf(r.Node, "each") == r.Node {
		say("id", "a rule says what it is about: about: design.pump, or each")
	}
	if r.About != "" && !c.Vocabulary.HasPath(r.About) {
		say("about", "there is no part %s in a design", r.About)
	}
	if out.Must != nil && out.Must.Condition != nil && constantProgram(out, out.Must.Condition) {
		say("must", "this never depends on the design: the rule cannot be reached or cannot pass")
	}
	if out.Should != nil && out.Should.Condition != nil && constantProgram(out, out.Should.Condition) {
		say("should", "this never depends on the design: the rule cannot be reached or cannot pass")
	}
	if out.Applies != nil && constantProgram(out, out.Applies) {
		say("applies", "this never depends on the design: leave it out, or the rule is never reached")
	}
	for _, m := range out.Mend {
		if m.When != nil && constantProgram(out, m.When) {
			say("mend", "this never depends on the design: the remedies after it, or this one, are never said")
		}
	}
	if out.Measure != nil && constantProgram(out, out.Measure) {
		say("measure", "this never depends on the design")
	}
	if out.Mentions("design.regions") {
		say("id", "a rule does not read design.regions: a design may be judged for other places; name the region in the pack, or use instead_of")
	}
	if r.Sense && r.Must != nil {
		say("must", "a check of sense asks again and never fails: say it as a should")
	}
	lintWords(r, say)
	c.lintGuards(r, out, say)
	c.lintRegional(r, say)
	c.lintLets(r, out, say)
	if r.Must != nil && len(out.Grounds) > 0 && !slices.ContainsFunc(out.Grounds, func(g Ground) bool { return g.Standing != "memory" }) {
		say("because", "a figure from memory never makes a must by itself; make it a should, or name a source, practice or physics")
	}
}

// bounds reports whether a test has bounds, or was meant to have some that could not be read.
func bounds(t *pack.Test) bool {
	return t != nil && (len(t.Bounds) > 0 || t.Condition == nil)
}

// constantProgram reports whether an expression reads nothing of the design. A let knows those before it alone, whatever
// its own loops call their items.
func constantProgram(r *Rule, p *vocabulary.Program) bool {
	reads := map[string]bool{"design": true, "at": true, "today": true}
	if r.EachVar != "" {
		reads[r.EachVar] = true
	}
	reading := func(p *vocabulary.Program) bool {
		return slices.ContainsFunc(p.Names, func(n string) bool { return reads[n] })
	}
	for _, l := range r.Lets {
		if l.Prog == p {
			break
		}
		reads[l.Name] = reading(l.Prog)
	}
	return !reading(p)
}

// lintGuards wants `fitted` asked of every part that may be none before its facts are used.
func (c *Compiler) lintGuards(r *pack.Rule, out *Rule, say func(key, format string, args ...any)) {
	var guards []string
	for _, p := range out.Deciding() {
		guards = append(guards, p.Guards...)
	}
	if out.Each != nil {
		// A list inside a part that is none makes the whole rule not applicable.
		guards = append(guards, out.Each.Guarded...)
	}
	told := map[string]bool{}
	for _, p := range out.Deciding() {
		for _, g := range p.Guarded {
			if !slices.Contains(guards, g) && !told[g] {
				told[g] = true
				message := fmt.Sprintf("%s may be none: ask %s.fitted in applies or must first", g, g)
				at := out.placeOf(p, "")
				if at.node == nil {
					say("id", "%s", message)
					continue
				}
				line, column := p.Read(g)
				c.fault(at.node, at.offset, at.path, p.Text, vocabulary.Fault{Line: line, Column: column, Message: message})
			}
		}
	}
}

func (c *Compiler) lintLets(r *pack.Rule, out *Rule, say func(key, format string, args ...any)) {
	for _, l := range out.Lets {
		if !slices.ContainsFunc(out.Programs(), func(p *vocabulary.Program) bool { return p != l.Prog && slices.Contains(p.Names, l.Name) }) {
			say("let", "%s is never used", l.Name)
		}
	}
	if out.EachVar != "" && !slices.ContainsFunc(out.Deciding(), func(p *vocabulary.Program) bool { return p != out.Each && slices.Contains(p.Names, out.EachVar) }) {
		say("each", "%s is never used", out.EachVar)
	}
}

// lintPack refuses limits, tables and sources that nothing uses.
func (c *Compiler) lintPack() {
	for _, l := range c.Pack.Limits {
		if !c.mentioned("limit." + l.Key) {
			c.ProblemAt(l.Place, "limits."+l.Key, "limit "+l.Key+" is never used", "")
		}
	}
	for _, t := range c.Pack.Tables {
		if !c.mentioned("table." + t.Key) {
			c.ProblemAt(t.Place, "tables."+t.Key, "table "+t.Key+" is never used", "")
		}
	}
	for _, s := range c.Pack.Sources {
		if !c.Used["source "+s.Key] {
			c.ProblemAt(s.Place, "sources."+s.Key, "source "+s.Key+" is never cited", "")
		}
	}
}

func (c *Compiler) mentioned(name string) bool {
	for f := range c.Used {
		if f == name || strings.HasPrefix(f, name+".") || strings.HasPrefix(f, name+"[") {
			return true
		}
	}
	return false
}
