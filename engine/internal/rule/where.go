package rule

import (
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Where is the place in the pack of a part of an expression of a rule, by its number, and the path there; of a rule from an
// image, which keeps no texts, the place of the rule.
func (c *Compiler) Where(r *Rule, p *vocabulary.Program, part int64) (schema.Place, string) {
	at := r.placeOf(p, "")
	if at.node == nil {
		return r.Decl.Place, "rules." + r.Decl.ID
	}
	line, column := p.At(part)
	if line == 1 {
		column += at.offset
	}
	return c.Place(at.node, line, column), at.path
}
