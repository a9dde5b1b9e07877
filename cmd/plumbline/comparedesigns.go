package main

import (
	"fmt"
	"strings"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// compareDesigns says what differs between two designs, or one and itself with facts set otherwise.
func (c *Command) compareDesigns(args []string, f compareFlags) error {
	units, err := unitSystem(f.units)
	if err != nil {
		return err
	}
	if err := choose("color", f.color, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case len(args) > 2:
		return exit.InputError("two designs are compared, not %d", len(args))
	case len(args) == 2 && len(f.set) > 0:
		return exit.InputError("give two designs, or one and --set")
	case len(args) == 1 && len(f.set) == 0:
		return exit.InputError("name a second design, a fact to set otherwise (--set engine.power='90 kW'), or two regions or more (--regions gb,de)")
	}
	lib, err := c.shop.Open(f.rules)
	if err != nil {
		return err
	}
	before, err := c.design(args[0])
	if err != nil {
		return err
	}
	var after *schema.Design
	if len(args) == 2 {
		after, err = c.design(args[1])
	} else {
		after, err = withSet(before, f.set)
	}
	if err != nil {
		return err
	}
	o := c.shop.Defaults(before, engine.Options{Units: units, NoAssumptions: f.noAssumptions, Today: c.Now()})
	x := whatif.Differences(lib.Library, before, after, o)
	if f.asJSON {
		return c.printJSON(x)
	}
	if err := report.Difference(c.Stdout, before, after, &x, report.TextOptions{Width: c.width(f.width), Colour: c.coloured(f.color), Verbose: f.all || f.verbose}); err != nil {
		return exit.Failure(fmt.Errorf("the difference cannot be written: %w", shop.Reason(err)))
	}
	return nil
}

// factValue reads a text as the fact at a path of a design, one that a pack declares too.
func factValue(d *schema.Design, path, text string) (any, error) {
	if d.Declared().Find(path) != nil {
		return d.Declared().ParseFact(path, text)
	}
	part, key := schema.TypeAt(string(schema.Path(path).Parent())), schema.Path(path).Key()
	if err := schema.CheckIn(part, "design."+key, text); err != nil {
		return nil, err
	}
	return schema.ParseIn(part, "design."+key, text)
}

// withSet is a design with facts set otherwise, each by its path: engine.power=90 kW.
func withSet(d *schema.Design, set []string) (*schema.Design, error) {
	out := d.Clone()
	for _, s := range set {
		name, text, ok := strings.Cut(s, "=")
		if !ok {
			return nil, exit.InputError("--set %s: write a fact and what it is, such as engine.power='90 kW'", s)
		}
		path := factNamed(out, strings.TrimSpace(name))
		if path == "" || out.FactAt(path) == nil {
			return nil, exit.InputError("--set %s: the design has no fact %q; name one by its path, such as engine.power or circuits[0].fuse.rating", s, name)
		}
		value, err := factValue(out, path, strings.TrimSpace(text))
		if err != nil {
			return nil, exit.InputError("--set %s: %v", s, err)
		}
		if err := out.Put(path, value); err != nil {
			return nil, exit.InputError("--set %s: %v", s, err)
		}
	}
	return out, nil
}
