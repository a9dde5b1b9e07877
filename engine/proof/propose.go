package proof

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema/quantity"
)

// Proposal is a case that a rule lacks, as it may stand in the pack. It expects what the rule gives now.
type Proposal struct {
	Rule, Text string
}

// mostTrials bounds the search for the cases of one rule.
const mostTrials = 600

// Propose finds cases that a rule lacks: one for each outcome, and one on either side of each bound and on it. Where none was
// found for something, there is none for it.
func Propose(l *engine.Library, id string) []Proposal {
	written := l.Written()
	i := slices.IndexFunc(written.Rules(), func(r *rule.Rule) bool { return r.ID == id })
	if i < 0 {
		return nil
	}
	p := newProposing(written, written.Rules()[i])
	if p == nil {
		return nil
	}
	p.search()
	return p.out
}

// proposing is the search for the cases of one rule.
type proposing struct {
	library *engine.Library
	rule    *rule.Rule
	leaves  []leaf
	rng     *rand.Rand
	names   map[string]bool
	have    map[string]bool
	out     []Proposal
}

// trial is one choice for every leaf, by its place among the leaves.
type trial []string

func newProposing(l *engine.Library, r *rule.Rule) *proposing {
	p := &proposing{library: l, rule: r, rng: rand.New(rand.NewPCG(1, 2)), names: map[string]bool{}, have: map[string]bool{}}
	if p.leaves = leavesOf(l, r); len(p.leaves) == 0 {
		return nil
	}
	for i := range r.Decl.Cases {
		c := &r.Decl.Cases[i]
		p.names[c.Name] = true
		if findings, err := runCase(l, r, c); err == nil {
			for k := range findings {
				p.note(&findings[k])
			}
		}
	}
	return p
}

// note remembers what a finding shows: its outcome, and the sides of bounds it lies close to.
func (p *proposing) note(f *engine.Finding) {
	p.have[string(f.Outcome)] = true
	for _, side := range sides(f) {
		p.have[side] = true
	}
}

// sides names the sides of bounds that a finding lies close to.
func sides(f *engine.Finding) []string {
	var out []string
	for _, b := range f.Bounds {
		if b.Margin == nil || math.Abs(*b.Margin) > 0.02 {
			continue
		}
		side := "just-outside"
		switch {
		case math.Abs(*b.Margin) < 1e-9:
			side = "equal"
		case b.Met:
			side = "just-inside"
		}
		out = append(out, b.Of+"/"+strings.ReplaceAll(b.Op, "_", "-")+"/"+side)
	}
	return out
}

// sideOf names a side of a bound: on it, or a little below or above.
func sideOf(b *engine.BoundFound, off float64) string {
	side := "equal"
	switch low := b.Op == "at_least" || b.Op == "more_than"; {
	case off != 0 && low == (off > 0):
		side = "just-inside"
	case off != 0:
		side = "just-outside"
	}
	return b.Of + "/" + strings.ReplaceAll(b.Op, "_", "-") + "/" + side
}

// search tries choices until every outcome is shown, then walks one number to each bound.
func (p *proposing) search() {
	nothing := make(trial, len(p.leaves))
	p.take(nothing)
	usual := make(trial, len(p.leaves))
	for i, x := range p.leaves {
		usual[i] = x.choices[0]
	}
	bases := []trial{usual}
	p.take(usual)
	for range mostTrials {
		if len(bases) > 2 && !slices.ContainsFunc(reachable(p.rule), func(o engine.Outcome) bool { return !p.have[string(o)] }) {
			break
		}
		t := slices.Clone(usual)
		for i, x := range p.leaves {
			if p.rng.IntN(2) == 0 {
				t[i] = x.choices[p.rng.IntN(len(x.choices))]
			}
		}
		f := p.take(t)
		if f != nil && (len(f.Bounds) > 0 || p.rule.Measure == nil) && len(bases) < 12 {
			bases = append(bases, t)
		}
	}
	for _, t := range bases {
		p.walk(t)
	}
}

