package whatif

import (
	"slices"

	"plumbline/engine"
	"plumbline/schema"
)

// Places is one design judged for several regions.
type Places struct {
	File, Title string
	// Everywhere counts the findings of rules that belong to no region, by outcome; they are the same in every place.
	Everywhere map[engine.Outcome]int
	// Places are the regions, in the order they were named.
	Places []Place
}

// Place is what the rules of one region, and of those it lies in, find.
type Place struct {
	Name, Title string
	// Regions are the region and those it lies in, the wider ones first.
	Regions []engine.RegionJudged
	// Own are the regional findings, those of the regions it lies in too, the worst first, met ones and those that do not apply included.
	Own []engine.Finding
	// Questions are the facts its rules wait for that no rule elsewhere in the comparison waits for, nor a general one.
	Questions []engine.Question
}

// Count returns the number of regional findings with an outcome.
func (p *Place) Count(o engine.Outcome) int {
	n := 0
	for i := range p.Own {
		if p.Own[i].Outcome == o {
			n++
		}
	}
	return n
}

// CountOwn returns the number of findings with an outcome of the region's own rules.
func (p *Place) CountOwn(o engine.Outcome) int { return p.countOf(o, true) }

// CountInherited returns the number of findings with an outcome of the rules of the regions it lies in.
func (p *Place) CountInherited(o engine.Outcome) int { return p.countOf(o, false) }

func (p *Place) countOf(o engine.Outcome, own bool) int {
	n := 0
	for i := range p.Own {
		if p.Own[i].Outcome == o && (p.Own[i].Region == p.Name) == own {
			n++
		}
	}
	return n
}

// Rules returns the number of its rules whose worst finding has an outcome: a rule about every piece of a line is one.
func (p *Place) Rules(o engine.Outcome) int {
	worst := map[string]engine.Outcome{}
	for _, f := range p.Own {
		if had, ok := worst[f.Rule]; !ok || f.Outcome.Rank() < had.Rank() {
			worst[f.Rule] = f.Outcome
		}
	}
	n := 0
	for _, found := range worst {
		if found == o {
			n++
		}
	}
	return n
}

// With lists the regional findings with some outcomes.
func (p *Place) With(outcomes ...engine.Outcome) []engine.Finding {
	var out []engine.Finding
	for _, f := range p.Own {
		if slices.Contains(outcomes, f.Outcome) {
			out = append(out, f)
		}
	}
	return out
}

// Regions judges a design once for each region and keeps apart what depends on
// the place and what does not.
func Regions(lib *engine.Library, d *schema.Design, o engine.Options, names []string) Places {
	var out Places
	asked := map[string]int{}
	var questions [][]engine.Question
	for i, name := range names {
		o.Regions = []string{name}
		r := lib.Judge(d, o)
		place := Place{Name: name, Title: name, Regions: r.Regions}
		if n := len(r.Regions); n > 0 && r.Regions[n-1].Name == name {
			place.Title = r.Regions[n-1].Title
		}
		for _, f := range r.Findings {
			if f.Region != "" {
				place.Own = append(place.Own, f)
			}
		}
		for _, q := range r.Asked {
			asked[q.Path]++
		}
		questions = append(questions, r.Asked)
		if i == 0 {
			out.File, out.Title = r.File, r.Title
			out.Everywhere = map[engine.Outcome]int{}
			for j := range r.Findings {
				if f := &r.Findings[j]; f.Region == "" {
					out.Everywhere[f.Outcome]++
				}
			}
		}
		out.Places = append(out.Places, place)
	}
	for i := range out.Places {
		for _, q := range questions[i] {
			if asked[q.Path] == 1 && len(names) > 1 {
				out.Places[i].Questions = append(out.Places[i].Questions, q)
			}
		}
	}
	return out
}
