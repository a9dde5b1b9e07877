package rule

import (
	"fmt"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Reading is one ready to be held against a vehicle.
type Reading struct {
	// Fact is its path in a design, Expects that of the derived value it is held against.
	Fact, Expects string
	Decl          *pack.Reading
	When          *vocabulary.Program
	Grounds       []Ground
	From          *Compiler
	Dimension     quantity.Dimension
	Error         Margin
	Scatter       Margin
	// Change is the share of what a trouble changes of it that may come out otherwise.
	Change float64
}

// Margin is how far a value may be off, in SI units.
type Margin struct {
	Share, Plus float64
	Stated      []string
}

// The least and the most effort of a reading.
const leastEffort, mostEffort = 1, 5

// Readings compiles those of a pack.
func (c *Compiler) Readings() []Reading {
	var out []Reading
	for i := range c.Pack.Readings {
		d := &c.Pack.Readings[i]
		path := "readings." + d.Fact
		fault := func(text string, args ...any) { c.ProblemAt(d.Place, path, fmt.Sprintf(text, args...), "") }
		x := Reading{Fact: "design." + d.Fact, Expects: d.Expected(), Decl: d, From: c, Grounds: c.reasons(d.Because, path)}
		if len(d.Because) == 0 {
			fault("a reading needs a because: a source, or the honest words practice, physics or memory")
		}
		if x.Dimension = schema.Describe(x.Fact).Field.Dimension; x.Dimension == quantity.None || strings.Contains(d.Fact, "[") {
			fault("a design has no fact %q with a number, outside a list", d.Fact)
			continue
		}
		switch e, _, _ := derive.Named(x.Expects); {
		case e == nil:
			fault("there is no derived value %s: write its path, such as at.idle.pump_voltage", d.Expects)
			continue
		case e.Dimension != x.Dimension:
			fault("%s is %s and %s is %s", d.Fact, x.Dimension, d.Expects, e.Dimension)
		}
		if d.Effort < leastEffort || d.Effort > mostEffort {
			fault("effort is a number from %d to %d", leastEffort, mostEffort)
		}
		c.parts(d.Parts, fault)
		c.plainWords(fault, map[string]string{"title": d.Title, "how": d.How})
		if d.When != nil {
			x.When = c.decides(d.When, path+".when", fault)
		}
		x.Error = c.margin(&x, &d.Error, fault)
		x.Scatter = c.margin(&x, &d.Scatter, fault)
		x.Change = c.margin(&x, &pack.Margin{Share: d.Change}, fault).Share
		if x.Error.Share <= 0 && x.Error.Plus <= 0 {
			fault("no instrument is without error: give a share or a plus")
		}
		out = append(out, x)
	}
	return out
}

// margin reads how far a value may be off.
func (c *Compiler) margin(x *Reading, d *pack.Margin, fault func(string, ...any)) Margin {
	var out Margin
	read := func(s pack.Scalar, want quantity.Dimension, into *float64) {
		if s.Text == "" {
			return
		}
		q, err := quantity.Parse(s.Text, want)
		if err != nil || q.SI() < 0 {
			fault("a margin is no less than nothing, in a unit of the value: %s", s.Text)
			return
		}
		*into = q.SI()
	}
	plus := x.Dimension
	switch plus {
	case quantity.DimTemperature:
		plus = quantity.DimTemperatureDifference
	case quantity.DimAbsolutePressure:
		plus = quantity.DimPressure
	}
	read(d.Share, quantity.DimShare, &out.Share)
	read(d.Plus, plus, &out.Plus)
	for _, fact := range d.Stated {
		if schema.Describe("design."+fact).Field.Dimension == quantity.None {
			fault("a design has no fact %q with a number", fact)
		}
		out.Stated = append(out.Stated, "design."+fact)
	}
	return out
}
