package main

import (
	"cmp"
	"io"
	"math"
	"runtime/debug"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/report"
)

// checkFlags are the flags of check.
type checkFlags struct {
	format, output, units, stage, color, since string
	noAssumptions, verbose                     bool
	width                                      int
	rules, patterns, regions                   []string
}

// checkVerb judges designs.
func (c *Command) checkVerb() *cobra.Command {
	var f checkFlags
	cmd := &cobra.Command{
		Use:   "check DESIGN...",
		Short: "Judge designs: what is wrong, what is not known, what to do, and why",
		Long: "Check judges one or more designs. A design is a file, a folder (every .yaml, .yml and .json file below it) or - for " +
			"the standard input. A file whose name ends in .jsonl holds a design in JSON on each line, and so does the standard input when its " +
			"first line is a whole one. A file that cannot be read as a design does not stop the others; it stands in the report with its problems. " +
			"In a text for the terminal what could be read of such a file is judged all the same, the rest counting as not known; the exit code is 2." + sinceLong,
		Example: "  plumbline check truck.yaml\n  plumbline check --units us --no-assumptions designs\n  plumbline check --format sarif --output findings.sarif designs\n  plumbline check --since before.json designs",
		Args:    wants("which designs to judge", true),
		RunE:    func(_ *cobra.Command, args []string) error { return c.check(args, f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.format, "format", "text", formatWords())
	flags.StringVarP(&f.output, "output", "o", "", "write the report into this file")
	flags.StringVar(&f.units, "units", "", "us, metric or both (default: both; of a planned job the design's own)")
	flags.StringVar(&f.stage, "stage", "", "judge as if the job were planned, ordered, built, started or handed_over")
	flags.StringVar(&f.since, "since", "", "show only what is new against this report, stored earlier with --format json; an old danger of fire, poisoning or loss of control still blocks")
	flags.BoolVar(&f.noAssumptions, "no-assumptions", false, "leave open what a pack would assume")
	flags.BoolVarP(&f.verbose, "verbose", "v", false, "also list what passed, the facts behind findings and every question")
	flags.StringVar(&f.color, "color", "auto", "auto, always or never; colour only repeats what a word says")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	patternsFlag(cmd, &f.patterns)
	regionFlag(cmd, &f.regions)
	return cmd
}

func (c *Command) check(args []string, f checkFlags) error {
	options, err := c.judgeOptions(f)
	if err != nil {
		return err
	}
	defer withinMemory(f)()
	stored, err := storedReport(f.since)
	if err != nil {
		return err
	}
	if err := cmp.Or(spareStored(f.output, f.since), c.spareWork(f.output), c.spareOthers(f.output)); err != nil {
		return err
	}
	list := apart(apart(shop.Inputs(args), f.since), f.output)
	if err := spare(f.output, list); err != nil {
		return err
	}
	text := f.format == "text" || f.format == "sheet"
	r := &run{Command: c, options: options, output: f.output, habit: f.units == "" && f.format == "text" && !f.verbose && stored == nil, partly: text && f.output == "" && f.since == ""}
	lib, err := c.shop.Open(f.rules)
	if err != nil {
		return err
	}
	r.library = lib
	r.drawn = f.format == "html"
	if f.format == "text" || f.format == "json" || r.drawn { // the others show no leaning
		if r.options.Patterns, err = c.shop.OpenPatterns(f.patterns); err != nil {
			return err
		}
		if r.series, err = c.shop.OpenSeries(); err != nil {
			return err
		}
	}
	if r.options.Regions, err = c.shop.CheckRegions(lib.Library, f.regions); err != nil {
		return err
	}
	var changed *report.Changed
	if r.form, changed, err = c.form(lib, stored, f); err != nil {
		return err
	}
	c.mode.JSON = f.format == "json" || f.format == "sarif" || f.format == "lines"
	r.progress = len(list) > 1 && isTerminal(c.Stderr) && (f.output != "" || !isTerminal(c.Stdout))
	err = c.into(f.output, func(w io.Writer) error { return r.over(c.designs(list), w) })
	if err != nil {
		return err
	}
	if changed != nil && r.code <= exit.Blocked {
		r.code = exit.Clear
		if changed.Blocks() {
			r.code = exit.Blocked
		}
	}
	if r.code != exit.Clear {
		return &exit.Error{Code: r.code}
	}
	return nil
}

// What the heap may grow to before it is collected more often. The library and a window of designs live in less than half
// of the first; packs of others may be ten times as long as most are; a comparison keeps every report.
const (
	mostMemory    = 72 << 20
	mostWithPacks = 180 << 20
	mostCompared  = 200 << 20
)

// withinMemory sets the limit, unless whoever started the program set one, and returns what takes it back.
func withinMemory(f checkFlags) (done func()) {
	if debug.SetMemoryLimit(-1) != math.MaxInt64 {
		return func() {}
	}
	most := int64(mostMemory)
	switch {
	case f.since != "":
		most = mostCompared
	case len(f.rules) > 0:
		most = mostWithPacks
	}
	debug.SetMemoryLimit(most)
	return func() { debug.SetMemoryLimit(math.MaxInt64) }
}

// form is the form of the report asked for; changed is set when it is a comparison.
func (c *Command) form(lib *shop.Library, stored *report.Document, f checkFlags) (form report.Form, changed *report.Changed, err error) {
	var about report.About
	if stored != nil || f.format == "json" || f.format == "sarif" || f.format == "html" {
		if about, err = aboutOf(lib); err != nil {
			return nil, nil, err
		}
	}
	if stored != nil {
		changed = report.NewChanged(f.since, stored, f.format, about, c.textOptions(f))
		return changed, changed, nil
	}
	return report.NewForm(f.format, about, c.textOptions(f)), nil, nil
}

// judgeOptions checks the flags.
func (c *Command) judgeOptions(f checkFlags) (engine.Options, error) {
	o := engine.Options{NoAssumptions: f.noAssumptions, Stage: f.stage, Today: c.Now(), Unread: f.verbose || f.format == "json"}
	var err error
	if o.Units, err = unitSystem(cmp.Or(f.units, "both")); err != nil {
		return o, err
	}
	if f.stage != "" {
		if err := choose("stage", f.stage, "planned", "ordered", "built", "started", "handed_over"); err != nil {
			return o, err
		}
	}
	if f.width < 0 {
		return o, exit.InputError("--width takes a number of characters, not %d", f.width)
	}
	if err := choose("color", f.color, "auto", "always", "never"); err != nil {
		return o, err
	}
	if (f.format == "lines" || f.format == "html") && f.since != "" {
		return o, exit.InputError("%s is not compared with a stored report; leave --since or --format %[1]s out", f.format)
	}
	return o, choose("format", f.format, report.Formats[:]...)
}

// textOptions shape a text for the terminal, or for the file asked for.
func (c *Command) textOptions(f checkFlags) report.TextOptions {
	o := report.TextOptions{Width: f.width, Verbose: f.verbose, Kept: f.output != ""}
	if f.output == "" {
		o.Width, o.Colour = c.width(f.width), c.coloured(f.color)
	} else if f.color == "always" {
		o.Colour = c.coloured(f.color)
	}
	return o
}
