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

func (c *Compiler) sourceNames() []string {
	return append(c.Pack.Sources.Keys(), c.sources.Keys()...)
}
