package engine

import (
	"plumbline/engine/pack"
)

// source finds a document by its name and notes that it is cited.
func (c *compiler) source(name string) (*pack.Source, bool) {
	c.used["source "+name] = true
	if s, ok := c.pack.Sources.Get(name); ok {
		return s, true
	}
	return c.sources.Get(name)
}

func (c *compiler) sourceNames() []string {
	return append(c.pack.Sources.Keys(), c.sources.Keys()...)
}
