package engine

import (
	"math"
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pattern"
	"plumbline/schema"
)

// Bench is a design made ready to be judged again and again with other values of some of its facts, by those rules alone whose
// findings rest on them: what a rule does not read cannot change what it finds. It is not safe for concurrent use.
//
// One made for sizes leaves out checks of sense, and rules about what is entered and measured once all is built: they follow the
// part.
type Bench struct {
	library *Library
	options Options
	values  derive.Options
	design  *schema.Design
	session *derive.Session
	// all are the rules that may be judged, marks those of the facts findings rest on, rests those of all findings of a rule.
	all   []*rule.Rule
	marks *marks
	rests map[string]uint64
	// changed are the marks of the facts that are changed now, lists the rules whose lists may be others by them.
	changed uint64
	lists   map[string]bool
	// terse leaves out what findings say.
	terse bool
	// fitting are the patterns that contradict nothing, and boxes those they make, by their patterns' names.
	fitting *fitting
	boxes   map[string]*box
	// depth is how closely it is looked at now, keeps how closely it is kept ready to be looked at.
	depth, keeps Depth
	// leaves are the rules that are not judged now, by their names, and only those that alone are; nil for all.
	leaves, only map[string]bool
	// touched are the rules that rest on some facts, by those.
	touched map[string]*touched
	// stated is the design as it stands.
	stated *schema.Design
	// bases are the findings of the design as it stands, by how closely they were looked at.
	bases map[Depth]*base
}

// Change is another value of a fact, a Go value as the fact holds it.
type Change struct {
	Path  string
	Value any
}

// Bench makes a design ready to be judged by every rule, as closely as depth. Things are the facts to be changed later, those that are changed
// together as one; more than MostThings share what is judged again. They are stated,
// and no items of a list of words: what is read of such a list is the list.
func (l *Library) Bench(d *schema.Design, o Options, things [][]string, depth Depth) *Bench {
	return l.bench(d, o, things, depth, false).settleAll(depth)
}

// BenchForSizes makes a design ready to be judged by what decides on a part before it is bought.
func (l *Library) BenchForSizes(d *schema.Design, o Options, things [][]string) *Bench {
	return l.bench(d, o, things, Whole, true).settleAll(Whole)
}

// MostThings is how many things a Bench tells apart.
const MostThings = 64

// settleAll judges the design as it stands, as closely as depth: what findings rest on there is what they rest on elsewhere.
func (b *Bench) settleAll(depth Depth) *Bench {
	b.depth = depth
	defer func() { b.depth = Whole }()
	j := b.open()
	j.settle(b.all, b.values)
	b.settled(j)
	b.bases[depth] = baseOf(j.finish())
	return b
}

// bench is a design of which nothing is judged yet.
func (l *Library) bench(d *schema.Design, o Options, things [][]string, keeps Depth, sizes bool) *Bench {
	b := &Bench{library: l, options: o, values: l.values(o), design: d.Clone(), stated: d.Clone(), boxes: map[string]*box{}, touched: map[string]*touched{}, keeps: keeps, bases: map[Depth]*base{}}
	b.values.Marks = map[string]uint64{}
	for i, paths := range things {
		for _, path := range paths {
			b.values.Marks[path] |= 1 << (i % MostThings) // things that share a bit are judged by the rules of both
		}
	}
	b.session = derive.NewSession(b.design, b.values)
	if j := b.open(); sizes {
		b.all = slices.DeleteFunc(j.builtBy(), func(r *rule.Rule) bool { return r.Decl.Sense })
	} else {
		b.all = j.inForce()
	}
	return b
}

// inForce are the rules of the design's regions.
func (j *judging) inForce() []*rule.Rule {
	replaced := j.replaced(j.library.rules)
	return slices.DeleteFunc(slices.Clone(j.library.rules), func(r *rule.Rule) bool { return replaced[r.ID] || !j.inRegion(r.Pack) })
}