// judge gives the worst finding of a choice; nil when it is no design.
func (p *proposing) judge(t trial) *engine.Finding {
	c := p.caseOf(t)
	findings, err := runCase(p.library, p.rule, c)
	if err != nil || len(findings) == 0 {
		return nil
	}
	worst := slices.MinFunc(findings, func(a, b engine.Finding) int { return a.Outcome.Rank() - b.Outcome.Rank() })
	if worst.Fault != nil {
		return nil
	}
	return &worst
}

// take proposes a choice when it shows something new.
func (p *proposing) take(t trial) *engine.Finding {
	f := p.judge(t)
	if f == nil || !slices.Contains(reachable(p.rule), f.Outcome) {
		return f
	}
	name := ""
	for _, side := range sides(f) {
		if !p.have[side] {
			name = side
		}
	}
	if name == "" && !p.have[string(f.Outcome)] {
		name = strings.ReplaceAll(string(f.Outcome), " ", "-")
	}
	if name == "" {
		return f
	}
	p.note(f)
	for n := 2; p.names[name]; n++ {
		name = strings.TrimRight(name, "0123456789") + strconv.Itoa(n)
	}
	p.names[name] = true
	text := "- {name: " + name + ", given: " + p.given(t)
	if assume := p.assume(t); assume != "" {
		text += ", assume: " + assume
	}
	text += ", expect: " + string(f.Outcome)
	if f.Outcome == engine.Open && len(f.Missing) > 0 {
		text += `, asks: ["` + f.Missing[0] + `"]`
	}
	p.out = append(p.out, Proposal{p.rule.ID, text + "}"})
	return f
}

// walk moves each number of a choice to where the measure lies on a bound, and a hundredth to either side.
func (p *proposing) walk(t trial) {
	f := p.judge(t)
	if f == nil {
		return
	}
	for k := range f.Bounds {
		for _, off := range []float64{-0.01, 0, 0.01} {
			for i := range p.leaves {
				if p.have[sideOf(&f.Bounds[k], off)] {
					break
				}
				if x := &p.leaves[i]; x.dimension != quantity.None || x.plain {
					p.reach(slices.Clone(t), i, k, 1+off)
				}
			}
		}
	}
}

// reach bisects for the value of one number that brings the measure to a share of a bound.
func (p *proposing) reach(t trial, i, bound int, share float64) {
	x := &p.leaves[i]
	off := func(si float64) (float64, bool) {
		t[i] = x.text(si)
		f := p.judge(t)
		if f == nil || f.Measured == nil || bound >= len(f.Bounds) {
			return 0, false
		}
		return f.Measured.Value - share*f.Bounds[bound].Bound.Value, true
	}
	from := x.value(t[i])
	// Where the rule stops short of the bound, an end moves towards the value at hand.
	end := func(at float64) (float64, float64, bool) {
		for range 16 {
			if d, ok := off(at); ok {
				return at, d, true
			}
			at = from + (at-from)/2
		}
		return at, 0, false
	}
	low, a, okA := end(x.low)
	high, b, okB := end(x.high)
	if !okA || !okB || a*b > 0 {
		return
	}
	for range 48 {
		mid := (low + high) / 2
		m, ok := off(mid)
		if !ok {
			return
		}
		if m*a > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	for _, digits := range []int{3, 4, 6, 0} {
		t[i] = x.rounded((low+high)/2, digits)
		before := len(p.out)
		if p.take(t); len(p.out) > before {
			return
		}
	}
}

// caseOf lays a choice out as a case.
func (p *proposing) caseOf(t trial) *pack.Case {
	c := &pack.Case{Name: "tried"}
	var n yaml.Node
	if yaml.Unmarshal([]byte(p.given(t)), &n) == nil && len(n.Content) == 1 {
		c.Given = n.Content[0]
	}
	for i, x := range p.leaves {
		if x.derived && t[i] != "" {
			c.Assume = append(c.Assume, pack.Entry[pack.Scalar]{Key: x.path, Value: pack.Scalar{Text: t[i]}})
		}
	}
	return c
}

// assume writes the derived values of a choice.
func (p *proposing) assume(t trial) string {
	var out []string
	for i, x := range p.leaves {
		if x.derived && t[i] != "" {
			out = append(out, fmt.Sprintf("%q: %s", x.path, quoted(t[i])))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "{" + strings.Join(out, ", ") + "}"
}
