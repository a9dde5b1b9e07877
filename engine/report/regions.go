package report

import (
	"fmt"
	"io"
	"slices"

	"plumbline/engine"
	"plumbline/engine/whatif"
)

// Regions writes what changes for a design between places: a line of counts
// for each, what is the same everywhere, then what each place's rules find.
func Regions(w io.Writer, c whatif.Places, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	name := clean(c.File)
	if c.Title != "" {
		name = clean(c.Title) + ", " + name
	}
	p.Para(0, 0, fmt.Sprintf("%s, compared for %s.", name, count(len(c.Places), "place", "places")))
	p.Blank()
	for i := range c.Places {
		x := &c.Places[i]
		for k := range x.Regions {
			r, inherited := &x.Regions[k], ""
			if r.Name != x.Name {
				inherited = ", whose rules hold in " + clean(x.Title) + " too"
			}
			p.Para(indent, inner, fmt.Sprintf("%s (%s)%s: %s.", clean(r.Title), clean(r.Name), inherited, concernWords(r)))
		}
	}
	e := c.Everywhere
	p.Para(indent, inner, fmt.Sprintf("The same everywhere, whatever the place: %d to mend, %d doubtful, %d not judged yet, %d in order.",
		e[engine.Fail], e[engine.Warn], e[engine.Open], e[engine.Pass]))
	shared := sharedRules(c)
	for i := range c.Places {
		placeSection(p, &c.Places[i], shared, o.Verbose)
	}
	p.Blank()
	p.Para(0, 0, "A rule met here is no permission, and freedom from a test is none to take equipment off. Rules are as seen on the dates their grounds name.")
	return p.Flush()
}

// sharedRules are the rules that judge in more than one of the places, such as those of a country in its states.
func sharedRules(c whatif.Places) map[string]int {
	out := map[string]int{}
	for i := range c.Places {
		var seen []string
		for _, f := range c.Places[i].Own {
			if !slices.Contains(seen, f.Rule) {
				seen = append(seen, f.Rule)
				out[f.Rule]++
			}
		}
	}
	return out
}

// placeSection tells what one place's rules find.
func placeSection(p *Printer, x *whatif.Place, shared map[string]int, verbose bool) {
	p.Blank()
	p.Heading(clean(x.Title))
	outcomes := []engine.Outcome{engine.Fail, engine.Warn}
	if verbose {
		outcomes = append(outcomes, engine.Open, engine.Pass)
	}
	told := 0
	for _, f := range x.With(outcomes...) {
		text, style := foundWords(&f), styleFail
		switch f.Outcome {
		case engine.Warn:
			style = styleWarn
		case engine.Open:
			text, style = "Cannot be judged yet: "+sentence(f.Title), styleOpen
		case engine.Pass:
			text, style = sentence(capital(clean(f.Title))), ""
		}
		if n := Numbers(&f); n != "" && f.Outcome != engine.Open {
			text += " " + n + "."
		}
		p.Blank()
		p.Marked(indent, inner, OutcomeWord(f.Outcome)+":", style, text)
		if f.Remedy != "" {
			p.Para(inner, inner+2, "Do: "+sentence(f.Remedy))
		}
		if len(f.Because) > 0 {
			p.Para(inner, inner+2, "Why: "+sentence(groundsWords(f.Because[:1])))
		}
		note := ""
		if n := shared[f.Rule]; n > 1 {
			note = fmt.Sprintf("; it holds in %d of the places", n)
		}
		if !slices.ContainsFunc(x.Regions, func(r engine.RegionJudged) bool { return r.Confirm == f.Confirm }) {
			p.Para(inner, inner+2, sentence(f.Confirm))
		}
		p.Para(inner, inner+2, fmt.Sprintf("Rule %s, %s%s.", f.Rule, ConsequenceWords(f.Consequence, f.KnownFrom), note))
		told++
	}
	if told == 0 {
		for k := len(x.Regions) - 1; k >= 0; k-- {
			p.Para(indent, inner, standWords(&x.Regions[k], x.Regions[k].Name == x.Name))
		}
	}
	if n := x.Rules(engine.Open); n > 0 && !verbose {
		paths := missing(pointers(x.With(engine.Open)))
		p.Blank()
		p.Para(indent, inner, fmt.Sprintf("%s cannot be judged yet. Find out: %s.", count(n, "rule", "rules"), factNames(paths, 12)))
	}
	for k := range x.Regions {
		p.Para(indent, inner, placeWords(&x.Regions[k]))
	}
}

