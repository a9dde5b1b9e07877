package whatif

import (
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// Sizer finds what sizes would do for the parts of a design that was judged. It is not safe for concurrent use.
type Sizer struct {
	groups []*group
	bench  *engine.Bench
}

// NewSizer makes a sizer of a design that was judged with its Things; nil where it was judged without.
func NewSizer(d *schema.Design, series []Series, r *engine.Report) *Sizer {
	bench := r.TakeBench()
	if bench == nil {
		return nil
	}
	return &Sizer{sizable(d, series, ""), bench}
}

// Instead is what would do in the place of something that does not.
type Instead struct {
	// Of is what it is for, Facts the paths that take the size.
	Of    string   `json:"of"`
	Facts []string `json:"facts"`
	// Called says it in words: a wire of 12 AWG. It is "" where no size of the series does.
	Called string `json:"called,omitempty"`
	// Least is the smallest that does, At what it holds at; Most is the largest, where what is stated is too large.
	Least string `json:"least,omitempty"`
	At    string `json:"at,omitempty"`
	Most  string `json:"most,omitempty"`
	// Not is what is wrong with the size next to it, on the side of what is stated.
	Not *Wrong `json:"not,omitempty"`
	// Usual is set when it rests on what is usual of facts nobody stated.
	Usual bool `json:"usual,omitempty"`
}

// Instead finds, for each thing below a part whose size bears on a rule, what would do in its place.
func (s *Sizer) Instead(part, rule string) []Instead {
	var out []Instead
	if s == nil {
		return out
	}
	for _, g := range s.groups {
		within := g.of == part || strings.HasPrefix(g.of, part+".")
		if !within || !s.bench.Rests(rule, g.facts) {
			continue
		}
		if x, ok := g.search(s.bench, engine.Near).instead(); ok {
			out = append(out, x)
		}
	}
	return out
}

// instead finds what would do; not ok where what is stated does.
func (s *search) instead() (out Instead, ok bool) {
	out = Instead{Of: s.of, Facts: s.facts}
	first := s.least()
	if first < 0 {
		return out, true
	}
	stated := sizeOf(s.facts[0], s.stated)
	if at := sizeOf(s.facts[0], s.series.Sizes[first]); !s.changesAt() && stated >= at {
		last := s.most(first)
		if stated <= sizeOf(s.facts[0], s.series.Sizes[last]) {
			return out, false
		}
		if out.Least = s.series.Sizes[first]; last > first {
			out.Most = s.series.Sizes[last]
		}
		out.Not = s.beside(last+1, stated)
	} else {
		out.Least, out.Not = s.series.Sizes[first], s.beside(first-1, stated)
	}
	out.At, out.Usual = s.at, s.leans(first)
	out.Called = s.called(out.Least, out.Most)
	return out, true
}

// beside is what is wrong with a size; nil for what is stated, of which that is known, and beyond the series.
func (s *search) beside(i int, stated float64) *Wrong {
	if i < 0 || i == len(s.series.Sizes) || !s.changesAt() && sizeOf(s.facts[0], s.series.Sizes[i]) == stated {
		return nil
	}
	return s.worst(i)
}

// called are the words for one of a size, or of a range of sizes.
func (s *search) called(least, most string) string {
	text := least
	if most != "" {
		text += " to " + most
	}
	text = strings.ReplaceAll(s.series.Called, "{size}", text)
	if s.at != "" {
		text += " " + strings.ReplaceAll(s.series.At.Called, "{at}", s.at)
	}
	return text
}

// sizeOf is a text of a fact in SI units.
func sizeOf(path, text string) float64 {
	v, err := schema.ParseFact(path, text)
	if err != nil {
		return 0
	}
	return size(v)
}
