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
	var out []Size
	for _, g := range sizable(d, series, below) {
		out = append(out, g.size(lib, d, o))
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

// key names a finding.
type key struct{ rule, subject string }

// size tries every size of the series.
func (g *group) size(lib *engine.Library, d *schema.Design, o engine.Options) Size {
	out := Size{Facts: g.facts, Of: g.of, Stated: g.stated, Series: g.series.Name}
	bad := make([]map[key]*engine.Finding, len(g.series.Sizes))
	count := map[key]int{}
	var reports []*engine.Report
	for i, text := range g.series.Sizes {
		changed := d.Clone()
		for _, path := range g.facts {
			value, err := schema.ParseFact(string(schema.Path(path)), text)
			if err != nil || changed.Put(path, value) != nil {
				continue // beyond what the fact may be: judged as it stands
			}
		}
		r := lib.Judge(changed, o)
		reports = append(reports, r)
		bad[i] = map[key]*engine.Finding{}
		for n := range r.Findings {
			if f := &r.Findings[n]; wrong(f) {
				k := key{f.Rule, f.Subject}
				bad[i][k] = f
				count[k]++
			}
		}
	}
	// What is wrong with every size counts too, unless it is the same whatever the size.
	for k, n := range count {
		if n == len(bad) && moves(bad, k) {
			count[k] = 0
		}
	}
	works := make([]bool, len(bad))
	for i := range bad {
		works[i] = true
		for k := range bad[i] {
			if count[k] < len(bad) {
				works[i] = false
			}
		}
	}
	if !decides(bad, count) {
		return out
	}
	first := slices.Index(works, true)
	if first < 0 {
		out.Never = g.nearest(bad, count)
		return out
	}
	last := first
	for last+1 < len(works) && works[last+1] {
		last++
	}
	out.Least = g.series.Sizes[first]
	if first > 0 {
		out.Below = worst(bad[first-1], count, len(bad))
		out.Below.Size = g.series.Sizes[first-1]
	}
	if last+1 < len(works) {
		out.Most = g.series.Sizes[last]
		out.Above = worst(bad[last+1], count, len(bad))
		out.Above.Size = g.series.Sizes[last+1]
	}
	out.Usual = slices.ContainsFunc(reports[first].Findings, func(f engine.Finding) bool {
		_, counts := count[key{f.Rule, f.Subject}]
		return f.Leaning != nil && counts
	})
	return out
}

// moves reports whether what is wrong with every size is another thing at each: its numbers follow the size.
func moves(bad []map[key]*engine.Finding, k key) bool {
	said := func(f *engine.Finding) string {
		if f.Leaning != nil {
			return f.Leaning.Text
		}
		return f.Text
	}
	for i := range bad[1:] {
		if said(bad[i+1][k]) != said(bad[0][k]) {
			return true
		}
	}
	return false
}

// nearest is what is wrong with the size that comes nearest to working: the one with the fewest things wrong.
func (g *group) nearest(bad []map[key]*engine.Finding, count map[key]int) *Wrong {
	best, least := 0, -1
	for i := range bad {
		n := 0
		for k := range bad[i] {
			if count[k] < len(bad) {
				n++
			}
		}
		if least < 0 || n <= least {
			best, least = i, n
		}
	}
	out := worst(bad[best], count, len(bad))
	out.Size = g.series.Sizes[best]
	return out
}

// decides reports whether the size decides anything.
func decides(bad []map[key]*engine.Finding, count map[key]int) bool {
	for _, n := range count {
		if n < len(bad) {
			return true
		}
	}
	return false
}

// wrong reports whether a finding is not met, or would not be with all usual values.
func wrong(f *engine.Finding) bool {
	switch {
	case f.Sense || f.Conceded != nil || engine.StageRank(f.Due) > engine.StageRank("built"): // what is entered and measured follows the part
		return false
	case f.Leaning != nil:
		return f.Leaning.Likely == engine.Fail || f.Leaning.Likely == engine.Warn || f.Leaning.Fails >= 0.25
	}
	return f.Outcome == engine.Fail || f.Outcome == engine.Warn
}

// worst is the worst thing wrong with a size that is not wrong with every size.
func worst(bad map[key]*engine.Finding, count map[key]int, all int) *Wrong {
	var best *engine.Finding
	for k, f := range bad {
		if count[k] >= all {
			continue
		}
		if best == nil || f.Danger.Rank() < best.Danger.Rank() || f.Danger == best.Danger && f.Rule+f.Subject < best.Rule+best.Subject {
			best = f
		}
	}
	if best == nil {
		return &Wrong{}
	}
	text := best.Text
	if best.Leaning != nil {
		text = best.Leaning.Text
	}
	return &Wrong{Rule: best.Rule, Text: text}
}
