package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/report"
	"plumbline/schema"
)

// diagnoseFlags are the flags of diagnose.
type diagnoseFlags struct {
	rules         []string
	units         string
	asJSON        bool
	noAssumptions bool
	verbose       bool
	color         string
	width         int
}

// diagnoseVerb says which trouble explains what was measured.
func (c *Command) diagnoseVerb() *cobra.Command {
	var f diagnoseFlags
	cmd := &cobra.Command{
		Use:   "diagnose DESIGN",
		Short: "Say which trouble explains what was measured, and what to measure next",
		Long: "Diagnose holds the readings that a design states (measured, and what was measured of battery and procedure) against what each trouble of the packs would make of them: a worn pump, a pinched " +
			"return, a bad joint, a wrong entry. It fits the size of each, puts first what explains all readings best, says what they cannot tell apart, and names the next measurement, " +
			"cheap and safe ones first. That the vehicle is sound, and that nothing known explains the readings, are answers too.",
		Example: "  plumbline diagnose truck.yaml\n  plumbline diagnose --json truck.yaml\n  plumbline explain return-narrow",
		Args:    wants("one design", false),
		RunE:    func(_ *cobra.Command, args []string) error { return c.diagnose(args[0], f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.units, "units", "", "us, metric or both (default: the design's own)")
	flags.BoolVar(&f.asJSON, "json", false, "print JSON")
	flags.BoolVar(&f.noAssumptions, "no-assumptions", false, "leave open what a pack would assume")
	flags.BoolVarP(&f.verbose, "verbose", "v", false, "also tell the readings that are as they should be and what is less likely")
	flags.StringVar(&f.color, "color", "auto", "auto, always or never; colour only repeats what a word says")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	return cmd
}

func (c *Command) diagnose(arg string, f diagnoseFlags) error {
	if err := choose("color", f.color, "auto", "always", "never"); err != nil {
		return err
	}
	lib, err := c.loadToJudge(f.rules)
	if err != nil {
		return err
	}
	design, err := c.design(arg)
	if err != nil {
		return err
	}
	o := c.defaults(design, engine.Options{Today: c.Now(), Units: schema.Habit(design), NoAssumptions: f.noAssumptions})
	if f.units != "" {
		if o.Units, err = unitSystem(f.units); err != nil {
			return err
		}
	}
	found := diagnose.Run(lib.Library, design, o)
	if f.asJSON {
		return c.printJSON(found)
	}
	if err := report.Diagnosis(c.Stdout, design, found, report.TextOptions{Width: c.width(f.width), Colour: c.coloured(f.color), Verbose: f.verbose}); err != nil {
		return failure(fmt.Errorf("the diagnosis cannot be written: %w", reason(err)))
	}
	return nil
}
