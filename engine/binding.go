package engine

import (
	"fmt"
	"slices"

	"github.com/google/cel-go/common/types"

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
func (c *compiler) binding(name string, s *Source) *binding {
	if b, ok := c.bindings[name]; ok {
		return b
	}
	b := &binding{in: s.In}
	c.bindings[name] = b
	if s.Binds == nil {
		return b
	}
	p, err := c.vocabulary.Compile(s.Binds.Text, nil)
	switch {
	case err != nil:
		c.problemAt(s.place, "sources."+name+".binds", err.Error(), "")
	case p.Type.Kind() != types.BoolKind:
		c.problemAt(s.place, "sources."+name+".binds", "this must be true or false; it is "+typeName(p.Type), "")
	case len(s.In) == 0:
		c.problemAt(s.place, "sources."+name+".binds", fmt.Sprintf("name the regions where %s is the law: in", name), "")
	default:
		b.whom = p
	}
	return b
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
