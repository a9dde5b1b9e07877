package rule

import (
	"fmt"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// The standings of a law: the law where the vehicle is used, or one of elsewhere that is used as practice.
const (
	Law          = "law"
	lawElsewhere = "law_elsewhere"
)

// Binding says where a law that a rule for everywhere cites is the law, and for whom.
type Binding struct {
	In   []string
	Whom *vocabulary.Program
}

// Binding compiles whom a source binds, once for the pack.
func (c *Compiler) Binding(name string, s *pack.Source) *Binding {
	if b, ok := c.Bindings[s]; ok {
		return b
	}
	b := &Binding{In: s.In}
	c.Bindings[s] = b
	if s.Binds == nil {
		return b
	}
	p, err := c.Vocabulary.Compile(s.Binds.Text, nil)
	switch {
	case err != nil:
		c.ProblemAt(s.Place, "sources."+name+".binds", err.Error(), "")
	case p.Type.Kind() != types.BoolKind:
		c.ProblemAt(s.Place, "sources."+name+".binds", "this must be true or false; it is "+TypeName(p.Type), "")
	case len(s.In) == 0:
		c.ProblemAt(s.Place, "sources."+name+".binds", fmt.Sprintf("name the regions where %s is the law: in", name), "")
	default:
		b.Whom = p
		for _, text := range c.undecided(p) {
			c.ProblemAt(s.Place, "sources."+name+".binds", text, "")
		}
	}
	return b
}
