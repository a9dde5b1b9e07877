package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
)

// compareFlags are the flags of compare.
type compareFlags struct {
	regions, rules []string
	set            []string
	units, color   string
	asJSON         bool
	noAssumptions  bool
	verbose, all   bool
	width          int
}

// compareVerb says what changes for a design between places, between two designs, or by a change.
func (c *Command) compareVerb() *cobra.Command {
	var f compareFlags
	cmd := &cobra.Command{
		Use:   "compare DESIGN [DESIGN]",
		Short: "Say what differs between two designs, by a change, or between places",
		Long: "Compare judges two designs, or one and itself with facts set otherwise (--set), and tells what is stated, found and computed otherwise, and which of the changes alone would do it. " +
			"What stands in lists is matched by its name or what it is, not by its place. " +
			"With --regions it judges a design once for each region and shows what the rules of each place find; what is the same everywhere is counted. " +
			"It always ends with 0 when it could judge: it compares, check decides.",
		Example: "  plumbline compare truck.yaml truck-new-pump.yaml\n  plumbline compare --set engine.power='90 kW' truck.yaml\n  plumbline compare --regions gb,de,us-ca truck.yaml",
		Args:    wants("one or two designs", true),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(f.regions) > 0 {
				if len(args) > 1 || len(f.set) > 0 {
					return exit.InputError("places are compared for one design as it is: give --regions, or --set or two designs")
				}
				return c.compare(args[0], f)
			}
			return c.compareDesigns(args, f)
		},
	}
	flags := cmd.Flags()
	flags.StringSliceVar(&f.regions, "regions", nil, "the regions to compare, such as gb,de,us-ca")
	flags.StringArrayVar(&f.set, "set", nil, "compare with the design with a fact set otherwise, such as engine.power='90 kW'; may be given again")
	flags.BoolVar(&f.all, "all", false, "list everything that differs, not only the first")
	flags.StringVar(&f.units, "units", "both", "us, metric or both")
	flags.BoolVar(&f.asJSON, "json", false, "print JSON")
	flags.BoolVar(&f.noAssumptions, "no-assumptions", false, "leave open what a pack would assume")
	flags.BoolVarP(&f.verbose, "verbose", "v", false, "also list what is open and what is met")
	flags.StringVar(&f.color, "color", "auto", "auto, always or never; colour only repeats what a word says")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	return cmd
}

func (c *Command) compare(arg string, f compareFlags) error {
	units, err := unitSystem(f.units)
	if err != nil {
		return err
	}
	if err := choose("color", f.color, "auto", "always", "never"); err != nil {
		return err
	}
	lib, err := c.shop.Open(f.rules)
	if err != nil {
		return err
	}
	if len(f.regions) < 2 {
		return exit.InputError("name two regions or more, such as --regions gb,de; known are %s", strings.Join(shop.RegionNames(lib.Library), ", "))
	}
	names, err := c.shop.CheckRegions(lib.Library, f.regions)
	if err != nil {
		return err
	}
	for i, n := range names {
		for _, other := range names[:i] {
			if n == other {
				return exit.InputError("the region %s is named twice", n)
			}
		}
	}
	design, err := c.design(arg)
	if err != nil {
		return err
	}
	o := c.shop.Defaults(design, engine.Options{Units: units, NoAssumptions: f.noAssumptions, Today: c.Now()})
	places := whatif.Regions(lib.Library, design, o, names)
	if f.asJSON {
		return c.printJSON(report.NewPlaces(places))
	}
	if err := report.Regions(c.Stdout, places, report.TextOptions{Width: c.width(f.width), Colour: c.coloured(f.color), Verbose: f.verbose}); err != nil {
		return exit.Failure(fmt.Errorf("the comparison cannot be written: %w", shop.Reason(err)))
	}
	return nil
}
