package engine

import (
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
)

// Variants judges variants of a design, each another design whole, by those rules alone that may read what differs. It may be used by
// several goroutines at once.
//
// Rules about what is entered and measured once all is built are left out: they follow the part.
type Variants struct {
	library *Library
	options Options
	values  derive.Options
	rules   []*rule.Rule
	// fields are the facts that decide each rule, told those that what it says rests on too.
	fields, told []fields
	at           map[string]int
}

// Variants makes ready to judge variants of a design that name the same regions.
func (l *Library) Variants(d *schema.Design, o Options) *Variants {
	v := &Variants{library: l, options: o, values: l.values(o), at: map[string]int{}}
	v.rules = l.open(d, o, v.values).builtBy()
	filling := fields{}
	for _, p := range o.Patterns {
		for _, path := range p.Decisive() {
			at := schema.Path("design." + path)
			filling[schema.TypeAt(string(at.Parent()))+"."+at.Key()] = true
			if part := schema.TypeAt(string(at)); part != "" {
				filling.whole(part)
			}
		}
	}
	for i, r := range v.rules {
		v.fields = append(v.fields, fieldsOf(r))
		told := fieldsIn(r.Ready().Programs())
		told.join(filling)
		v.told = append(v.told, told)
		v.at[r.ID] = i
	}
	return v
}

// Rules is how many rules there are, Rule the name of each.
func (v *Variants) Rules() int { return len(v.rules) }

// Rule is the name of a rule by its place.
func (v *Variants) Rule(i int) string { return v.rules[i].ID }

// Rests tells of each rule on which of some things what it finds and says may rest, or what is usual then: a bit for each thing, which
// is some facts by type and key. There are no more than 64 things.
func (v *Variants) Rests(things [][]string) []uint64 {
	out := make([]uint64, len(v.rules))
	for i := range v.rules {
		for k, facts := range things {
			if slices.ContainsFunc(facts, func(name string) bool { return v.told[i][name] }) {
				out[i] |= 1 << k
			}
		}
	}
	return out
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

// Apart reports whether what a rule finds of an item of a list rests on nothing of the other items: it reads none of them, nor any value
// that may rest on a part of their type.
func (v *Variants) Apart(name string) bool {
	i, known := v.at[name]
	if !known || v.rules[i].Each == nil {
		return false
	}
	r := v.rules[i]
	item := r.Each.Type.Parameters()[0].TypeName()
	item = item[strings.LastIndexByte(item, '.')+1:]
	for _, p := range r.Deciding() {
		if p == r.Each {
			continue
		}
		if slices.ContainsFunc(p.Facts, func(path string) bool { return strings.HasPrefix(path, r.List()) }) {
			return false
		}
		for _, field := range p.Fields {
			part, key, _ := strings.Cut(field, ".")
			value := valueFields()[strings.TrimSuffix(part, "Point")+"."+key]
			if part == "LineEnd" || part == "Joint" || part == "Design" && derive.ViewAt("design."+key) != nil {
				return false
			}
			for name := range value {
				if strings.HasPrefix(name, item+".") {
					return false
				}
			}
		}
	}
	return true
}

// Judge judges a variant by some of the rules, as closely as the depth says: Whole is as Library.Judge does.
func (v *Variants) Judge(d *schema.Design, set RuleSet, depth Depth) []Finding {
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
	j.unasked = true
	if depth != Whole {
		j.bench = &Bench{library: v.library, options: v.options, values: v.values, design: d, boxes: map[string]*box{}, keeps: depth, depth: depth}
	}
	j.settle(rules, v.values)
	j.concede(j.found)
	return j.arrange()
}
