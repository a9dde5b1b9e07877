package rule

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// maxValues is how many derived values all packs together may declare.
const maxValues = 500

// kinds are what a fact may be that is no quantity.
var kinds = map[string]schema.Kind{"count": schema.KindInt, "word": schema.KindWord, "truth": schema.KindBool, "text": schema.KindText, "date": schema.KindDate}

// Facts turns the facts that a pack declares into those of a design.
func (c *Compiler) Facts() []schema.OwnFact {
	var out []schema.OwnFact
	seen := map[string]bool{}
	for i := range c.Pack.Facts {
		e := &c.Pack.Facts[i]
		if fact, ok := c.ownFact(e); ok && c.ownNamed(e.Key, e.Place, "facts."+e.Key, seen) {
			out = append(out, fact)
		}
	}
	for i := range c.Pack.Values {
		e := &c.Pack.Values[i]
		if !schema.OwnName.MatchString(e.Key) {
			c.ProblemAt(e.Place, "values."+e.Key, document.Cut(e.Key)+" is no name of a value: write small letters and digits, words joined by underscores", "")
		} else {
			c.ownNamed(e.Key, e.Place, "values."+e.Key, seen)
		}
	}
	return out
}

// ownNamed refuses names that stand twice in a pack or that expressions keep for themselves.
func (c *Compiler) ownNamed(key string, place schema.Place, path string, seen map[string]bool) bool {
	switch {
	case vocabulary.IsWord(key):
		c.ProblemAt(place, path, key+" is a word that expressions keep for themselves; give it another name, such as the_"+key, "")
	case seen[key]:
		c.ProblemAt(place, path, "the pack has a fact or value of this name already: "+key, "")
	default:
		seen[key] = true
		return true
	}
	return false
}

func (c *Compiler) ownFact(e *pack.Entry[pack.Fact]) (schema.OwnFact, bool) {
	f, path := &e.Value, "facts."+e.Key
	out := schema.OwnFact{Key: e.Key, Words: f.Words, Example: f.Example, Doc: f.Means, Label: f.Label, Spoken: f.Also, Where: words.Where(f.Where), How: f.How, Place: e.Place}
	if out.Doc == "" && f.Label != "" {
		out.Doc = strings.ToUpper(f.Label[:1]) + f.Label[1:] + "."
	}
	for key, text := range map[string]string{"label": f.Label, "means": f.Means, "how": f.How} {
		if len(text) > maxText || strings.ContainsFunc(text, unicode.IsControl) {
			c.Problem(pack.ChildOf(f.Node, key), path+"."+key, "write a sentence on one line, without control characters", "")
			return out, false
		}
	}
	kind, plain := kinds[f.Is]
	switch out.Kind = kind; {
	case plain:
	default:
		_, d, ok := vocabulary.ColumnType(f.Is)
		if !ok {
			c.Problem(pack.ChildOf(f.Node, "is"), path+".is", document.Cut(f.Is)+" is nothing a fact can be: write a dimension such as length, or number, count, word, truth, text or date", document.Nearest(f.Is, factKinds()))
			return out, false
		}
		out.Kind, out.Dimension = schema.KindQuantity, d
	}
	if f.Range != "" {
		low, high, both := strings.Cut(f.Range, "..")
		if out.Low, out.High = strings.TrimSpace(low), strings.TrimSpace(high); !both {
			c.Problem(pack.ChildOf(f.Node, "range"), path+".range", "a range is written least..most, such as 0 mm..500 mm", "")
			return out, false
		}
	}
	key, message := out.Check()
	if message == "" {
		return out, true
	}
	if key == "name" || pack.ChildOf(f.Node, key) == f.Node {
		c.ProblemAt(e.Place, path, message, "")
	} else {
		c.Problem(pack.ChildOf(f.Node, key), path+"."+key, message, "")
	}
	return out, false
}

// factKinds are the names of what a fact can be.
func factKinds() []string {
	return append(slices.DeleteFunc(vocabulary.ColumnTypes(), func(t string) bool { return kinds[t] != 0 }), "count", "word", "truth", "text", "date")
}

// Valued is a derived value of a pack.
type Valued struct {
	Pack  *pack.Pack
	Decl  *pack.Value
	Place schema.Place
	Entry *derive.Entry
	// Prog is its expression; nil while it is not compiled.
	Prog *vocabulary.Program
}

// Path is what rules call it.
func (v *Valued) Path() string { return v.Entry.Path("design."+schema.OwnKey+"."+v.Pack.OwnName(), 0) }