// builtBy are those about what is there once all is built: not those about what is entered and measured then.
func (j *judging) builtBy() []*rule.Rule {
	return slices.DeleteFunc(j.inForce(), func(r *rule.Rule) bool { return StageRank(r.Decl.Due) > StageRank("built") })
}

// settled takes what a judging of the design as it stands found out.
func (b *Bench) settled(j *judging) {
	b.fitting, b.marks, b.rests = j.fitting(), j.marks, j.marks.byRule()
}

// Rests reports whether what a rule finds rests on any of some facts.
func (b *Bench) Rests(rule string, facts []string) bool { return b.rests[rule]&b.mark(facts) != 0 }

// Leave leaves rules out, by their names, until it or Only is called again: what judges less is quicker.
func (b *Bench) Leave(rules map[string]bool) { b.leaves, b.only = rules, nil }

// Only leaves all but some rules out, until it or Leave is called again.
func (b *Bench) Only(rules map[string]bool) { b.leaves, b.only = nil, rules }

// mark joins the marks of some facts.
func (b *Bench) mark(facts []string) (out uint64) {
	for _, path := range facts {
		out |= b.values.Marks[path]
	}
	return out
}

func (b *Bench) open() *judging {
	j := b.library.openIn(b.session, b.options)
	j.bench, j.terse = b, b.terse
	return j
}

// settle applies rules, and lets what stays open lean. What is a fault of a pack is no finding.
func (j *judging) settle(rules []*rule.Rule, values derive.Options) {
	j.rules(rules)
	j.takeFaults()
	j.withoutHouse(rules, values)
	j.lean(rules, values)
}

// Depth says how closely a design is looked at where it leans.
type Depth int

// The depths: all usual values of the first way it may be built; also all that is usual of that way, and the usual values of
// the others; and all of it, with the ranges that are stated, as Judge looks.
const (
	Whole Depth = iota
	Near
	Glance
)

// points are those of the coordinates of a way, by its place among them, that are tried.
func (d Depth) points(way int, all [][]float64) [][]float64 {
	switch {
	case d == Whole, d == Near && way == 0:
		return all
	case d == Near, way == 0:
		return all[:1]
	}
	return nil
}

// Try judges the design with changes of one of the things, and gives the findings that rest on it. The design is then as it was.
func (b *Bench) Try(depth Depth, changes ...Change) []Finding {
	found, _ := b.try(depth, changes)
	return found
}

// try judges with changes; rules are those that were applied.
func (b *Bench) try(depth Depth, changes []Change) (found []Finding, rules []*rule.Rule) {
	b.depth = depth
	defer func() { b.depth = Whole }()
	facts := make([]string, len(changes))
	for i, c := range changes {
		facts[i] = c.Path
	}
	if fitting := b.fitting; b.classes(facts) {
		b.fitting = nil
		defer func() { b.fitting = fitting }()
	}
	b.put(b.mark(facts), func(d *schema.Design) {
		for _, c := range changes {
			put(d, c.Path, c.Value)
		}
	})
	rules = b.resting(facts)
	b.changed = b.mark(facts)
	found = b.judge(rules)
	b.changed = 0
	b.put(b.mark(facts), func(d *schema.Design) {
		for _, path := range facts {
			d.Take(path, b.stated)
		}
	})
	return found, rules
}

// judge applies rules to the design as it is now.
func (b *Bench) judge(rules []*rule.Rule) []Finding {
	j := b.open()
	if b.changed != 0 {
		j.marks = nil // what findings rest on is known
	}
	j.settle(rules, b.values)
	return j.finish()
}

// finish arranges what was found.
func (j *judging) finish() []Finding {
	j.concede(j.found)
	j.block()
	return j.arrange()
}

// touched are the rules whose findings, or lists, rest on some facts; lists are the latter, by their names.
type touched struct {
	rules []*rule.Rule
	lists map[string]bool
}

