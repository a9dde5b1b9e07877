package rule

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema/document"
)

// reasons checks a because list and turns it into grounds.
func (c *Compiler) reasons(list []pack.Reason, path string) []Ground {
	var out []Ground
	for i := range list {
		r := &list[i]
		kinds := r.Kinds()
		where := fmt.Sprintf("%s[%d]", path, i)
		if r.Place.IsZero() && !c.Trusted {
			continue // it is no mapping: the reader said so
		}
		switch {
		case len(kinds) != 1:
			c.ProblemAt(r.Place, where, "a reason is one of source, practice, memory or physics", "")
			continue
		case kinds[0] != "source":
			text := r.Practice + r.Memory + r.Physics
			out = append(out, Ground{Standing: kinds[0], Text: text, For: r.For})
			continue
		}
		src, ok := c.source(r.Source)
		if !ok {
			near, more := document.Nearest(r.Source, c.sourceNames()), ""
			if near == "" {
				more = ": write one of sources.yaml or of the pack's own sources, or practice, physics or memory in place of source"
			}
			c.ProblemAt(r.Place, where, fmt.Sprintf("there is no source %q", document.Cut(r.Source))+more, near)
			continue
		}
		text := src.Title
		if r.Where != "" {
			text += ", " + r.Where
		}
		text += src.Said()
		ground := Ground{Standing: src.Kind, Text: text, For: r.For}
		if src.Kind == Law && len(c.Pack.Regions) == 0 {
			ground.Standing, ground.Law = lawElsewhere, c.Binding(r.Source, src)
		}
		out = append(out, ground)
	}
	return out
}

// checkReasons refuses reasons that are none.
func (c *Compiler) checkReasons(list []pack.Reason, path string) {
	if !c.Trusted {
		c.reasons(list, path)
	}
}

// ProblemAt notes what is wrong at a place of the pack, and what was meant perhaps.
func (c *Compiler) ProblemAt(p document.Place, path, message, suggest string) {
	if suggest != "" {
		message += "; did you mean " + suggest + "?"
	}
	c.Problems = append(c.Problems, document.Problem{Place: p, Path: path, Message: message, Suggest: suggest})
}

// grounds are a rule's own reasons and those of the limits it uses.
func (c *Compiler) grounds(r *pack.Rule, out *Rule) []Ground {
	path := "rules." + r.ID + ".because"
	if len(r.Because) == 0 {
		if n := pack.ChildOf(r.Node, "because"); n == r.Node || n.Kind != yaml.SequenceNode {
			return nil // the reader said so
		}
		c.ProblemAt(r.Place, path, "a rule needs a because: a source, or the honest words practice or memory", "")
		return nil
	}
	grounds := c.reasons(r.Because, path)
	for _, l := range c.Pack.Limits {
		if out.Mentions("limit." + l.Key) {
			grounds = append(grounds, c.QuietReasons(l.Value.Because)...)
		}
	}
	for _, t := range c.Pack.Tables {
		if out.Mentions("table." + t.Key) {
			grounds = append(grounds, c.QuietReasons(t.Value.Because)...)
		}
	}
	var unique []Ground
	for _, g := range grounds {
		if !slices.Contains(unique, g) {
			unique = append(unique, g)
		}
	}
	return unique
}

// Reasons turns reasons into grounds and notes what is wrong with them.
func (c *Compiler) Reasons(list []pack.Reason, path string) []Ground { return c.reasons(list, path) }

// QuietReasons turns reasons into grounds that were already checked elsewhere.
func (c *Compiler) QuietReasons(list []pack.Reason) []Ground {
	before := c.Problems
	out := c.reasons(list, "")
	c.Problems = before
	return out
}

// Mentions reports whether any expression of the rule names something.
func (r *Rule) Mentions(name string) bool {
	for _, p := range r.Programs() {
		for _, f := range p.Facts {
			if f == name || strings.HasPrefix(f, name+".") || strings.HasPrefix(f, name+"[") {
				return true
			}
		}
		if slices.Contains(p.Names, name) {
			return true
		}
	}
	return false
}

// Programs lists all expressions of the rule: those that decide it, and those in what it says.
func (r *Rule) Programs() []*vocabulary.Program {
	return append(r.Deciding(), r.texts()...)
}

// Deciding lists the expressions that decide the outcome.
func (r *Rule) Deciding() []*vocabulary.Program {
	var out []*vocabulary.Program
	add := func(p *vocabulary.Program) {
		if p != nil {
			out = append(out, p)
		}
	}
	add(r.Each)
	for _, l := range r.Lets {
		add(l.Prog)
	}
	add(r.Applies)
	add(r.Measure)
	for _, t := range []*Test{r.Must, r.Should} {
		if t == nil {
			continue
		}
		add(t.Condition)
		for _, b := range t.Bounds {
			add(b.Prog)
		}
	}
	return out
}

// texts lists the expressions inside say and mend.
func (r *Rule) texts() []*vocabulary.Program {
	var out []*vocabulary.Program
	for _, s := range slices.Concat(r.sentences()...) {
		if s.Prog != nil {
			out = append(out, s.Prog)
		}
	}
	for _, m := range r.Mend {
		if m.When != nil {
			out = append(out, m.When)
		}
	}
	return out
}

// sentences lists what the rule says.
func (r *Rule) sentences() [][]Segment {
	out := [][]Segment{r.Say, r.Met}
	for _, m := range r.Mend {
		out = append(out, m.Text)
	}
	return out
}
