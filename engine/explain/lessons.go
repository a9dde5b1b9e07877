package explain

import (
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// unknowns tells what a fact is that nobody stated.
func unknowns() Topic {
	return Topic{Name: "unknowns", Title: "what a rule does with facts that nobody stated", Also: []string{"unknown", "open", "missing", "ranges", "range", "complete"}, Sections: []Section{
		{Heading: "The law", Items: []Item{
			{Text: "a fact that is not stated is unknown: never zero, never false, never empty"},
			{Text: "a rule is judged as soon as what is known decides it; else it is open, and asks for what is missing"},
			{Text: "stating more facts never changes a pass or a fail, it only settles open ones; so no rule can ask whether a fact is stated: there is no has"},
			{Code: "true || x, false && x", Text: "are decided whatever x is", Example: "(true || design.pump.isolated) && !(false && design.pump.isolated)"},
			{Text: "a fact stated as a range (280..320 hp) is open too, until it comes out one way all over the range"},
		}},
		{Heading: "Lists", Items: []Item{
			{Text: "the lists " + strings.Join(openLists(), ", ") + " are what was named so far, until complete says that one is all"},
			{Code: "list.exists(x, CONDITION)", Text: "can come true before the list is complete, but not false"},
			{Code: "list.all(x, CONDITION)", Text: "can come false before the list is complete, but not true"},
			{Code: "size(list), list.filter(x, CONDITION), list[0]", Text: "are unknown until the list is complete"},
			{Text: "in a case of a pack the lists given hold all there is, unless the case states complete itself"},
		}},
		{Heading: "A rule with an open case", Pack: example("unknowns"), Items: []Item{
			{Text: "asks names what the open finding must ask for"},
		}},
	}}
}

func openLists() []string {
	var out []string
	for _, l := range schema.OpenLists() {
		out = append(out, l.Path)
	}
	return out
}

// guards tells of parts that may be none.
func guards() Topic {
	return Topic{Name: "guards", Title: "parts that may be none, and places in lists", Also: []string{"guard", "fitted", "none"}, Sections: []Section{
		{Heading: "A part that may be none", Items: []Item{
			{Text: "a design may say return_line: none; that is a fact, and the part's own facts are then not there to be read"},
			{Code: "PART.fitted", Text: "is true where it is there, false where the design says none, unknown where it says nothing"},
			{Text: "ask it first: in applies, in must before &&, or in a let; a rule that reads such a part unasked is refused when its pack loads"},
			{Code: "!PART.fitted || CONDITION", Text: "is met where there is no such part"},
		}},
		{Heading: "A place in a list", Items: []Item{
			{Text: "of a list that may be open no place is fixed: say exists, all or filter"},
			{Code: "size(list) > 0 && list[0].x", Text: "asks the size before the place; a place nobody asked for is refused when the pack loads"},
			{Code: "word in table.NAME", Text: "asks whether a table has a row; it needs one for every word the fact may be, or this question (explain tables)"},
		}},
		{Heading: "A rule with a guard", Pack: example("guards")},
	}}
}

// tables tells of tables and limits.
func tables() Topic {
	var kinds []string
	for _, d := range quantity.Dimensions() {
		kinds = append(kinds, d.String())
	}
	return Topic{Name: "tables", Title: "limits and tables: the figures of a pack", Also: []string{"table", "limits", "limit", "figures"}, Sections: []Section{
		{Heading: "A limit", Items: []Item{
			{Code: "limit.NAME", Text: "is one figure with its grounds, in the pack that declares it; other packs may make it stricter by tighten, those of a region give it another value there by override (explain regions)"},
			{Text: "is holds a number (1.15), or a quantity with its unit (58 psi)"},
		}},
		{Heading: "A table", Items: []Item{
			{Code: "key", Text: "the column whose word finds the row"},
			{Code: "columns", Text: "the name and type of each other column: number, text, truth, or one of " + strings.Join(kinds, ", ")},
			{Code: "table.NAME[WORD].COLUMN", Text: "is the cell of a row; the word must be one of the rows"},
			{Code: "WORD in table.NAME", Text: "asks whether there is such a row"},
		}},
		{Heading: "A pack with both", Pack: example("tables")},
	}}
}

// cases tells how a rule is proved.
func cases() Topic {
	return Topic{Name: "cases", Title: "how the cases of a rule prove it", Also: []string{"case", "given", "expect", "asks", "assume", "proof", "mutants"}, Sections: []Section{
		{Heading: "What a rule needs", Items: []Item{
			{Text: "one case for each outcome it can have: pass, open, fail for a must, warn for a should, not applicable for an applies"},
			{Text: "one case within 2 percent on either side of each bound, and best one that equals it"},
			{Text: "every part that may be true or false shown both ways, and 95 of 100 small mistakes in it noticed"},
			{Text: "plumbline pack check proposes what is missing, ready to paste: see that each expects what is meant"},
		}},
		{Heading: "What a case says", Items: []Item{
			{Code: "given", Text: "facts, laid out as in a design, with their units; its lists hold all there is unless it states complete"},
			{Code: "assume", Text: "derived values set instead of computed: {at.full_load.pump_flow: 120 L/h}"},
			{Code: "expect", Text: "the worst outcome of the rule: pass, warn, fail, open or not applicable"},
			{Code: "asks", Text: "the facts an open outcome must ask for: [design.pump.prime_time], or the part they stand in"},
			{Code: "today", Text: "the day it is judged on, for a rule that reads today: 2026-01-31"},
		}},
		{Heading: "A rule with its cases", Pack: example("cases")},
	}}
}

// regions tells of the rules of a place, and of days.
func regions() Topic {
	asked := Item{Text: "each region says of every topic that it has rules, not read, or none found with the day and what was looked through; topics are " + strings.Join(pack.TopicNames(), ", ")}
	return Topic{Name: "regions", Title: "rules of one place, and days", Also: []string{"region", "dates", "date", "days", "today", "law"}, Sections: []Section{
		{Heading: "A region", Items: []Item{
			{Code: "region", Text: "declares one: name, title, the region it lies in, what decides, with whom to confirm; one pack does, others say regions: [NAME]"},
			{Code: "regions: [xx]", Text: "the pack's rules hold for designs used there, or in a region that lies in it: us-ca lies in us"},
			{Code: "consequence", Text: "what a rule of a region is: duty, inspection or advice"},
			{Code: "instead_of", Text: "the rule of the wider region that this one takes the place of"},
			{Code: "override: [{limit: fuel/delivery.flow_reserve, is: 1.25, because: [...]}]", Text: "another value there for a limit, or for cells of a table, of any pack: every rule that reads it goes by it for designs used there, and every report lists it"},
			{Text: "an override that makes a rule milder cites the clause of a law that was read; against fire, poisoning or loss of control that does only where a law set the figure before: no law makes a hose stronger"},
			{Text: "a design used in several regions keeps the figures of each; while one does not say where it is used, what the place would decide is open"},
			asked,
			{Text: "a rule never prints that something is permitted: it says what a text says, as of when and how it was read"},
		}},
		{Heading: "Days", Items: []Item{
			{Code: "date('1970-01-31')", Text: "a day in an expression; a design writes 1970-01-31", Example: "date('1968-01-01') < date('1970-01-01')"},
			{Code: "years(from, to)", Text: "an age in whole years; today is the day of judging", Example: "years(date('1984-03-02'), date('2024-03-01')) == 39"},
			{Text: "a case of a rule that reads today says which day it is: today: 2026-01-31"},
		}},
		{Heading: "A pack of a region", Pack: example("regions")},
	}}
}
