package rule

import "plumbline/engine/pack"

// source finds a document by its name and notes that it is cited.
func (c *Compiler) source(name string) (*pack.Source, bool) {
	c.Used["source "+name] = true
	if s, ok := c.Pack.Sources.Get(name); ok {
		return s, true
	}
	return c.sources.Get(name)
}

// sourced reports whether every document that a rule cites is there.
func (c *Compiler) sourced(r *pack.Rule) bool {
	for _, b := range r.Because {
		if _, ok := c.source(b.Source); b.Source != "" && !ok {
			return false
		}
	}
	return true
}

func (c *Compiler) sourceNames() []string {
	return append(c.Pack.Sources.Keys(), c.sources.Keys()...)
}