// resting are the rules to judge when some facts have changed.
func (b *Bench) resting(facts []string) []*rule.Rule {
	key := strings.Join(facts, " ")
	t := b.touched[key]
	if t == nil {
		t = b.touchedBy(facts)
		b.touched[key] = t
	}
	b.lists = t.lists
	if b.leaves == nil && b.only == nil {
		return t.rules
	}
	out := make([]*rule.Rule, 0, len(t.rules))
	for _, r := range t.rules {
		if !b.leaves[r.ID] && (b.only == nil || b.only[r.ID]) {
			out = append(out, r)
		}
	}
	return out
}

func (b *Bench) touchedBy(facts []string) *touched {
	mark, out := b.mark(facts), &touched{lists: map[string]bool{}}
	var fields []string
	for _, path := range facts {
		p := schema.Path(path)
		fields = append(fields, schema.TypeAt(string(p.Parent()))+"."+p.Key())
	}
	for _, r := range b.all {
		lists := r.Each != nil && slices.ContainsFunc(fields, func(f string) bool { return slices.Contains(r.Each.Fields, f) })
		if lists {
			out.lists[r.ID] = true
		}
		if lists || b.rests[r.ID]&mark != 0 {
			out.rules = append(out.rules, r)
		}
	}
	return out
}

// classes reports whether any of some facts is a number by which patterns contradict a design.
func (b *Bench) classes(facts []string) bool {
	return slices.ContainsFunc(b.options.Patterns, func(p *pattern.Pattern) bool {
		return slices.ContainsFunc(facts, func(path string) bool { return slices.Contains(p.Within, pattern.Generic(path)) })
	})
}

// put states facts with a mark in the design and in all that is made of it, and forgets what rests on them.
func (b *Bench) put(mark uint64, in func(*schema.Design)) {
	in(b.design)
	b.session.Forget(mark)
	for _, x := range b.boxes {
		if x.design != b.design {
			in(x.design)
		}
		for i, s := range x.made {
			if s == nil {
				continue
			}
			in(s.Design())
			for k := range x.dims {
				if scaled := x.dims[k].scaled; scaled != nil && b.values.Marks[scaled.Fact]&mark != 0 {
					x.dims[k].scale(s.Design(), x.coordinates[i][k])
				}
			}
			s.Forget(mark)
		}
	}
}

// box is the box of the design and some patterns, kept where it is judged again; that of the first way with the design it is
// glanced at, or all with all that is in them.
func (j *judging) box(patterns []*pattern.Pattern, first bool) *box {
	if j.bench == nil {
		return boxOf(j.design, patterns)
	}
	var names strings.Builder
	for _, p := range patterns {
		names.WriteString(p.Name + "\n")
	}
	b := j.bench.boxes[names.String()]
	if b == nil {
		b = boxOf(j.design, patterns)
		b.made = []*derive.Session{}
		switch {
		case j.bench.keeps == Whole:
			b.keeps = math.MaxInt
		case first:
			b.keeps = 1
		}
		j.bench.shares(b)
		j.bench.boxes[names.String()] = b
	}
	return b
}

// shares gives numbers that are a share of others the marks of those.
func (b *Bench) shares(x *box) {
	for range 2 { // a share of a share
		for i := range x.dims {
			if s := x.dims[i].scaled; s != nil {
				for _, by := range s.By {
					if mark := b.values.Marks[by]; mark != 0 {
						b.values.Marks[s.Fact] |= mark
					}
				}
			}
		}
	}
}

// once are the coordinates to try, worked out once.
func (b *box) once(coordinates func(*box) [][]float64) [][]float64 {
	if b.coordinates == nil {
		b.coordinates = coordinates(b)
		if b.made != nil {
			b.made = make([]*derive.Session, len(b.coordinates))
		}
	}
	return b.coordinates
}

// session is the design at one of the coordinates, kept where it is judged again.
func (b *box) session(i int, at [][]float64, values derive.Options) *derive.Session {
	if i >= b.keeps {
		return derive.NewSession(b.point(at[i]), values)
	}
	if b.made[i] == nil {
		b.made[i] = derive.NewSession(b.point(at[i]), values)
	}
	return b.made[i]
}
