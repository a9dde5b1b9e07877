package engine

import (
	"fmt"
	"maps"
	"plumbline/engine/vocabulary"
	"slices"

	"plumbline/schema"
)

// mutant is a rule with one mistake in it.
type mutant struct {
	what  string
	place schema.Place
	// build makes the rule; nil when the mistake would not load.
	build func(*bench) *compiled
}

// mutants lists the mistakes that could be in a rule, in the order they would
// stand in its declaration. No two have the same text.
func (b *bench) mutants(r *compiled, spots []spot) []mutant {
	file := b.library.files[r.pack.Pack]
	v := b.vocabulary.Fresh()
	var out []mutant
	named := map[string]int{}
	add := func(what string, place schema.Place, build func(*bench) *compiled) {
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
			add(c.what, s.place(file, c.at), func(b *bench) *compiled {
				decl := copyOf(r.decl)
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

type addMutant func(what string, place schema.Place, build func(*bench) *compiled)

// otherBounds are the bounds that could stand instead of one: with or without
// equality, and the opposite.
var otherBounds = map[string][]string{
	"at_least": {"more_than", "less_than"}, "more_than": {"at_least", "at_most"},
	"at_most": {"less_than", "more_than"}, "less_than": {"at_most", "at_least"},
}

// boundMutants changes the bounds of must or should.
func (b *bench) boundMutants(r *compiled, t ruleTest, add addMutant) {
	file := b.library.files[r.pack.Pack]
	change := func(bounds []bound) func(*bench) *compiled {
		return func(*bench) *compiled {
			m := *r
			if t.of == "must" {
				m.must = &test{bounds: bounds}
			} else {
				m.should = &test{bounds: bounds}
			}
			return &m
		}
	}
	for i, x := range t.test.bounds {
		value := t.decl.Bounds[i].Value
		place := file.At(value.Node)
		text := t.of + ": " + x.op + " " + value.Text
		with := func(other bound) func(*bench) *compiled {
			bounds := slices.Clone(t.test.bounds)
			bounds[i] = other
			return change(bounds)
		}
		for _, op := range otherBounds[x.op] {
			add(text+" -> "+op, place, with(bound{op, x.value, x.prog}))
		}
		for _, s := range shifts {
			if moved := shifted(x.value, s.by); moved != nil {
				add(text+s.what, place, with(bound{op: x.op, value: moved}))
			}
		}
		if len(t.test.bounds) > 1 {
			add(t.of+": without "+x.op+" "+value.Text, place, change(slices.Delete(slices.Clone(t.test.bounds), i, i+1)))
		}
	}
}

// limitMutants moves the limits the rule decides by.
func (b *bench) limitMutants(r *compiled, add addMutant) {
	for _, l := range r.pack.Limits {
		name := "limit." + l.Key
		if !slices.ContainsFunc(r.judging(), func(p *vocabulary.Program) bool {
			return slices.Contains(p.Facts, name) || slices.Contains(p.Names, name)
		}) {
			continue
		}
		for _, s := range shifts {
			moved := shifted(r.names[name], s.by)
			if moved == nil {
				continue
			}
			add(name+s.what, l.Place, func(*bench) *compiled {
				m := *r
				m.names = maps.Clone(r.names)
				m.names[name] = moved
				return &m
			})
		}
	}
}
