package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
)

// fitFlags are the flags of fit.
type fitFlags struct {
	rules, patterns []string
	units           string
	asJSON          bool
	width, choices  int
}

// fitVerb searches the shelf for what makes a design pass.
func (c *Command) fitVerb() *cobra.Command {
	var f fitFlags
	cmd := &cobra.Command{
		Use:   "fit DESIGN [PART...]",
		Short: "Find the parts of the shelf with which nothing is wrong",
		Long: "Fit tries the parts of the shelf, and the sizes that wires, fuses and bores are made in, in the places of a design. Without a part named it goes through " +
			"what is wrong; with one it tells what may stand there. Fewest changes come first, then the price, then the stock; two parts, or three, are exchanged at once only where " +
			"fewer will not do. What is fitted stays as it is fitted: lengths, places, clearances. What nobody stated is taken as usual. " +
			"Exit code 1 says that the shelf has nothing for one of the things.",
		Example: "  plumbline fit truck.yaml --shelf parts\n  plumbline fit truck.yaml pump\n  plumbline fit truck.yaml pump regulator",
		Args:    wants("which design", true),
		RunE:    func(_ *cobra.Command, args []string) error { return c.fit(args, f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.units, "units", "", "us, metric or both (default: the design's own)")
	flags.BoolVar(&f.asJSON, "json", false, "print JSON (plumbline schema fit)")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	flags.IntVar(&f.choices, "choices", 5, "how many choices to tell for each thing")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	patternsFlag(cmd, &f.patterns)
	return cmd
}

func (c *Command) fit(args []string, f fitFlags) error {
	if f.choices < 1 {
		return exit.InputError("--choices takes a number from 1 on, not %d", f.choices)
	}
	shelf, err := c.shop.Shelf()
	if err != nil {
		return exit.InputError("%v", err)
	}
	a, err := c.again(args[0], f.rules, f.patterns, f.units)
	if err != nil {
		return err
	}
	fo := whatif.FitOptions{Choices: f.choices}
	for _, name := range args[1:] {
		path := partNamed(a.design, name)
		if path == "" {
			return exit.InputError("the design has no part %q; name one by its path or its name", name)
		}
		fo.Of = append(fo.Of, path)
	}
	found := whatif.Fit(a.lib, a.design, a.options, shelf, a.series, fo)
	if f.asJSON {
		err = c.printJSON(found)
	} else {
		err = report.Fits(c.Stdout, a.design, found, report.TextOptions{Width: c.width(f.width)})
	}
	if err != nil {
		return exit.Failure(fmt.Errorf("what would do cannot be written: %w", shop.Reason(err)))
	}
	if len(found.Left) > 0 || slices.ContainsFunc(found.Answers, func(x whatif.Answer) bool { return len(x.Choices) == 0 }) {
		return &exit.Error{Code: exit.Blocked}
	}
	return nil
}
