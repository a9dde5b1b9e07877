package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/spf13/cobra"

	"plumbline/engine"
	"plumbline/engine/report"
)

// checkFlags are the flags of check.
type checkFlags struct {
	format, output, units, stage, color, since string
	noAssumptions, verbose                     bool
	width                                      int
	rules, regions                             []string
}

// checkVerb judges designs.
func (c *Command) checkVerb() *cobra.Command {
	var f checkFlags
	cmd := &cobra.Command{
		Use:   "check DESIGN...",
		Short: "Judge designs: what is wrong, what is not known, what to do, and why",
		Long: "Check judges one or more designs. A design is a file, a folder (every .yaml, .yml and .json file below it) or - for " +
			"the standard input. A file that cannot be read as a design does not stop the others." + sinceLong,
		Example: "  plumbline check truck.yaml\n  plumbline check --units us --no-assumptions designs\n  plumbline check --format sarif --output findings.sarif designs\n  plumbline check --since before.json designs",
		Args:    wants("which designs to judge", true),
		RunE:    func(_ *cobra.Command, args []string) error { return c.check(args, f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.format, "format", "text", "text, json, sarif or markdown")
	flags.StringVarP(&f.output, "output", "o", "", "write the report into this file")
	flags.StringVar(&f.units, "units", "both", "us, metric or both")
	flags.StringVar(&f.stage, "stage", "", "judge as if the job were planned, ordered, built, started or handed_over")
	flags.StringVar(&f.since, "since", "", "show only what is new against this report, stored earlier with --format json; an old danger of fire, poisoning or loss of control still blocks")
	flags.BoolVar(&f.noAssumptions, "no-assumptions", false, "leave open what a pack would assume")
	flags.BoolVarP(&f.verbose, "verbose", "v", false, "also list what passed, the facts behind findings and every question")
	flags.StringVar(&f.color, "color", "auto", "auto, always or never; colour only repeats what a word says")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	regionFlag(cmd, &f.regions)
	return cmd
}

func (c *Command) check(args []string, f checkFlags) error {
	options, err := c.judgeOptions(f)
	if err != nil {
		return err
	}
	stored, err := storedReport(f.since)
	if err != nil {
		return err
	}
	list, wrong := inputs(args)
	if err := cmp.Or(spareStored(f.output, f.since), c.spareWork(f.output)); err != nil {
		return err
	}
	list = apart(apart(list, f.since), f.output)
	if err := spare(f.output, list); err != nil {
		return err
	}
	results := c.readAll(list)
	lib, err := c.loadToJudge(f.rules)
	if err != nil {
		return err
	}
	if options.Regions, err = c.regions(lib.Library, f.regions); err != nil {
		return err
	}
	c.judgeAll(lib.Library, results, options)
	if err := spare(f.output, templates(results)); err != nil {
		return err
	}
	code := exitClear
	for _, err := range wrong {
		code = max(code, c.exit(err))
	}
	var reports []*engine.Report
	for i := range results {
		r := &results[i]
		code = max(code, c.showResult(r))
		if r.report != nil {
			reports = append(reports, r.report)
		}
	}
	changes, err := progress(lib, f.since, stored, reports)
	if err != nil {
		return err
	}
	if changes != nil && changes.Blocks() || changes == nil && anyBlocks(reports) {
		code = max(code, exitBlocked)
	}
	if len(reports) > 0 || f.format != "text" && f.format != "markdown" {
		if err := c.write(lib, reports, changes, f); err != nil {
			return err
		}
	}
	if code != exitClear {
		return &exitError{code: code}
	}
	return nil
}

func anyBlocks(reports []*engine.Report) bool {
	return slices.ContainsFunc(reports, func(r *engine.Report) bool { return r.Blocking() > 0 })
}

// judgeOptions checks the flags.
func (c *Command) judgeOptions(f checkFlags) (engine.Options, error) {
	o := engine.Options{NoAssumptions: f.noAssumptions, Stage: f.stage, Today: c.Now(), Unread: f.verbose || f.format == "json"}
	var err error
	if o.Units, err = unitSystem(f.units); err != nil {
		return o, err
	}
	if f.stage != "" {
		if err := choose("stage", f.stage, "planned", "ordered", "built", "started", "handed_over"); err != nil {
			return o, err
		}
	}
	if f.width < 0 {
		return o, inputError("--width takes a number of characters, not %d", f.width)
	}
	if err := choose("color", f.color, "auto", "always", "never"); err != nil {
		return o, err
	}
	return o, choose("format", f.format, "text", "json", "sarif", "markdown")
}

// write writes the report to the standard output or the file asked for. The
// report is made whole before the file is touched.
func (c *Command) write(lib *library, reports []*engine.Report, changes *report.Progress, f checkFlags) error {
	var b bytes.Buffer
	if err := c.format(&b, lib, reports, changes, f); err != nil {
		return failure(err)
	}
	if f.output == "" {
		if _, err := c.Stdout.Write(b.Bytes()); err != nil {
			return failure(fmt.Errorf("the report cannot be written: %w", reason(err)))
		}
		return nil
	}
	if err := os.WriteFile(f.output, b.Bytes(), 0o644); err != nil {
		return inputError("%s cannot be written: %v", f.output, reason(err))
	}
	return nil
}

func (c *Command) format(w io.Writer, lib *library, reports []*engine.Report, changes *report.Progress, f checkFlags) error {
	if changes != nil {
		return c.formatChanges(w, changes, f)
	}
	switch f.format {
	case "text":
		return report.Text(w, reports, c.textOptions(f))
	case "markdown":
		return report.Markdown(w, reports)
	}
	about, err := lib.about()
	if err != nil {
		return err
	}
	if f.format == "sarif" {
		return report.SARIF(w, reports, about)
	}
	return report.JSON(w, reports, about)
}

// textOptions shape a text for the terminal, or for the file asked for.
func (c *Command) textOptions(f checkFlags) report.TextOptions {
	o := report.TextOptions{Width: f.width, Verbose: f.verbose, Colour: f.color == "always"}
	if f.output == "" {
		o.Width, o.Colour = c.width(f.width), c.coloured(f.color)
	}
	return o
}
