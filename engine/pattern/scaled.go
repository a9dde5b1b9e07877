package pattern

import (
	"fmt"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Scaled is a number that is a share of the product of other facts: idle fuel by displacement, a pump's flow at another
// pressure by the printed one.
type Scaled struct {
	// Fact is the path of the number, By those of the others; [] stands for every item of the list, the same in all.
	Fact string
	By   []string
	// Low, Usual and High are in SI units of Fact for every SI unit of the product of By; Plus is added.
	Low, Usual, High, Plus float64
	// Dimension of Fact.
	Dimension quantity.Dimension
}

// scaled is a row as it is written.
type scaled struct {
	// The fact, as a path without the root.
	Fact string `yaml:"fact" jsonschema:"required"`
	// The facts it depends on.
	By []string `yaml:"by" jsonschema:"required"`
	// The fact's value, as a range, for what per says of each of the others: 0.38..0.5..0.65 L/h per 1 L.
	Is string `yaml:"is" jsonschema:"required"`
	// A value of each of the others, in their order.
	Per []string `yaml:"per" jsonschema:"required"`
	// Added to it.
	Plus string `yaml:"plus"`
}

func (s *scaled) read(pattern *schema.Design) (Scaled, string) {
	out := Scaled{Fact: "design." + s.Fact}
	if len(s.By) == 0 || len(s.By) != len(s.Per) {
		return out, fmt.Sprintf("per of %s needs a value for each of by", s.Fact)
	}
	field := schema.Describe(out.Fact).Field
	if field.Kind != schema.KindQuantity {
		return out, s.Fact + " is no quantity of a design"
	}
	out.Dimension = field.Dimension
	low, usual, high, err := ends(s.Is, field.Dimension)
	if err != nil {
		return out, s.Fact + ": " + err.Error()
	}
	unit := 1.0
	for i, by := range s.By {
		path := "design." + by
		f := schema.Describe(path).Field
		switch f.Kind {
		case schema.KindQuantity:
			v, err := quantity.Parse(s.Per[i], f.Dimension)
			if err != nil {
				return out, by + ": " + err.Error()
			}
			unit *= v.SI()
		case schema.KindInt:
			var n int
			if _, err := fmt.Sscanf(s.Per[i], "%d", &n); err != nil || n == 0 {
				return out, by + ": write a whole number"
			}
			unit *= float64(n)
		default:
			return out, by + " is no number of a design"
		}
		out.By = append(out.By, path)
	}
	out.Low, out.Usual, out.High = low/unit, usual/unit, high/unit
	if s.Plus != "" {
		v, err := quantity.Parse(s.Plus, field.Dimension)
		if err != nil {
			return out, s.Fact + ": " + err.Error()
		}
		out.Plus = v.SI()
	}
	return out, ""
}

// ends reads a range, or one value.
func ends(text string, d quantity.Dimension) (low, usual, high float64, err error) {
	r, is, err := quantity.ParseRange(text, d)
	if is || err != nil {
		return r.Low.SI(), r.Usual.SI(), r.High.SI(), err
	}
	v, err := quantity.Parse(text, d)
	return v.SI(), v.SI(), v.SI(), err
}

// Items are the rows of this one in a design, one for every item of the list that [] stands for.
func (s *Scaled) Items(d *schema.Design) []Scaled {
	list, _, each := strings.Cut(s.Fact, "[]")
	if !each {
		return []Scaled{*s}
	}
	var out []Scaled
	for i := 0; ; i++ {
		item := fmt.Sprintf("%s[%d]", list, i)
		if d.At(item) == nil {
			return out
		}
		one := *s
		one.Fact = strings.Replace(s.Fact, list+"[]", item, 1)
		one.By = nil
		for _, by := range s.By {
			one.By = append(one.By, strings.Replace(by, list+"[]", item, 1))
		}
		out = append(out, one)
	}
}

// Value is the number for a share between low, usual and high of a design that states all of By; false otherwise.
func (s *Scaled) Value(d *schema.Design, share float64) (quantity.Value, bool) {
	product := 1.0
	for _, path := range s.By {
		fact := d.FactAt(path)
		if fact == nil || !fact.Known() {
			return quantity.Value{}, false
		}
		switch v := fact.Any().(type) {
		case interface{ SI() float64 }:
			product *= v.SI()
		case int:
			product *= float64(v)
		}
	}
	v, err := quantity.New(share*product+s.Plus, s.Dimension)
	return v, err == nil
}
