package proof

import (
	"fmt"
	"maps"
	"slices"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// mutant is a rule with one mistake in it.
type mutant struct {
	what  string
	place schema.Place
	// build makes the rule; nil when the mistake would not load.
	build func(*bench) *rule.Rule
}

// mutants lists the mistakes that could be in a rule, in the order they would
// stand in its declaration. No two have the same text.
func (b *bench) mutants(r *rule.Rule, spots []spot) []mutant {
	file := b.library.Compiler(r.Pack.Pack).Reader
	v := b.vocabulary.Fresh()
	var out []mutant
	named := map[string]int{}
	add := func(what string, place schema.Place, build func(*bench) *rule.Rule) {
		named[what]++
		if n := named[what]; n > 1 {
			what += fmt.Sprintf(" (%d)", n)
		}
		out = append(out, mutant{what, place, build})
	}
	for i := range spots {
		s := &spots[i]
		texts := map[string]bool{}
		for _, c := range s.changes(v) {
			if texts[c.text] {
				continue
			}
			texts[c.text] = true
			add(c.what, s.place(file, c.at), func(b *bench) *rule.Rule {
				decl := copyOf(r.Decl)
				*s.text(decl) = c.text
				m, err := b.compile(v, r, decl)
				if err != nil {
					return nil
				}
				return m
			})
		}
	}
	for _, t := range testsOf(r) {
		b.boundMutants(r, t, add)
	}
	b.limitMutants(r, add)
	return out
}

type addMutant func(what string, place schema.Place, build func(*bench) *rule.Rule)

// otherBounds are the bounds that could stand instead of one: with or without
// equality, and the opposite.
var otherBounds = map[string][]string{
	"at_least": {"more_than", "less_than"}, "more_than": {"at_least", "at_most"},
	"at_most": {"less_than", "more_than"}, "less_than": {"at_most", "at_least"},
}

// boundMutants changes the bounds of must or should.
func (b *bench) boundMutants(r *rule.Rule, t ruleTest, add addMutant) {
	file := b.library.Compiler(r.Pack.Pack).Reader
	change := func(bounds []rule.Bound) func(*bench) *rule.Rule {
		return func(*bench) *rule.Rule {
			m := *r
			if t.of == "must" {
				m.Must = &rule.Test{Bounds: bounds}
			} else {
				m.Should = &rule.Test{Bounds: bounds}
			}
			return &m
		}
	}
	for i, x := range t.test.Bounds {
		value := t.decl.Bounds[i].Value
		place := file.At(value.Node)
		text := t.of + ": " + x.Op + " " + value.Text
		with := func(other rule.Bound) func(*bench) *rule.Rule {
			bounds := slices.Clone(t.test.Bounds)
			bounds[i] = other
			return change(bounds)
		}
		for _, op := range otherBounds[x.Op] {
			add(text+" -> "+op, place, with(rule.Bound{Op: op, Value: x.Value, Prog: x.Prog}))
		}
		for _, s := range shifts {
			if moved := shifted(x.Value, s.by); moved != nil {
				add(text+s.what, place, with(rule.Bound{Op: x.Op, Value: moved}))
			}
		}
		if len(t.test.Bounds) > 1 {
			add(t.of+": without "+x.Op+" "+value.Text, place, change(slices.Delete(slices.Clone(t.test.Bounds), i, i+1)))
		}
	}
}

// limitMutants moves the limits the rule decides by.
func (b *bench) limitMutants(r *rule.Rule, add addMutant) {
	for _, l := range r.Pack.Limits {
		name := "limit." + l.Key
		if !slices.ContainsFunc(r.Deciding(), func(p *vocabulary.Program) bool {
			return slices.Contains(p.Facts, name) || slices.Contains(p.Names, name)
		}) {
			continue
		}
		for _, s := range shifts {
			moved := shifted(r.Names[name], s.by)
			if moved == nil {
				continue
			}
			add(name+s.what, l.Place, func(*bench) *rule.Rule {
				m := *r
				m.Names = maps.Clone(r.Names)
				m.Names[name] = moved
				return &m
			})
		}
	}
}
