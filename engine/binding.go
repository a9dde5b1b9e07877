package engine

import (
	"maps"
	"slices"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// bindTrusted compiles whom the laws of packs found right before bind: their rules, which cite them, are compiled later.
func (l *Library) bindTrusted(compilers []*rule.Compiler, v *vocabulary.Vocabulary) {
	shared := map[*pack.Source]*rule.Binding{}
	laws := func(c *rule.Compiler, list pack.Named[pack.Source], into map[*pack.Source]*rule.Binding) {
		for i := range list {
			if s := &list[i].Value; s.Kind == rule.Law && len(s.In) > 0 {
				into[s] = c.Binding(list[i].Key, s)
			}
		}
	}
	for _, c := range compilers {
		if !c.Trusted || len(c.Pack.Regions) > 0 {
			continue
		}
		c.Vocabulary = v
		if len(shared) == 0 {
			laws(c, l.shared, shared)
		}
		maps.Copy(c.Bindings, shared)
		laws(c, c.Pack.Sources, c.Bindings)
	}
}

// standing gives the laws among grounds the weight they have for this design: the law where it is
// used and binds this vehicle, else a law of elsewhere used as practice.
func (j *judging) standing(grounds []rule.Ground) []rule.Ground {
	out := grounds
	for i := range grounds {
		if b := grounds[i].Law; b != nil && j.bound[b] {
			if &out[0] == &grounds[0] {
				out = slices.Clone(grounds)
			}
			out[i].Standing = rule.Law
		}
	}
	return out
}

// bind finds which laws are known to bind the design where it is judged.
func (j *judging) bind() {
	for _, b := range j.library.bindings {
		if slices.ContainsFunc(b.In, func(region string) bool { return slices.Contains(j.regions, region) }) {
			j.scope.Start()
			j.bound[b] = b.Whom == nil || b.Whom.Eval(&j.names) == types.True
			if j.marks != nil {
				j.marks.laws[b] = j.marksOf(j.scope.Reads())
			}
		}
	}
}
