package engine

import (
	"fmt"
	"maps"
	"slices"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// The standings of a law: the law where the vehicle is used, or one of elsewhere that is used as practice.
const (
	law          = "law"
	lawElsewhere = "law_elsewhere"
)

// binding says where a law that a rule for everywhere cites is the law, and for whom.
type binding struct {
	in   []string
	whom *vocabulary.Program
}

// binding compiles whom a source binds, once for the pack.
func (c *compiler) binding(name string, s *pack.Source) *binding {
	if b, ok := c.bindings[s]; ok {
		return b
	}
	b := &binding{in: s.In}
	c.bindings[s] = b
	if s.Binds == nil {
		return b
	}
	p, err := c.vocabulary.Compile(s.Binds.Text, nil)
	switch {
	case err != nil:
		c.problemAt(s.Place, "sources."+name+".binds", err.Error(), "")
	case p.Type.Kind() != types.BoolKind:
		c.problemAt(s.Place, "sources."+name+".binds", "this must be true or false; it is "+typeName(p.Type), "")
	case len(s.In) == 0:
		c.problemAt(s.Place, "sources."+name+".binds", fmt.Sprintf("name the regions where %s is the law: in", name), "")
	default:
		b.whom = p
	}
	return b
}

// bindTrusted compiles whom the laws of packs found right before bind: their rules, which cite them, are compiled later.
func (l *Library) bindTrusted(compilers []*compiler, v *vocabulary.Vocabulary) {
	shared := map[*pack.Source]*binding{}
	laws := func(c *compiler, list pack.Named[pack.Source], into map[*pack.Source]*binding) {
		for i := range list {
			if s := &list[i].Value; s.Kind == law && len(s.In) > 0 {
				into[s] = c.binding(list[i].Key, s)
			}
		}
	}
	for _, c := range compilers {
		if !c.trusted || len(c.pack.Regions) > 0 {
			continue
		}
		c.vocabulary = v
		if len(shared) == 0 {
			laws(c, l.shared, shared)
		}
		maps.Copy(c.bindings, shared)
		laws(c, c.pack.Sources, c.bindings)
	}
}

// standing gives the laws among grounds the weight they have for this design: the law where it is
// used and binds this vehicle, else a law of elsewhere used as practice.
func (j *judging) standing(grounds []Ground) []Ground {
	out := grounds
	for i := range grounds {
		if b := grounds[i].law; b != nil && j.bound[b] {
			if &out[0] == &grounds[0] {
				out = slices.Clone(grounds)
			}
			out[i].Standing = law
		}
	}
	return out
}

// bind finds which laws are known to bind the design where it is judged.
func (j *judging) bind() {
	for _, b := range j.library.bindings {
		if slices.ContainsFunc(b.in, func(region string) bool { return slices.Contains(j.regions, region) }) {
			j.bound[b] = b.whom == nil || b.whom.Eval(&j.names) == types.True
		}
	}
}
