package explain

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema/quantity"
)

// functions tells what an expression may call and how its parts are joined.
func functions() Topic {
	t := Topic{Name: "functions", Title: "what a rule's expressions may say", Also: []string{"function", "operators", "expressions", "cel", "language"}}
	operators, calls := Section{Heading: "Operators, and what goes through lists"}, Section{Heading: "Functions"}
	for _, f := range engine.Operators() {
		operators.Items = append(operators.Items, Item{f.Signature, f.Doc, f.Example})
	}
	for _, f := range engine.Functions() {
		calls.Items = append(calls.Items, Item{f.Signature, f.Doc, f.Example})
	}
	t.Sections = append(t.Sections, operators, calls, Section{Heading: "Names", Items: []Item{
		{Code: "design.PART.FACT", Text: "is a stated fact: plumbline explain design.pump lists those of a part"},
		{Code: "at.POINT.NAME", Text: "is a derived value of the vehicle at an operating point; a part has its own: run.at.full_load.loss (explain points)"},
		{Code: "limit.NAME, table.NAME", Text: "are the pack's own figures; today is the day of judging; each and let give names of the rule's own"},
		{Code: "PART.fitted", Text: "asks whether a part that may be none is there: ask it before its facts are read (explain guards)"},
	}})
	return t
}

// units tells the dimensions and how their quantities are written.
func units() Topic {
	t := Topic{Name: "units", Title: "the dimensions, and how their quantities are written", Also: []string{"unit", "dimensions", "dimension", "quantities", "column types", "columns"}}
	t.Sections = append(t.Sections, Section{Heading: "Products and quotients", Items: []Item{
		{Code: "a * b, a / b", Text: "the dimension follows from the exponents of the two: area times length is a volume, volume by flow a time, of one dimension a plain number", Example: "within(L(1) / L_per_h(120), s(30), s(0.01))"},
		{Text: "a product that has no name, such as a mass times a length, may be used on the way, under let too; a measure, a bound, a value and a sentence hold what has one"},
		{Text: "of two dimensions with the same exponents a product is called the plainer one: an area and no wire size, a pressure and no absolute one, a temperature difference and no temperature"},
		{Text: "an angle is kept: 50 Hz is no rad/s, and force times length is an energy, no torque; a share scales what it meets; a temperature counts from absolute zero there"},
	}})
	all := quantity.Units()
	for _, d := range quantity.Dimensions() {
		s := Section{Heading: strings.ReplaceAll(d.String(), "_", " ")}
		if d == quantity.DimRatio {
			s.Items = append(s.Items, Item{Text: "a plain number, 1.15; in a table its column is a number"})
		} else {
			s.Items = append(s.Items, Item{Text: fmt.Sprintf("of: %s, in limits and columns of tables; a design writes %s", d, quantity.Example(d))})
		}
		var forms []string
		for _, u := range all {
			if u.Dimension == d && u.CEL != "" && d != quantity.DimRatio {
				forms = append(forms, u.CEL+"(1) for 1 "+u.Symbol)
			}
		}
		if p, multiplies := d.Powers(); multiplies {
			s.Items = append(s.Items, Item{Text: "in products it is " + p.String()})
		}
		if len(forms) > 0 {
			s.Items = append(s.Items, Item{Text: "in an expression " + strings.Join(forms, ", ")})
		}
		t.Sections = append(t.Sections, s)
	}
	return t
}

// points tells the operating points.
func points() Topic {
	t := Topic{Name: "points", Title: "the operating points a derived value may hold for", Also: []string{"point", "operating points", "at"}}
	for _, p := range derive.Points() {
		t.Sections = append(t.Sections, Section{Heading: p.String(), Items: []Item{{Text: p.Meaning()}, {Code: "at." + p.String() + ".NAME", Text: "as in at." + p.String() + ".fuel_demand"}}})
	}
	return t
}

// views tells the lists that gather parts of several.
func views() Topic {
	t := Topic{Name: "views", Title: "lists that gather parts of a design from several places", Also: []string{"view", "each"}}
	for _, v := range derive.Views() {
		t.Sections = append(t.Sections, Section{Heading: v.Path(), Items: []Item{{Text: v.Meaning}, {Code: "each: {x: " + v.Path() + "}", Text: "x is a " + v.Item.Name() + ", gathered from " + strings.Join(v.From, ", ")}}})
	}
	return t
}