// standWords say how a vehicle stands with the rules of one region, its own and those of a wider one apart: where none of its
// rules was judged, that and nothing else.
func standWords(r *engine.RegionJudged, own bool) string {
	who := clean(r.Title) + " itself"
	if !own {
		who = clean(r.Title) + ", whose rules hold there too"
	}
	met := r.Concern - r.NotMet - r.Open
	switch {
	case r.Concern == 0:
		return who + ": nothing was judged; none of its rules concerns this vehicle."
	case met+r.NotMet == 0:
		return who + ": nothing can be judged yet."
	case r.Open > 0:
		return fmt.Sprintf("%s: %s met; nothing broken in what can be judged.", who, count(met, "rule is", "rules are"))
	}
	return fmt.Sprintf("%s: %s met, none is broken.", who, count(met, "rule is", "rules are"))
}

// ConsequenceWords say what a rule is in its region, and how that is known when no text of it was read.
func ConsequenceWords(c, knownFrom string) string {
	words := "advice"
	switch c {
	case "duty":
		words = "a duty"
	case "inspection":
		words = "looked at by inspections"
	}
	switch knownFrom {
	case "page":
		words += ", from a page about it"
	case "memory":
		words += ", from memory"
	}
	return words
}

func pointers(list []engine.Finding) []*engine.Finding {
	out := make([]*engine.Finding, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

// PlacesDocument is the JSON of a comparison of places.
type PlacesDocument struct {
	File  string `json:"file"`
	Title string `json:"title,omitempty"`
	// Everywhere counts the findings that do not depend on the place.
	Everywhere Counts `json:"everywhere"`
	// Places are the regions compared, as they were named.
	Places []ComparedPlace `json:"places"`
	// Rules, Names, Facts and Derived are the tables that the findings refer to, as in a report.
	Rules   map[string]Rule   `json:"rules"`
	Names   map[string]string `json:"names,omitempty"`
	Facts   map[string]Fact   `json:"facts,omitempty"`
	Derived map[string]string `json:"derived,omitempty"`
}

// ComparedPlace is one region of a comparison.
type ComparedPlace struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Regions []Region `json:"regions"`
	Counts  Counts   `json:"counts"`
	// Of these the region's own rules, and those of the regions it lies in.
	OwnCounts       Counts `json:"own"`
	InheritedCounts Counts `json:"inherited"`
	// Findings are those of its rules alone.
	Findings []Finding `json:"findings"`
	// Questions are facts that only its rules wait for.
	Questions []string `json:"questions"`
}

// NewPlaces lays a comparison out for JSON.
func NewPlaces(c whatif.Places) PlacesDocument {
	tables := newLayout(c.File)
	out := PlacesDocument{File: c.File, Title: c.Title, Places: []ComparedPlace{}, Rules: tables.rules, Names: tables.names, Facts: tables.facts, Derived: tables.derived}
	out.Everywhere = countsOf(func(o engine.Outcome) int { return c.Everywhere[o] })
	for i := range c.Places {
		x := &c.Places[i]
		place := ComparedPlace{Name: x.Name, Title: x.Title, Regions: []Region{}, Counts: countsOf(x.Count), OwnCounts: countsOf(x.CountOwn), InheritedCounts: countsOf(x.CountInherited), Findings: []Finding{}, Questions: []string{}}
		for _, r := range x.Regions {
			place.Regions = append(place.Regions, newRegion(r))
		}
		for j := range x.Own {
			place.Findings = append(place.Findings, tables.finding(&x.Own[j]))
			if x.Own[j].Blocks {
				place.Counts.Blocking++
				if x.Own[j].Region == x.Name {
					place.OwnCounts.Blocking++
				} else {
					place.InheritedCounts.Blocking++
				}
			}
		}
		for _, q := range x.Questions {
			place.Questions = append(place.Questions, q.Path)
		}
		out.Places = append(out.Places, place)
	}
	return out
}

func countsOf(n func(engine.Outcome) int) Counts {
	return Counts{Pass: n(engine.Pass), Warn: n(engine.Warn), Fail: n(engine.Fail), Open: n(engine.Open), NotApplicable: n(engine.NotApplicable)}
}
