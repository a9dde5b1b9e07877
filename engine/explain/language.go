package explain

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Topic is a part of the rule language, told from what the program itself goes by.
type Topic struct {
	Name  string
	Title string
	// Also are other names it is asked by.
	Also     []string
	Sections []Section
}

// Section is a heading and what stands under it, a line each.
type Section struct {
	Heading string
	Lines   []string
}

// Topics are all there are.
var Topics = sync.OnceValue(func() []Topic {
	return []Topic{functions(), units(), forms(), points(), views()}
})

// TopicNamed is the topic of a name; nil when there is none.
func TopicNamed(name string) *Topic {
	list := Topics()
	for i := range list {
		if t := &list[i]; strings.EqualFold(t.Name, name) || slices.ContainsFunc(t.Also, func(a string) bool { return strings.EqualFold(a, name) }) {
			return t
		}
	}
	return nil
}

// functions tells what an expression may call and how its parts are joined.
func functions() Topic {
	t := Topic{Name: "functions", Title: "what a rule's expressions may say", Also: []string{"function", "operators", "expressions", "cel", "language"}}
	operators, calls := Section{Heading: "Operators, and what goes through lists"}, Section{Heading: "Functions"}
	for _, f := range engine.Operators() {
		operators.Lines = append(operators.Lines, f.Signature+": "+f.Doc+". Such as "+f.Example)
	}
	for _, f := range engine.Functions() {
		calls.Lines = append(calls.Lines, f.Signature+": "+f.Doc+". Such as "+f.Example)
	}
	t.Sections = append(t.Sections, operators, calls, Section{Heading: "Names", Lines: []string{
		"design.PART.FACT is a stated fact: plumbline explain design.pump lists those of a part",
		"at.POINT.NAME is a derived value of the vehicle at an operating point; a part has its own: run.at.full_load.loss (explain points)",
		"limit.NAME and table.NAME are the pack's own figures, today is the day of judging, and each and let give names of the rule's own",
		"PART.fitted asks whether a part that may be none is there: ask it before its facts are read",
	}})
	return t
}

// units tells the dimensions and how their quantities are written.
func units() Topic {
	t := Topic{Name: "units", Title: "the dimensions, and how their quantities are written", Also: []string{"unit", "dimensions", "dimension", "quantities", "column types", "columns"}}
	all := quantity.Units()
	for _, d := range quantity.Dimensions() {
		s := Section{Heading: strings.ReplaceAll(d.String(), "_", " ")}
		if d == quantity.DimRatio {
			s.Lines = append(s.Lines, "a plain number, 1.15; in a table its column is a number")
		} else {
			s.Lines = append(s.Lines, fmt.Sprintf("of: %s, in limits and columns of tables; a design writes %s", d, quantity.Example(d)))
		}
		var forms []string
		for _, u := range all {
			if u.Dimension == d && u.CEL != "" && d != quantity.DimRatio {
				forms = append(forms, u.CEL+"(1) for 1 "+u.Symbol)
			}
		}
		if len(forms) > 0 {
			s.Lines = append(s.Lines, "in an expression "+strings.Join(forms, ", "))
		}
		t.Sections = append(t.Sections, s)
	}
	return t
}

// points tells the operating points.
func points() Topic {
	t := Topic{Name: "points", Title: "the operating points a derived value may hold for", Also: []string{"point", "operating points", "at"}}
	for _, p := range derive.Points() {
		t.Sections = append(t.Sections, Section{Heading: p.String(), Lines: []string{p.Meaning(), "at." + p.String() + ".NAME, as in at." + p.String() + ".fuel_demand"}})
	}
	return t
}

// views tells the lists that gather parts of several.
func views() Topic {
	t := Topic{Name: "views", Title: "lists that gather parts of a design from several places", Also: []string{"view", "each"}}
	for _, v := range derive.Views() {
		t.Sections = append(t.Sections, Section{Heading: v.Path(), Lines: []string{v.Meaning, "each: {x: " + v.Path() + "}; x is a " + v.Item.Name() + ", gathered from " + strings.Join(v.From, ", ")}})
	}
	return t
}

// packParts are the things a pack is made of, in the order they are told.
var packParts = []string{"Pack", "Rule", "Limit", "Table", "Assumption", "Caution", "Case", "Reason", "Source", "Region", "Adjustment"}

// forms tells what may stand in a pack, from its JSON Schema.
func forms() Topic {
	t := Topic{Name: "forms", Title: "what a pack and its rules may hold", Also: []string{"form", "rule form", "keys"}}
	var doc struct {
		Defs map[string]struct {
			Description string                     `json:"description"`
			Properties  map[string]json.RawMessage `json:"properties"`
			Required    []string                   `json:"required"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(schema.PackSchema(), &doc); err != nil {
		return t
	}
	for _, name := range packParts {
		def := doc.Defs[name]
		s := Section{Heading: strings.ToLower(name), Lines: []string{def.Description}}
		var keys []string
		for key := range def.Properties {
			keys = append(keys, key)
		}
		// What is required first, then by name.
		slices.SortFunc(keys, func(a, b string) int {
			if x, y := slices.Contains(def.Required, a), slices.Contains(def.Required, b); x != y {
				if x {
					return -1
				}
				return 1
			}
			return strings.Compare(a, b)
		})
		for _, key := range keys {
			s.Lines = append(s.Lines, keyLine(key, def.Properties[key], slices.Contains(def.Required, key)))
		}
		t.Sections = append(t.Sections, s)
	}
	return t
}

// keyLine tells one key: what it is, its words, and what it holds.
func keyLine(key string, raw json.RawMessage, required bool) string {
	var p struct {
		Description string   `json:"description"`
		Enum        []string `json:"enum"`
		OneOf       []struct {
			Description string                     `json:"description"`
			Properties  map[string]json.RawMessage `json:"properties"`
		} `json:"oneOf"`
	}
	_ = json.Unmarshal(raw, &p)
	line := key + ": " + p.Description
	if required {
		line = key + " (always): " + p.Description
	}
	if len(p.Enum) > 0 {
		line += " One of " + strings.Join(p.Enum, ", ") + "."
	}
	for _, way := range p.OneOf {
		var inner []string
		for k := range way.Properties {
			inner = append(inner, k)
		}
		slices.Sort(inner)
		if len(inner) > 0 {
			line += " Or a mapping of " + strings.Join(inner, ", ") + "."
		} else if way.Description != "" {
			line += " " + way.Description
		}
	}
	return line
}
