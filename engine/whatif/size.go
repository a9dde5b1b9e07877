package whatif

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// Size is the least of a series that works for one thing of a design.
type Size struct {
	// Facts are the paths that take the size together: the wires of one feed.
	Facts []string `json:"facts"`
	// Of says what it is for; Stated is its size now.
	Of     string `json:"of"`
	Stated string `json:"stated"`
	// Series is the name of the series.
	Series string `json:"series"`
	// At is what the size holds at, such as the pressure printed beside a flow; "" where it holds as it is.
	At string `json:"at,omitempty"`
	// Least and Most are the ends of what works, "" when nothing of the series does; Most is "" too where the largest does.
	Least string `json:"least,omitempty"`
	Most  string `json:"most,omitempty"`
	// Below and Above are the sizes next to them with what is wrong then.
	Below *Wrong `json:"below,omitempty"`
	Above *Wrong `json:"above,omitempty"`
	// Never is what is wrong with every size.
	Never *Wrong `json:"never,omitempty"`
	// Usual is set when it rests on what is usual of facts nobody stated.
	Usual bool `json:"usual,omitempty"`
}

// Wrong is what a rule says of a size.
type Wrong struct {
	Size string `json:"size,omitempty"`
	Rule string `json:"rule"`
	Text string `json:"text"`
	// Worst is set where it is met with all usual values, but not with many of those that are usual: the text is of the worst.
	Worst bool `json:"worst,omitempty"`
}

// Sizes finds the least that works for what a series is made for, below a path of the design; "" is all of it. A size works
// when every rule that the size decides is met; where facts are missing, when it would be with what is usual.
func Sizes(lib *engine.Library, d *schema.Design, o engine.Options, series []Series, below string) []Size {
	groups := sizable(d, series, below)
	bench := lib.BenchForSizes(d, o, things(groups))
	out := make([]Size, len(groups))
	for i, g := range groups {
		out[i] = g.search(bench, engine.Whole).size()
	}
	return out
}

// Things are the facts of a design that hold a size of a series, those that take one size together as one: what
// engine.Options needs to know for a Sizer.
func Things(d *schema.Design, series []Series) [][]string { return things(sizable(d, series, "")) }

func things(groups []*group) [][]string {
	out := make([][]string, len(groups))
	for i, g := range groups {
		out[i] = g.things()
	}
	return out
}

// group are facts that take one size together.
type group struct {
	of     string
	facts  []string
	stated string
	series *Series
	// at is what the size holds at, and atFact the fact that says so; statedAt is what it says now.
	at, atFact, statedAt string
}

// changesAt reports whether what the size holds at is another than what is stated.
func (g *group) changesAt() bool { return g.at != g.statedAt }

// things are the facts that are changed when another size is tried.
func (g *group) things() []string {
	if g.changesAt() {
		return append(slices.Clone(g.facts), g.atFact)
	}
	return g.facts
}

// sizable are the facts of a design that hold a size of a series.
func sizable(d *schema.Design, series []Series, below string) []*group {
	var out []*group
	schema.Walk(d, func(v schema.Visit) {
		if !v.Reading.Known() || below != "" && v.Path != below && !strings.HasPrefix(v.Path, below+".") && !strings.HasPrefix(v.Path, below+"[") {
			return
		}
		for i := range series {
			s := &series[i]
			if len(s.Kinds) > 0 && !slices.Contains(s.Kinds, kindOf(d, strings.TrimSuffix(v.Path, v.Key)+"kind")) || v.Type+"."+v.Key == "Pump.rated_flow" && len(d.Pump.Curve.Items) > 0 {
				continue // of another kind; of a pump with a chart the label decides nothing
			}
			if !slices.Contains(s.Facts, v.Type+"."+v.Key) || s.Unit != "" && !strings.Contains(v.Reading.Text(), s.Unit) {
				continue
			}
			of := strings.TrimSuffix(v.Path, "."+v.Key)
			if at := strings.LastIndexByte(of, '['); v.Type == "Wire" && at > 0 {
				of = of[:at] // all wires of one way are of one size
			}
			if last := len(out) - 1; last >= 0 && out[last].of == of && out[last].series == s {
				out[last].facts = append(out[last].facts, v.Path)
				return
			}
			g := &group{of: of, facts: []string{v.Path}, stated: v.Reading.Text(), series: s}
			g.holdsAt(d)
			out = append(out, g)
			return
		}
	})
	return out
}

// holdsAt finds what the size holds at: what is stated, where that covers what it has to, else the least made that does.
func (g *group) holdsAt(d *schema.Design) {
	at := g.series.At
	if at == nil {
		return
	}
	fact := d.FactAt(g.of + "." + at.Key)
	if fact == nil || !fact.Known() {
		return
	}
	g.atFact, g.at, g.statedAt = fact.Path(), fact.Text(), fact.Text()
	needed := d.FactAt("design." + at.Covers)
	if at.Covers == "" || needed == nil || !needed.Known() || size(fact.Any()) >= size(needed.Any()) {
		return
	}
	for _, text := range at.Sizes {
		if v, err := schema.ParseFact(g.atFact, text); err == nil && size(v) >= size(needed.Any()) {
			g.at = text
			return
		}
	}
}

// size is a quantity in SI units; 0 for what is none.
func size(v any) float64 {
	if q, ok := v.(interface{ SI() float64 }); ok {
		return q.SI()
	}
	return 0
}

// kindOf is the word at a path, NotStated for none.
func kindOf(d *schema.Design, path string) string {
	if fact := d.FactAt(path); fact != nil && fact.Known() {
		return fact.Text()
	}
	return NotStated
}
