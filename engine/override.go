package engine

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
)

// A pack of a region may give a limit or cells of a table of any pack other values, for designs that are used there. That is
// not the shop's doing, so it is not held to the rules of tighten and loosen; it is held to the law. What makes a rule milder
// cites a law with its clause. A rule against a grave danger is made milder only where the figure that it reads is itself one
// that a law set: another law can set that otherwise, but no law makes a hose stronger.

// Overridden is a figure that has another value in a region.
type Overridden struct {
	// What is the limit, or the table with row and column.
	What string `json:"what"`
	// From is its value around the region, To the value there.
	From string `json:"from"`
	To   string `json:"to"`
	// Region is where.
	Region string `json:"region"`
	// Because are the grounds.
	Because []rule.Ground `json:"because"`
	Place   schema.Place  `json:"place"`
}

// override is one figure given another value.
type override struct {
	by    *rule.Compiler // of the pack that does it
	decl  *pack.Override
	owner *rule.Compiler // of the pack that has it
	// kind and full name it, name is what its own pack calls it: limit.reserve.
	kind, full, name string
	// value is a limit's, cell that of a table.
	value   ref.Val
	cell    rule.Cell
	grounds []rule.Ground
	// place is that of the entry, at where the cell stands; an image keeps the former alone.
	place, at schema.Place
}

// what names the figure for people.
func (o *override) what() string {
	if o.kind == "table" {
		return fmt.Sprintf("table %s, %s of %s", o.full, o.cell.Column, spoken(o.cell.Row))
	}
	return "limit " + o.full
}

// column is the name by which expressions read it, the column of a table with it.
func (o *override) column() string {
	if o.kind == "table" {
		return o.name + "." + o.cell.Column
	}
	return o.name
}

// now is the value it has by the figures of a pack.
func (o *override) now(names map[string]ref.Val) ref.Val {
	v := names[o.name]
	if o.kind == "table" {
		v, _ = vocabulary.CellOf(v, o.cell.Row, o.cell.Column)
	}
	return v
}

// to is the value it is given.
func (o *override) to() ref.Val {
	if o.kind == "table" {
		return o.cell.Value
	}
	return o.value
}

// put gives it that value among the figures of its pack.
func (o *override) put(names map[string]ref.Val) {
	if o.kind == "table" {
		names[o.name] = vocabulary.WithCell(names[o.name], o.cell.Row, o.cell.Column, o.cell.Value)
	} else {
		names[o.name] = o.value
	}
}

// maxOverrides bounds how many figures the packs together give other values.
const maxOverrides = 500

// override takes up what packs of regions give other values, once all figures are known.
func (l *Library) override() document.Problems {
	var problems document.Problems
	say := func(place schema.Place, message, near string) {
		if near != "" {
			message += "; did you mean " + near + "?"
		}
		problems = append(problems, document.Problem{Place: place, Path: "override", Message: message, Suggest: near})
	}
	l.overrides, l.placed = map[string][]*override{}, newPlaces()
	n := 0
	for _, p := range l.packs {
		for i := range p.Override {
			x := &p.Override[i]
			if len(problems) >= rule.MaxProblems {
				return problems
			}
			if len(p.Regions) == 0 {
				say(x.Place, "only a pack of a region overrides: name the region, or write tighten or loosen", "")
				continue
			}
			for _, o := range l.overriding(l.compilers[p.Pack], x, say) {
				if n++; n > maxOverrides {
					say(o.at, fmt.Sprintf("with this the packs override more than %d figures in all", maxOverrides), "")
					return problems
				}
				for _, region := range p.Regions {
					l.overrides[region] = append(l.overrides[region], o)
				}
			}
		}
	}
	return problems
}

