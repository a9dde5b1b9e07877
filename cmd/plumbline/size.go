package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// sizeFlags are the flags of size.
type sizeFlags struct {
	rules, patterns []string
	units           string
	asJSON          bool
	width           int
}

// sizeVerb finds the least that works.
func (c *Command) sizeVerb() *cobra.Command {
	var f sizeFlags
	cmd := &cobra.Command{
		Use:   "size DESIGN [PART]",
		Short: "Find the least that works: wire, fuse, bore, pump, injector, hole",
		Long: "Size walks the sizes that are made and judges the design with each: the least with which every rule that the size decides is met, and what is " +
			"wrong with the next smaller one. What nobody stated is taken as usual. Without a part it goes through all that can be sized.",
		Example: "  plumbline size truck.yaml\n  plumbline size truck.yaml \"fuel pump\"\n  plumbline size truck.yaml throttle_body.injectors",
		Args:    wants("which design", true),
		RunE:    func(_ *cobra.Command, args []string) error { return c.size(args, f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.units, "units", "", "us, metric or both (default: the design's own)")
	flags.BoolVar(&f.asJSON, "json", false, "print JSON")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	patternsFlag(cmd, &f.patterns)
	return cmd
}

func (c *Command) size(args []string, f sizeFlags) error {
	if len(args) > 2 {
		return exit.InputError("name one design and one part of it")
	}
	a, err := c.again(args[0], f.rules, f.patterns, f.units)
	if err != nil {
		return err
	}
	below := ""
	if len(args) == 2 {
		if below = partNamed(a.design, args[1]); below == "" {
			return exit.InputError("the design has no part %q; name one by its path or its name", args[1])
		}
	}
	sizes := whatif.Sizes(a.lib, a.design, a.options, a.series, below)
	if f.asJSON {
		return c.printJSON(sizes)
	}
	if len(sizes) == 0 {
		return exit.InputError("nothing there has a size that is made in a series: state the size it has now, such as size: 14 AWG")
	}
	if err := report.Sizes(c.Stdout, a.design, sizes, report.TextOptions{Width: c.width(f.width)}); err != nil {
		return exit.Failure(fmt.Errorf("the sizes cannot be written: %w", shop.Reason(err)))
	}
	return nil
}

// partNamed is the path of a part by its path, or by the name it has in the design.
func partNamed(d *schema.Design, name string) string {
	path := "design." + strings.TrimPrefix(name, "design.")
	if d.At(path) != nil {
		return path
	}
	found := ""
	schema.Walk(d, func(v schema.Visit) {
		if v.Key == "name" && v.Reading.Known() && strings.EqualFold(v.Reading.Text(), name) && found == "" {
			found = strings.TrimSuffix(v.Path, ".name")
		}
	})
	return found
}
