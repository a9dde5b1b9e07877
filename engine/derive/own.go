package derive

import "plumbline/schema"

// Session is the session the calculation runs in, for values that packs compute.
func (c *Calc) Session() *Session { return c.session }

// Took notes what was read on the way to a value, by other means than the calculation's own: stated facts, derived values, and
// the paths of facts that were assumed. What they lack is not noted; see Miss and Unreachable.
func (c *Calc) Took(facts []schema.Reading, derived []*Result, assumptions []string) {
	for _, f := range facts {
		c.session.reads = append(c.session.reads, f)
	}
	for _, r := range derived {
		c.session.reads = append(c.session.reads, r)
		if r.bounded != nil {
			c.bounds = JoinBounds(c.bounds, r.bounded.bounds)
		}
	}
	for _, path := range assumptions {
		c.assumed = appendNew(c.assumed, path)
		fact := c.Design().FactAt(path)
		if a, ok := c.session.assumption(path); ok && fact != nil {
			c.session.reads = append(c.session.reads, &assumed{fact: fact, value: a.value})
		}
	}
}

// Absent makes the value absent with a part that the design says is not there.
func (c *Calc) Absent(path string) { c.notThere(path) }

// Break notes a slip of the pack that the value belongs to.
func (c *Calc) Break(err error) { c.broken = err }
