package engine

import (
	"slices"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
)

// Variants judges variants of a design, each another design whole, by those rules alone that may read what differs. It may be used by
// several goroutines at once.
//
// Checks of sense, and rules about what is entered and measured once all is built, are left out, as a Bench leaves them out.
type Variants struct {
	library *Library
	options Options
	values  derive.Options
	rules   []*rule.Rule
	fields  []fields
	at      map[string]int
}

// Variants makes ready to judge variants of a design that name the same regions.
func (l *Library) Variants(d *schema.Design, o Options) *Variants {
	b := l.bench(d, o, nil, Glance)
	v := &Variants{library: l, options: o, values: l.values(o), rules: b.all, at: map[string]int{}}
	for i, r := range v.rules {
		v.fields = append(v.fields, fieldsOf(r))
		v.at[r.ID] = i
	}
	return v
}

// RuleSet are some of the rules of Variants.
type RuleSet []bool

// All are all of them.
func (v *Variants) All() RuleSet { return slices.Repeat(RuleSet{true}, len(v.rules)) }

// Named are those of some names.
func (v *Variants) Named(names ...string) RuleSet {
	out := make(RuleSet, len(v.rules))
	for _, name := range names {
		if i, known := v.at[name]; known {
			out[i] = true
		}
	}
	return out
}

// Reading are the rules that may read any of some facts, by type and key: Run.bore.
func (v *Variants) Reading(facts []string) RuleSet {
	out := make(RuleSet, len(v.rules))
	for i := range v.rules {
		out[i] = slices.ContainsFunc(facts, func(name string) bool { return v.fields[i][name] })
	}
	return out
}

// Has reports whether a rule is among some.
func (v *Variants) Has(set RuleSet, name string) bool {
	i, known := v.at[name]
	return known && set[i]
}

// Judge judges a variant by some of the rules, as closely as Library.Judge does.
func (v *Variants) Judge(d *schema.Design, set RuleSet) []Finding {
	var rules []*rule.Rule
	for i, r := range v.rules {
		if set[i] {
			rules = append(rules, r)
		}
	}
	if len(rules) == 0 {
		return nil
	}
	j := v.library.open(d, v.options, v.values)
	j.settle(rules, v.values)
	j.concede(j.found)
	return j.arrange()
}
