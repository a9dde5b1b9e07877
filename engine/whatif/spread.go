package whatif

import (
	"cmp"
	"math"
	"slices"

	"plumbline/engine"
	"plumbline/engine/internal/cores"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// Spread is what becomes of many builds of one design, whose parts, work and fuel scatter as real ones do.
type Spread struct {
	File  string `json:"file,omitempty"`
	Title string `json:"title,omitempty"`
	Stage string `json:"stage"`
	// Usual is set where findings are open: then they are told by what is usual of the facts nobody stated.
	Usual bool `json:"usual,omitempty"`
	// Seed is what the draws begin from: the same seed gives the same builds.
	Seed uint64 `json:"seed"`
	// Wrong counts what fails or falls short in the design as it is stated.
	Wrong int `json:"wrong"`
	// Passes are the builds of which everything is met, Holds those of which nothing fails, though something may fall short of what
	// should be.
	Passes Share `json:"passes"`
	Holds  Share `json:"holds"`
	// Failing are the findings that fail or fall short in some builds, the most frequent first.
	Failing []Failing `json:"failing,omitempty"`
	// Drawn is what scattered, Fixed how many numbers stayed as they are stated.
	Drawn []Drawn `json:"drawn"`
	Fixed int     `json:"fixed"`
}

// Failing is a finding that is not met in some builds.
type Failing struct {
	Rule    string      `json:"rule"`
	Subject string      `json:"subject"`
	Danger  pack.Danger `json:"danger"`
	// Stated is how it stands in the design as it is stated.
	Stated engine.Outcome `json:"stated"`
	// Builds are those where it fails or falls short, Fails those where it fails.
	Builds Share `json:"builds"`
	Fails  int   `json:"fails"`
	// Text is what is found in the first of these builds, and what to do about it.
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
	// Drives is the number that drives it; nil where no one does.
	Drives *Drives `json:"drives,omitempty"`
}

// Drives is a number that drives a finding: in so many of the builds tried, it would be met if that number alone were as stated.
type Drives struct {
	Facts  []string      `json:"facts"`
	Stated engine.Number `json:"stated"`
	// Usual is its middle in the builds where the finding is not met.
	Usual engine.Number `json:"usual"`
	Mends int           `json:"mends"`
	Tried int           `json:"tried"`
}

// spreader judges builds of one design on some benches, one for each core.
type spreader struct {
	draws   []*draw
	builds  [][]float64
	benches []*searcher
}

// SpreadOf judges n builds of a design, drawn from a seed.
func SpreadOf(lib *engine.Library, d *schema.Design, o engine.Options, numbers *Numbers, n int, seed uint64) Spread {
	d = likely(d)
	out := Spread{File: d.Place().File, Stage: o.StageOf(d), Seed: seed}
	out.Title, _ = d.Title.Get()
	s := &spreader{builds: make([][]float64, n)}
	s.draws, out.Fixed = numbers.draws(d, o.Units)
	out.Drawn = numbers.drawn(s.draws)
	things := make([][]string, len(s.draws))
	for i, w := range s.draws {
		things[i] = w.paths()
	}
	s.benches = make([]*searcher, cores.Workers(n))
	cores.Do(len(s.benches), func(_, i int) { s.benches[i] = newSearcher(lib.Bench(d, o, things, engine.Glance)) })
	out.Wrong, out.Usual = s.benches[0].wrong, s.benches[0].usual

	// What is not met in each build.
	wrong := make([]map[string]engine.Outcome, n)
	cores.Do(n, func(worker, i int) {
		s.builds[i] = build(s.draws, seed, i)
		wrong[i] = s.benches[worker].wrongWith(changesAt(s.draws, s.builds[i]))
	})
	passes, holds := 0, 0
	in := map[string][]int{}
	for i, list := range wrong {
		fails := false
		for key, outcome := range list {
			in[key] = append(in[key], i)
			fails = fails || outcome == engine.Fail
		}
		if len(list) == 0 {
			passes++
		}
		if !fails {
			holds++
		}
	}
	out.Passes, out.Holds = shareFrom(passes, n), shareFrom(holds, n)
	keys := make([]string, 0, len(in))
	for key := range in {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b string) int { return cmp.Or(len(in[b])-len(in[a]), cmp.Compare(a, b)) })
	out.Failing = make([]Failing, len(keys))
	cores.Do(len(keys), func(worker, i int) {
		key := keys[i]
		f := s.failing(s.benches[worker%len(s.benches)], key, in[key], i < mostDriven)
		for _, b := range in[key] {
			if wrong[b][key] == engine.Fail {
				f.Fails++
			}
		}
		out.Failing[i] = f
	})
	return out
}

