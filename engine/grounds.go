package engine

import (
	"fmt"
	"plumbline/engine/vocabulary"
	"slices"
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema/document"
)

// reasons checks a because list and turns it into grounds.
func (c *compiler) reasons(list []pack.Reason, path string) []Ground {
	var out []Ground
	for i := range list {
		r := &list[i]
		kinds := r.Kinds()
		where := fmt.Sprintf("%s[%d]", path, i)
		switch {
		case len(kinds) != 1:
			c.problemAt(r.Place, where, "a reason is one of source, practice, memory or physics", "")
			continue
		case kinds[0] != "source":
			text := r.Practice + r.Memory + r.Physics
			out = append(out, Ground{Standing: kinds[0], Text: text, For: r.For})
			continue
		}
		src, ok := c.source(r.Source)
		if !ok {
			c.problemAt(r.Place, where, fmt.Sprintf("there is no source %q", document.Cut(r.Source)), document.Nearest(r.Source, c.sourceNames()))
			continue
		}
		text := src.Title
		if r.Where != "" {
			text += ", " + r.Where
		}
		text += src.Said()
		ground := Ground{Standing: src.Kind, Text: text, For: r.For}
		if src.Kind == law && len(c.pack.Regions) == 0 {
			ground.Standing, ground.law = lawElsewhere, c.binding(r.Source, src)
		}
		out = append(out, ground)
	}
	return out
}

// checkReasons refuses reasons that are none.
func (c *compiler) checkReasons(list []pack.Reason, path string) {
	if !c.trusted {
		c.reasons(list, path)
	}
}

func (c *compiler) problemAt(p document.Place, path, message, suggest string) {
	if suggest != "" {
		message += "; did you mean " + suggest + "?"
	}
	c.Problems = append(c.Problems, document.Problem{Place: p, Path: path, Message: message, Suggest: suggest})
}

// grounds are a rule's own reasons and those of the limits it uses.
func (c *compiler) grounds(r *pack.Rule, out *compiled) []Ground {
	path := "rules." + r.ID + ".because"
	if len(r.Because) == 0 {
		if pack.ChildOf(r.Node, "because") == r.Node {
			return nil // the reader said so
		}
		c.problemAt(r.Place, path, "a rule needs a because: a source, or the honest words practice or memory", "")
		return nil
	}
	grounds := c.reasons(r.Because, path)
	for _, l := range c.pack.Limits {
		if out.mentions("limit." + l.Key) {
			grounds = append(grounds, c.quietReasons(l.Value.Because)...)
		}
	}
	for _, t := range c.pack.Tables {
		if out.mentions("table." + t.Key) {
			grounds = append(grounds, c.quietReasons(t.Value.Because)...)
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

// quietReasons turns reasons into grounds that were already checked elsewhere.
func (c *compiler) quietReasons(list []pack.Reason) []Ground {
	before := c.Problems
	out := c.reasons(list, "")
	c.Problems = before
	return out
}

// mentions reports whether any expression of the rule names something.
func (r *compiled) mentions(name string) bool {
	for _, p := range r.programs() {
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

// programs lists all expressions of the rule.
func (r *compiled) programs() []*vocabulary.Program {
	return append(r.judging(), r.texts()...)
}

// judging lists the expressions that decide the outcome.
func (r *compiled) judging() []*vocabulary.Program {
	var out []*vocabulary.Program
	add := func(p *vocabulary.Program) {
		if p != nil {
			out = append(out, p)
		}
	}
	add(r.each)
	for _, l := range r.lets {
		add(l.prog)
	}
	add(r.applies)
	add(r.measure)
	for _, t := range []*test{r.must, r.should} {
		if t == nil {
			continue
		}
		add(t.condition)
		for _, b := range t.bounds {
			add(b.prog)
		}
	}
	return out
}

// texts lists the expressions inside say and mend.
func (r *compiled) texts() []*vocabulary.Program {
	var out []*vocabulary.Program
	for _, s := range slices.Concat(r.sentences()...) {
		if s.prog != nil {
			out = append(out, s.prog)
		}
	}
	for _, m := range r.mend {
		if m.when != nil {
			out = append(out, m.when)
		}
	}
	return out
}

// sentences lists what the rule says.
func (r *compiled) sentences() [][]segment {
	out := [][]segment{r.say, r.met}
	for _, m := range r.mend {
		out = append(out, m.text)
	}
	return out
}
