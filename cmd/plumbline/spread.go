package main

import (
	"fmt"
	"runtime"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
)

// spreadVerb tells how many of many builds of a design meet everything.
func (c *Command) spreadVerb() *cobra.Command {
	var f whatifFlags
	builds, seed := 1000, uint64(1)
	cmd := &cobra.Command{
		Use:   "spread DESIGN",
		Short: "Tell how many of a thousand such builds meet everything",
		Long: "Spread draws many builds of one design, each with parts, work and fuel a little off what is stated, as much as real ones are, and judges each. It tells in how many " +
			"everything is met, what is not in the others, the most frequent first, and which number drives it. How much things scatter is data with grounds; --all prints it. " +
			"The draws begin from a seed, so that the same call gives the same answer. A design that meets everything as stated may have little to spare: headroom tells how much. " +
			"It ends with 0 when it could judge.",
		Example: "  plumbline spread truck.yaml\n  plumbline spread --builds 200 --seed 7 truck.yaml",
		Args:    wants("one design", false),
		RunE:    func(_ *cobra.Command, args []string) error { return c.spread(args[0], f, builds, seed) },
	}
	f.add(cmd)
	cmd.Flags().IntVar(&builds, "builds", builds, "how many builds to draw, 10 to 100000")
	cmd.Flags().Uint64Var(&seed, "seed", seed, "what the draws begin from")
	return cmd
}

func (c *Command) spread(name string, f whatifFlags, builds int, seed uint64) error {
	if builds < 10 || builds > 100_000 {
		return exit.InputError("--builds is a number from 10 to 100000, not %d", builds)
	}
	a, numbers, err := c.moving(name, f)
	if err != nil {
		return err
	}
	begun := c.Now()
	s := whatif.SpreadOf(a.lib, a.design, a.options, numbers, builds, seed)
	if f.asJSON {
		return c.printJSON(s)
	}
	if len(s.Drawn) == 0 {
		return exit.InputError("no number is stated there that scatters from build to build")
	}
	if took := c.Now().Sub(begun).Seconds(); took > 0 {
		fmt.Fprintf(c.Stderr, "%d builds judged in %.1f s on %d cores\n", builds, took, runtime.GOMAXPROCS(0))
	}
	if err := report.Spread(c.Stdout, a.design, &s, report.TextOptions{Width: c.width(f.width), Verbose: f.all}); err != nil {
		return exit.Failure(fmt.Errorf("the spread cannot be written: %w", shop.Reason(err)))
	}
	return nil
}
