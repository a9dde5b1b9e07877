package engine

import (
	"fmt"

	"plumbline/engine/pack"
	"plumbline/schema/document"
)

// assume takes up a pack's assumptions; each value must read as the fact's own.
func (l *Library) assume(p *pack.Pack) document.Problems {
	c := l.compiler(l.vocabulary, p)
	for i := range p.Assumptions {
		a := &p.Assumptions[i]
		path := fmt.Sprintf("assumptions[%d]", i)
		if len(a.Because) == 0 {
			c.ProblemAt(a.Place, path, "an assumption needs a because", "")
		}
		grounds := c.QuietReasons(a.Because)
		for _, fact := range append([]string{a.Fact}, a.Also...) {
			v := c.Assumption(a, fact, path)
			if l.assumptions[fact] != nil {
				c.ProblemAt(a.Place, path, fact+" is already assumed in "+l.assumedBy[fact]+"; a fact is assumed once", "")
			}
			l.assumptions[fact] = v
			l.assumedBy[fact] = p.Pack
			if p.Local {
				l.houseAssumed = append(l.houseAssumed, fact)
			}
			l.grounds[fact] = grounds
		}
	}
	return c.Problems
}