// Declare makes the derived values of a pack known by their names.
func (c *Compiler) Declare() []*Valued {
	var out []*Valued
	for i := range c.Pack.Values {
		e := &c.Pack.Values[i]
		path := "values." + e.Key
		x := &Valued{Pack: c.Pack, Decl: &e.Value, Place: e.Place, Entry: &derive.Entry{Name: e.Key, On: schema.OwnKey + "_" + c.Pack.OwnName(), Meaning: e.Value.Means, Formula: e.Value.Formula}}
		if x.Entry.Formula == "" {
			x.Entry.Formula = e.Value.Is.Text
		}
		t, d, ok := vocabulary.ColumnType(e.Value.Of)
		switch {
		case !ok:
			c.Problem(pack.ChildOf(e.Value.Node, "of"), path+".of", document.Cut(e.Value.Of)+" is nothing a value can be: write a dimension such as length, or number, truth or text", document.Nearest(e.Value.Of, vocabulary.ColumnTypes()))
			continue
		case t.TypeName() == "string":
			x.Entry.Kind = derive.Text
		case t.TypeName() == "bool":
			x.Entry.Kind = derive.Truth
		case d == quantity.DimRatio:
			x.Entry.Kind = derive.Number
		default:
			x.Entry.Kind, x.Entry.Dimension = derive.Quantity, d
		}
		for _, g := range c.reasons(e.Value.Because, path+".because") {
			x.Entry.Sources = append(x.Entry.Sources, derive.Source{Kind: g.Standing, Title: g.Text})
		}
		if len(e.Value.Because) == 0 {
			c.ProblemAt(e.Place, path, "a value needs a because: a source, or the honest words practice, physics or memory", "")
			continue
		}
		if err := c.Vocabulary.AddValue(c.Pack.OwnName(), x.Entry); err != nil {
			continue // two of a name, which was told
		}
		out = append(out, x)
	}
	return out
}

// Value compiles the expression of a value; all of them must be declared.
func (c *Compiler) Value(x *Valued) {
	e, path := &x.Decl.Is, "values."+x.Entry.Name
	alone, filling, before := &Rule{}, c.filling, len(c.Problems)
	c.filling = alone
	p := c.program(e, path+".is", c.Vars)
	c.filling = filling
	if p == nil {
		return
	}
	want, _, _ := vocabulary.ColumnType(x.Decl.Of)
	switch {
	case !SameMeasure(want, p.Type) && !(want.IsExactType(p.Type) && printable(p.Type)):
		c.Problem(e.Node, path+".is", fmt.Sprintf("the value is said to be %s and comes out as %s", TypeName(want), TypeName(p.Type)), "")
	case slices.Contains(p.Names, "today"):
		c.Problem(e.Node, path+".is", "a value is the same on every day: ask for today in the rule", "")
	case !slices.Contains(p.Names, "design") && !slices.Contains(p.Names, "at"):
		c.Problem(e.Node, path+".is", "the value never depends on the design: make it a limit", "")
	default:
		for _, g := range p.Guarded {
			if !slices.Contains(p.Guards, g) {
				line, column := p.Read(g)
				c.fault(e.Node, 0, path+".is", p.Text, vocabulary.Fault{Line: line, Column: column, Message: fmt.Sprintf("%s may be none: ask %s.fitted first", g, g)})
				break
			}
		}
		if len(c.Problems) == before && !c.Trusted {
			r := &reaching{Compiler: c, Reach: vocabulary.NewReach(c.Names), out: alone, path: path}
			r.slips(vocabulary.Everywhere(), p)
		}
	}
	if len(c.Problems) > before {
		return
	}
	x.Prog = p
	x.Entry.Needs, x.Entry.Words = p.Facts, p.Words
	v, names := c.Vocabulary, c.Names
	x.Entry.Compute = func(calc *derive.Calc) any { return v.Sums(calc, p, names) }
	v.Holds(c.Pack.OwnName(), x.Entry.Name, p)
}

// reads lists the values among all that one reads.
func (v *Valued) reads(all []*Valued) []*Valued {
	var out []*Valued
	for _, other := range all {
		if v.Prog != nil && slices.Contains(v.Prog.Fields, other.Entry.On+"."+other.Entry.Name) {
			out = append(out, other)
		}
	}
	return out
}

// Circles refuses values that go round in a circle, and texts made of texts, which could grow without an end.
func Circles(all []*Valued, problem func(x *Valued, message string)) {
	done := map[*Valued]bool{}
	var way []*Valued
	var visit func(x *Valued)
	visit = func(x *Valued) {
		if at := slices.Index(way, x); at >= 0 {
			var b strings.Builder
			for i, next := range append(way[at+1:len(way):len(way)], x) {
				if i > 0 {
					b.WriteString(", which")
				}
				fmt.Fprintf(&b, " needs %s (%s)", next.Path(), next.Place)
			}
			problem(x, x.Path()+b.String()+": values must not go round in a circle")
			return
		}
		if done[x] {
			return
		}
		way = append(way, x)
		for _, y := range x.reads(all) {
			if x.Entry.Kind == derive.Text && y.Entry.Kind == derive.Text {
				problem(x, x.Path()+" is a text made of the text "+y.Path()+": write it out of facts")
			}
			visit(y)
		}
		way = way[:len(way)-1]
		done[x] = true
	}
	for _, x := range all {
		visit(x)
	}
}

// TooManyValues is set past what packs may declare.
func TooManyValues(n int) bool { return n > maxValues }
