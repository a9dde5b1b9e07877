package rule

import (
	"fmt"
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Trouble is one ready to be tried on a vehicle.
type Trouble struct {
	ID      string
	Decl    *pack.Trouble
	When    *vocabulary.Program
	Grounds []Ground
	From    *Compiler
	// Dimension is that of its size; Sound, Worst and Usual are sizes in SI units.
	Dimension           quantity.Dimension
	Sound, Worst, Usual float64
	Changes             []Change
}

// Change is what a size does to a fact or a fault.
type Change struct {
	Decl *pack.TroubleChange
	Gain float64
}

// Of is the value there is, changed by a size whose sound is known: times it by 1 + gain (size - sound), or with gain (size -
// sound) added, or the size itself. All in SI units.
func (c *Change) Of(value, size, sound float64) float64 {
	switch c.Decl.Do {
	case "times":
		return value * (1 + c.Gain*(size-sound))
	case "plus":
		return value + c.Gain*(size-sound)
	}
	return size
}

// Troubles compiles those of a pack.
func (c *Compiler) Troubles() []Trouble {
	var out []Trouble
	seen := map[string]bool{}
	for i := range c.Pack.Troubles {
		d := &c.Pack.Troubles[i]
		path := "troubles." + d.ID
		fault := func(text string, args ...any) { c.ProblemAt(d.Place, path, fmt.Sprintf(text, args...), "") }
		if seen[d.ID] || !idPattern.MatchString(d.ID) {
			fault("a trouble's id is its own: lower-case words joined by hyphens, once in the pack")
		}
		seen[d.ID] = true
		if len(d.Because) == 0 {
			fault("a trouble needs a because: a source, or the honest words practice, physics or memory")
		}
		if len(d.Changes) == 0 && !d.Unsized() {
			fault("say what it changes: a fact of the design, or a fault")
		}
		c.parts(d.Parts, fault)
		c.plainWords(fault, map[string]string{"title": d.Title, "signs": d.Signs, "confirm": d.Confirm, "mend": d.Mend, "say": d.Size.Say})
		x := Trouble{ID: c.Pack.Pack + "." + d.ID, Decl: d, From: c, Grounds: c.reasons(d.Because, path)}
		if d.When != nil {
			x.When = c.decides(d.When, path+".when", fault)
		}
		if !d.Unsized() && c.size(&x, fault) {
			for k := range d.Changes {
				c.change(&x, &d.Changes[k], fault)
			}
		}
		out = append(out, x)
	}
	return out
}

// parts refuses parts that a design does not have.
func (c *Compiler) parts(list []string, fault func(string, ...any)) {
	for _, part := range list {
		if strings.Contains(part, "[") || !c.Vocabulary.HasPath("design."+part) {
			fault("a design has no part %q", part)
		}
	}
}

// plainWords refuses words that only a design file writes in what is said to people.
func (c *Compiler) plainWords(fault func(string, ...any), texts map[string]string) {
	for key, text := range texts {
		if word := RawWord.FindString(literal(text)); word != "" {
			fault("%s: %s is how a design file writes it: say it in words", key, word)
		}
	}
}

// size reads the sizes of a trouble.
func (c *Compiler) size(x *Trouble, fault func(string, ...any)) bool {
	s := &x.Decl.Size
	_, d, ok := vocabulary.ColumnType(s.Of)
	if !ok || d == quantity.None {
		fault("size: %s is no dimension", s.Of)
		return false
	}
	x.Dimension = d
	for _, v := range []struct {
		scalar pack.Scalar
		into   *float64
	}{{s.Sound, &x.Sound}, {s.Worst, &x.Worst}, {s.Usual, &x.Usual}} {
		q, err := quantity.Parse(v.scalar.Text, d)
		if err != nil {
			fault("size: %s", err)
			return false
		}
		*v.into = q.SI()
	}
	if x.Sound == x.Worst || (x.Usual-x.Sound)*(x.Worst-x.Usual) < 0 || x.Usual == x.Sound {
		fault("size: usual must lie between sound and worst, and is not sound")
		return false
	}
	if s.WholeOf != "" && (schema.Describe("design."+s.WholeOf).Field.Kind != schema.KindInt || d != quantity.DimShare) {
		fault("size: whole_of is the path of a count, and the size a share; not %s", s.WholeOf)
	}
	if !strings.Contains(s.Say, "{size}") {
		fault("size: say must hold {size}")
	}
	return true
}

// change checks one change of a trouble.
func (c *Compiler) change(x *Trouble, d *pack.TroubleChange, fault func(string, ...any)) {
	out := Change{Decl: d, Gain: 1}
	if d.Gain.Text != "" {
		gain, err := strconv.ParseFloat(d.Gain.Text, 64)
		if err != nil || gain == 0 || d.Do == "is" {
			fault("gain is a number other than 0, of a change that is times or plus; not %s", d.Gain.Text)
			return
		}
		out.Gain = gain
	}
	dimension := quantity.None
	switch {
	case (d.Fact == "") == (d.Fault == ""):
		fault("a change names a fact or a fault")
		return
	case d.Fault != "":
		f := derive.FaultNamed(d.Fault)
		if f == nil {
			fault("there is no fault %q; they are %s", d.Fault, strings.Join(faultNames(), ", "))
			return
		}
		dimension = f.Dimension
		if len(d.Where) > 0 || d.Only != "" {
			fault("where and only are of facts in lists; %s is a fault", d.Fault)
		}
	default:
		dimension = schema.Describe("design." + d.Fact).Field.Dimension
		if dimension == quantity.None {
			fault("a design has no fact %q with a size", d.Fact)
			return
		}
		c.where(d, fault)
	}
	switch {
	case d.Do == "times" && x.Dimension != quantity.DimShare && x.Dimension != quantity.DimRatio:
		fault("a size of %s cannot multiply: it is to be a share", x.Dimension)
	case d.Do != "times" && dimension != x.Dimension:
		fault("a size of %s cannot be put into %s%s, which is %s", x.Dimension, d.Fact, d.Fault, dimension)
	}
	x.Changes = append(x.Changes, out)
}

// where checks that the items a change is for can have the words it asks for.
func (c *Compiler) where(d *pack.TroubleChange, fault func(string, ...any)) {
	list := firstList(d.Fact)
	if list == "" && (len(d.Where) > 0 || d.Only != "") {
		fault("where and only are of facts in lists; %s is in none", d.Fact)
		return
	}
	for _, w := range d.Where {
		if err := schema.CheckIn(schema.TypeAt("design."+list+"[]"), w.Key, w.Value); err != nil {
			fault("where: an item of %s cannot have %s %s", list, w.Key, w.Value)
		}
	}
}

// firstList is the first list on the way to a fact, "" for none.
func firstList(fact string) string {
	list, _, found := strings.Cut(fact, "[]")
	if !found {
		return ""
	}
	return list
}

func faultNames() []string {
	var out []string
	for _, f := range derive.Faults() {
		out = append(out, f.Name)
	}
	return out
}
