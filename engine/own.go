package engine

import (
	"fmt"
	"maps"
	"slices"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Declared are the facts that packs declare beside the schema's own. Designs that state them are loaded by it.
func (l *Library) Declared() *schema.Declared { return l.declared }

// OwnValue is a derived value that a pack declares.
type OwnValue struct {
	// Path is what rules call it, Pack declares it.
	Path  string
	Pack  *pack.Pack
	Entry *derive.Entry
	Place schema.Place
}

// Values lists the derived values that packs declare.
func (l *Library) Values() []OwnValue {
	out := make([]OwnValue, len(l.valued))
	for i, v := range l.valued {
		out[i] = OwnValue{v.Path(), v.Pack, v.Entry, v.Place}
	}
	return out
}

// declareOwn takes up the facts of all packs, before anything is compiled.
func (l *Library) declareOwn() document.Problems {
	var problems document.Problems
	var groups []schema.OwnGroup
	of := map[string]*pack.Pack{}
	n := 0
	for _, p := range l.packs {
		if !p.Owns() {
			continue
		}
		c := l.compiler(l.vocabulary, p)
		first := slices.Concat(places(p.Facts), places(p.Values))[0]
		name := p.OwnName()
		switch other := of[name]; {
		case !schema.OwnName.MatchString(name):
			c.ProblemAt(first, "pack", fmt.Sprintf("facts and values stand under the last word of the pack's name, and %s is none that a rule can write: begin it with a small letter", document.Cut(name)), "")
		case other != nil:
			c.ProblemAt(first, "pack", fmt.Sprintf("%s declares facts or values under own.%s already, in %s; give one of the packs another last word", other.Pack, name, other.Path), "")
		default:
			of[name] = p
			facts := c.Facts()
			if n += len(facts); n > schema.MaxOwnFacts {
				c.ProblemAt(facts[len(facts)-1].Place, "facts", fmt.Sprintf("with this fact the packs declare more than %d facts in all", schema.MaxOwnFacts), "")
			}
			groups = append(groups, schema.OwnGroup{Name: name, Pack: p.Pack, Title: p.Title, Facts: facts})
		}
		problems = append(problems, c.Problems...)
	}
	if len(problems) > 0 {
		return problems
	}
	declared, err := schema.Declare(groups)
	if err == nil {
		l.declared = declared
		err = l.vocabulary.Declare(declared)
	}
	if err != nil {
		return document.Problems{{Message: err.Error()}}
	}
	return nil
}

// places are where the entries of a mapping stand.
func places[T any](list pack.Named[T]) []schema.Place {
	out := make([]schema.Place, len(list))
	for i := range list {
		out[i] = list[i].Place
	}
	return out
}

// computeOwn takes up the derived values of all packs, once their limits and tables are known.
func (l *Library) computeOwn(compilers []*rule.Compiler) {
	of := map[*rule.Valued]*rule.Compiler{}
	for _, c := range compilers {
		for _, x := range c.Declare() {
			of[x] = c
			l.valued = append(l.valued, x)
			if rule.TooManyValues(len(l.valued)) {
				c.ProblemAt(x.Place, "values", "with this value the packs declare too many values in all", "")
				return
			}
		}
	}
	for _, x := range l.valued {
		of[x].Value(x)
	}
	for _, x := range l.valued {
		if x.Prog == nil {
			for _, c := range compilers {
				c.Wrong = append(c.Wrong, x.Path())
			}
		}
	}
	rule.Circles(l.valued, func(x *rule.Valued, message string) {
		of[x].ProblemAt(x.Place, "values."+x.Entry.Name, message, "")
	})
}

// ValueAt is the derived value of a name of the part at a path; nil when there is none.
func (l *Library) ValueAt(part, name string) *derive.Entry {
	for _, x := range l.valued {
		if x.Path() == part+"."+name {
			return x.Entry
		}
	}
	return derive.All().Find(schema.TypeAt(part), name)
}

// knowFigures lets the packs read each other's limits and tables.
func (l *Library) knowFigures(compilers []*rule.Compiler) {
	all := map[string]rule.Figure{}
	for _, c := range compilers {
		c.Shared(all)
	}
	for _, c := range compilers {
		c.Figured = all
	}
	l.vocabulary.KnowFigures(slices.Sorted(maps.Keys(all)))
}
