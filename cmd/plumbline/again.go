package main

import (
	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// again is a design with what is needed to judge it again with other facts, sizes or parts.
type again struct {
	lib     *engine.Library
	design  *schema.Design
	options engine.Options
	series  []whatif.Series
}

// again opens library and design. Without units the design's own are used.
func (c *Command) again(name string, rules, ways []string, units string) (*again, error) {
	lib, err := c.shop.Open(rules)
	if err != nil {
		return nil, err
	}
	out := &again{lib: lib.Library}
	patterns, err := c.shop.OpenPatterns(ways)
	if err != nil {
		return nil, err
	}
	if out.series, err = c.shop.OpenSeries(); err != nil {
		return nil, err
	}
	if out.design, err = c.design(name); err != nil {
		return nil, err
	}
	out.options = c.shop.Defaults(out.design, engine.Options{Today: c.Now(), Patterns: patterns, Units: schema.Habit(out.design)})
	if units != "" {
		out.options.Units, err = unitSystem(units)
	}
	return out, err
}