// overriding reads one entry: a limit, or each cell of a table.
func (l *Library) overriding(by *rule.Compiler, x *pack.Override, say func(schema.Place, string, string)) []*override {
	grounds := by.Reasons(x.Because, "override")
	kind, full := x.Names()
	if kind == "" {
		say(x.Place, "name one limit and what it is there, or one table and its rows", "")
		return nil
	}
	own, name, _ := strings.Cut(full, ".")
	owner := l.compilers[own]
	if owner == nil || owner.Names[kind+"."+name] == nil {
		var all []string
		for _, p := range l.packs {
			for _, e := range p.Limits {
				if kind == "limit" {
					all = append(all, p.Pack+"."+e.Key)
				}
			}
			for _, e := range p.Tables {
				if kind == "table" {
					all = append(all, p.Pack+"."+e.Key)
				}
			}
		}
		say(l.files[by.Pack.Pack].At(pack.ChildOf(x.Node, kind)), fmt.Sprintf("there is no %s %q", kind, document.Cut(full))+besides(full, all), nearestName(full, all))
		return nil
	}
	if len(x.Because) == 0 {
		say(x.Place, "say why it is another there: a source, or the honest words practice, memory or physics", "")
		return nil
	}
	at := func(s pack.Scalar) schema.Place {
		if s.Node == nil {
			return x.Place
		}
		return l.files[by.Pack.Pack].At(s.Node)
	}
	o := override{by: by, decl: x, owner: owner, kind: kind, full: full, name: kind + "." + name, grounds: grounds, place: x.Place, at: x.Place}
	if kind == "limit" {
		if len(x.Rows) > 0 {
			say(x.Place, "a limit has no rows: write is", "")
			return nil
		}
		v, err := rule.AsLimit(x.Is, owner.Names[o.name])
		if err != nil {
			say(at(x.Is), err.Error(), "")
			return nil
		}
		o.value, o.at = v, at(x.Is)
		return []*override{&o}
	}
	table, _ := owner.Pack.Tables.Get(name)
	switch {
	case x.Is.Tag != "":
		say(x.Place, "a table has rows, such as rows: [{"+table.Key+": ...}]", "")
		return nil
	case len(x.Rows) == 0:
		say(x.Place, "name the rows that are others there: rows: [{"+table.Key+": ...}]", "")
		return nil
	}
	var out []*override
	for _, cell := range owner.Cells(table, owner.Names[o.name], x.Rows, func(s pack.Scalar, message, near string) { say(at(s), message, near) }) {
		one := o
		one.cell, one.at = cell, at(cell.At)
		vocabulary.WithCell(owner.Names[o.name], cell.Row, cell.Column, cell.Value) // how long a text of the column can be
		out = append(out, &one)
	}
	return out
}

// checkOverrides refuses those that are nobody's to make, or that leave a rule nothing to decide.
func (l *Library) checkOverrides() document.Problems {
	a := &adjuster{Library: l}
	for _, region := range slices.Sorted(maps.Keys(l.overrides)) {
		seen := map[string]*override{}
		for _, o := range l.overrides[region] {
			if len(a.problems) >= rule.MaxProblems {
				return a.problems
			}
			if o.by.Trusted {
				continue
			}
			if other := seen[o.what()]; other != nil {
				a.problem(o.at, fmt.Sprintf("%s has another value in %s already, by %s; keep one of them", o.what(), region, other.at), "")
				continue
			}
			seen[o.what()] = o
			if message := a.overrides(o, region); message != "" {
				a.problem(o.at, message, "")
			}
		}
	}
	return a.problems
}

// overrides says what is wrong with a figure that a region gives another value; "" when nothing is.
func (a *adjuster) overrides(o *override, region string) string {
	around := a.figuresAround(region, o.owner.Pack.Pack)
	from, to := o.now(around), o.to()
	if from != nil && sameFigure(from, to) {
		return fmt.Sprintf("%s is %s there already: leave it out", o.what(), numberOf(to).Text)
	}
	var readers []*rule.Rule
	for _, r := range a.ready() {
		if r.Mentions(a.nameIn(r, o.owner, o.name)) {
			readers = append(readers, r)
		}
	}
	if message := a.readElsewhere(o); message != "" {
		return message
	}
	lean := vocabulary.Still
	for _, r := range readers {
		if r.Each != nil && slices.Contains(r.Each.Names, a.nameIn(r, o.owner, o.name)) {
			return fmt.Sprintf("%s goes through a list chosen by it, so it is the same everywhere", r.ID)
		}
		lean |= r.Stricter(a.nameIn(r, o.owner, o.column()))
	}
	if !stricterValue(lean, from, to) && lean != vocabulary.Still {
		if message := a.mildens(o, readers, lean); message != "" {
			return message
		}
	}
	for _, r := range readers {
		name := a.nameIn(r, o.owner, o.name)
		given := maps.Clone(around)
		o.put(given)
		if text := r.Undecided(a.compilers[r.Pack.Pack], map[string]ref.Val{name: given[o.name]}); text != "" {
			return fmt.Sprintf("with this value %s decides nothing any more: %s", r.ID, text)
		}
	}
	return ""
}

