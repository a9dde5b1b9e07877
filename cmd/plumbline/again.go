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
	work, err := c.shop.OpenWork(rules, ways, c.Now)
	if err != nil {
		return nil, err
	}
	design, err := c.design(name)
	if err != nil {
		return nil, err
	}
	out := &again{lib: work.Library.Library, design: design, options: work.Options(design, nil), series: work.Sizes}
	if units != "" {
		out.options.Units, err = unitSystem(units)
	}
	return out, err
}
