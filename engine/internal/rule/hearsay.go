package rule

import "plumbline/engine/pack"

// How a rule of a region is known of which nobody read a text or a copy: a page tells of it, or it is remembered.
const (
	FromPage   = "page"
	FromMemory = "memory"
)

// knownFrom says how a rule of a region is known when no text of it was read; empty when one was. One ground read in the text
// or in a copy of it is enough. Advice that rests on practice claims no law.
func (c *Compiler) knownFrom(r *pack.Rule) string {
	if len(c.Pack.Regions) == 0 {
		return ""
	}
	known, practice := FromMemory, false
	for i := range r.Because {
		b := &r.Because[i]
		practice = practice || b.Practice != "" || b.Physics != ""
		src, ok := c.source(b.Source)
		if !ok {
			continue
		}
		switch src.Read {
		case "text", "mirror":
			return ""
		case "secondary":
			known = FromPage
		}
	}
	if r.Consequence == "advice" && practice && known == FromMemory {
		return ""
	}
	return known
}