// wrongWith are the findings that count and are not met with changes, with how they stand.
func (s *searcher) wrongWith(changes []engine.Change) map[string]engine.Outcome {
	out := map[string]engine.Outcome{}
	note := func(f *engine.Finding) {
		if stands := f.Standing(); f != nil && counts(f, false) && (stands == engine.Fail || stands == engine.Warn) {
			out[f.Key()] = stands
		}
	}
	before := s.bench.Findings(engine.Glance)
	for i := range before {
		note(&before[i])
	}
	s.bench.Leave(s.early)
	for _, t := range s.bench.TurnedOnly(engine.Glance, changes...) {
		delete(out, t.Finding().Key())
		note(t.After)
	}
	return out
}

// mostDriven is how many findings, of those most often not met, are asked what drives them; mostTried in how many builds, and
// mostAsked how many numbers.
const mostDriven, mostTried, mostAsked = 12, 20, 6

// failing tells a finding that is not met in some builds.
func (s *spreader) failing(by *searcher, key string, in []int, driven bool) Failing {
	found := by.find(key, changesAt(s.draws, s.builds[in[0]]))
	out := Failing{Rule: found.Rule, Subject: found.Subject, Danger: found.Danger, Stated: engine.NotApplicable, Builds: shareFrom(len(in), len(s.builds)), Text: found.Text, Remedy: found.Remedy}
	if found.Leaning != nil && found.Outcome == engine.Open {
		out.Text = cmp.Or(found.Leaning.Text, found.Text)
	}
	stated := by.bench.Findings(engine.Glance)
	if i := slices.IndexFunc(stated, func(f engine.Finding) bool { return f.Key() == key }); i >= 0 {
		out.Stated = stated[i].Standing()
	}
	if driven && out.Stated != engine.Fail && out.Stated != engine.Warn {
		out.Drives = s.drives(by, found, in)
	}
	return out
}

// find judges with changes by the rule of one finding, and gives it.
func (s *searcher) find(key string, changes []engine.Change) *engine.Finding {
	before := s.bench.Findings(engine.Glance)
	i := slices.IndexFunc(before, func(f engine.Finding) bool { return f.Key() == key })
	if i >= 0 {
		s.bench.Only(map[string]bool{before[i].Rule: true})
	} else {
		s.bench.Leave(s.early)
	}
	for _, t := range s.bench.Turned(engine.Glance, changes...) {
		if t.After != nil && t.After.Key() == key {
			return t.After
		}
	}
	return &before[i] // it was not met before either
}

// drives finds the number that drives a finding: of those it rests on whose draws differ most between the builds where it is met
// and where it is not, the one that mends most of these builds when it alone is as stated.
func (s *spreader) drives(by *searcher, found *engine.Finding, in []int) *Drives {
	type asked struct {
		draw  int
		apart float64
		mends int
	}
	wrong := make([]bool, len(s.builds))
	for _, b := range in {
		wrong[b] = true
	}
	var list []asked
	for i, w := range s.draws {
		if !by.bench.Rests(found.Rule, w.paths()) {
			continue
		}
		var sums [2]float64
		for b, z := range s.builds {
			if wrong[b] {
				sums[0] += z[i]
			} else {
				sums[1] += z[i]
			}
		}
		apart := math.Abs(sums[0]/float64(len(in)) - sums[1]/float64(max(1, len(s.builds)-len(in))))
		list = append(list, asked{draw: i, apart: apart})
	}
	slices.SortStableFunc(list, func(a, b asked) int { return cmp.Compare(b.apart, a.apart) })
	list = list[:min(len(list), mostAsked)]
	by.bench.Only(map[string]bool{found.Rule: true})
	tried := in[:min(len(in), mostTried)]
	best := -1
	for k := range list {
		for _, b := range tried {
			z := slices.Clone(s.builds[b])
			as := changesAt(s.draws, z)
			at := 0
			for i, w := range s.draws {
				n := 1 + len(w.with)
				if i == list[k].draw {
					copy(as[at:at+n], w.mover.at(w.lead.base))
				}
				at += n
			}
			turned := by.bench.TurnedOnly(engine.Glance, as...)
			if !slices.ContainsFunc(turned, func(t engine.Turned) bool { return t.Finding().Key() == found.Key() && t.Worse() }) {
				list[k].mends++
			}
		}
		if list[k].mends > 0 && (best < 0 || list[k].mends > list[best].mends) {
			best = k
		}
	}
	if best < 0 {
		return nil
	}
	w := s.draws[list[best].draw]
	var values []float64
	for _, b := range in {
		values = append(values, w.at(s.builds[b][list[best].draw]))
	}
	slices.Sort(values)
	return &Drives{Facts: w.paths(), Stated: w.number(w.lead.base), Usual: w.number(values[len(values)/2]), Mends: list[best].mends, Tried: len(tried)}
}
