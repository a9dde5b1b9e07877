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
}

// Sizes finds the least that works for what a series is made for, below a path of the design; "" is all of it. A size works
// when every rule that the size decides is met; where facts are missing, when it would be with what is usual.
func Sizes(lib *engine.Library, d *schema.Design, o engine.Options, series []Series, below string) []Size {
	groups := sizable(d, series, below)
	things := make([][]string, len(groups))
	for i, g := range groups {
		things[i] = g.facts
	}
	bench := lib.Bench(d, o, things)
	out := make([]Size, len(groups))
	for i, g := range groups {
		out[i] = g.search(bench).size()
	}
	return out
}

// group are facts that take one size together.
type group struct {
	of     string
	facts  []string
	stated string
	series *Series
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
			if s.Kind != "" && !isKind(d, strings.TrimSuffix(v.Path, v.Key)+"kind", s.Kind) || v.Type+"."+v.Key == "Pump.rated_flow" && len(d.Pump.Curve.Items) > 0 {
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
			out = append(out, &group{of: of, facts: []string{v.Path}, stated: v.Reading.Text(), series: s})
			return
		}
	})
	return out
}

func isKind(d *schema.Design, path, kind string) bool {
	fact := d.FactAt(path)
	return fact != nil && fact.Known() && fact.Text() == kind
}