// sameFigure reports whether two values are one.
func sameFigure(a, b ref.Val) bool {
	if _, isNumber := a.(types.String); isNumber {
		return a.Equal(b) == types.True
	}
	if _, truth := a.(types.Bool); truth {
		return a.Equal(b) == types.True
	}
	return compareBound("at_least", a, b) == types.True && compareBound("at_most", a, b) == types.True
}

// stricterValue reports whether every rule grows stricter by another value, as far as it can be told.
func stricterValue(lean vocabulary.Lean, from, to ref.Val) bool {
	switch from.(type) {
	case vocabulary.Quantity, types.Double, types.Int:
	default:
		return false
	}
	switch lean {
	case vocabulary.Up:
		return compareBound("more_than", to, from) == types.True
	case vocabulary.Down:
		return compareBound("less_than", to, from) == types.True
	}
	return false
}

// mildens says why an override may not make rules milder; "" when it may.
func (a *adjuster) mildens(o *override, readers []*rule.Rule, lean vocabulary.Lean) string {
	how := "this makes " + readers[0].ID + " milder"
	if lean == vocabulary.Both {
		how = "this may make " + readers[0].ID + " milder"
	}
	if !o.by.CitesLaw(o.decl.Because) {
		return fmt.Sprintf("%s: only a law does that in a region; cite its clause under because (source, where), one that was read, or write loosen in a pack without a region", how)
	}
	for _, r := range readers {
		if r.Decl.Danger.Grave() && !o.owner.CitesLaw(a.becauseOf(o)) {
			return fmt.Sprintf("%s guards against %s, and %s is no figure that a law set: no law elsewhere makes it safe, so it may only be made stricter", r.ID, r.Decl.Danger.Words(), o.what())
		}
	}
	return ""
}

// becauseOf are the grounds of a figure in its own pack.
func (a *adjuster) becauseOf(o *override) []pack.Reason {
	_, name, _ := strings.Cut(o.name, ".")
	if e, ok := o.owner.Pack.Limits.Get(name); ok && o.kind == "limit" {
		return e.Because
	}
	if e, ok := o.owner.Pack.Tables.Get(name); ok {
		return e.Because
	}
	return nil
}

// readElsewhere says what else than rules reads a figure, for which it is the same everywhere; "" when nothing does.
func (a *adjuster) readElsewhere(o *override) string {
	reads := func(p *vocabulary.Program, in *pack.Pack) bool {
		return p != nil && (in == o.owner.Pack && slices.Contains(p.Names, o.name) || slices.Contains(p.Names, vocabulary.FigureName(o.kind, o.full)))
	}
	for _, v := range a.valued {
		if reads(v.Prog, v.Pack) {
			return fmt.Sprintf("%s is worked out from %s, and is the same everywhere", v.Path(), o.full)
		}
	}
	for i := range a.cautions {
		if x := &a.cautions[i]; reads(x.When, x.From.Pack) {
			return fmt.Sprintf("the caution %s asks for %s, and is the same everywhere", x.ID, o.full)
		}
	}
	for i := range a.troubles {
		if x := &a.troubles[i]; reads(x.When, x.From.Pack) {
			return fmt.Sprintf("the trouble %s asks for %s, and is the same everywhere", x.ID, o.full)
		}
	}
	for i := range a.readings {
		if x := &a.readings[i]; reads(x.When, x.From.Pack) {
			return fmt.Sprintf("the reading of %s asks for %s, and is the same everywhere", x.Fact, o.full)
		}
	}
	return ""
}

// figuresAround are the figures of a pack as they are in the regions that a region lies in.
func (l *Library) figuresAround(region, of string) map[string]ref.Val {
	out := maps.Clone(l.compilers[of].Names)
	for _, wider := range l.withParents([]string{region}) {
		for _, o := range l.overrides[wider] {
			if wider != region && o.owner.Pack.Pack == of {
				o.put(out)
			}
		}
	}
	return out
}

// Overridden lists the values that a limit or table has in regions, in order of their names.
func (l *Library) Overridden(kind, full string) []Overridden {
	var out []Overridden
	for _, region := range slices.Sorted(maps.Keys(l.overrides)) {
		for _, x := range l.placedIn(region).changed {
			if o := x.by; o.kind == kind && o.full == full && x.Region == region {
				out = append(out, x.Overridden)
			}
		}
	}
	return out
}

// placedIn are the figures of regions, by their names, worked out when first asked for.
type placedIn struct {
	sync.Mutex
	of map[string]*placed
}

func newPlaces() *placedIn { return &placedIn{of: map[string]*placed{}} }
