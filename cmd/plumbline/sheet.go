package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// sheetFlags are the flags of sheet.
type sheetFlags struct {
	rules, regions []string
	format, output string
	units          string
	allowance      string
	since          string
	// earlier is what the papers of the design named by since are made of; nil for none.
	earlier *sheet.Job
	width   int
}

// sheetVerb makes the papers for the bench.
func (c *Command) sheetVerb() *cobra.Command {
	var f sheetFlags
	cmd := &cobra.Command{
		Use:   "sheet NAME DESIGN",
		Short: "Make a paper for the bench: " + sheetNames() + "; all makes a folder of them",
		Long: "Sheet makes one paper of a design: " + sheetNames() + "; all makes all of them into a folder. Each expected number is worked out for this vehicle; what nobody stated stands there as a blank. " +
			"In html a paper is one file that loads nothing from elsewhere and prints on A4 or Letter; svg is its drawing alone; csv its tables for a machine. " +
			"A folder takes the place of an earlier one that holds nothing but such papers.",
		Example: "  plumbline sheet wires truck.yaml\n  plumbline sheet fuel truck.yaml --format html --output fuel.html\n  plumbline sheet fuel truck.yaml --format svg > fuel.svg\n  plumbline sheet all truck.yaml --format html --output papers",
		Args:    wants("which paper, and of which design", true),
		RunE:    func(_ *cobra.Command, args []string) error { return c.sheet(args, f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.format, "format", "text", strings.Join(report.PaperFormats[:], ", "))
	flags.StringVarP(&f.output, "output", "o", "", "write the paper into this file")
	flags.StringVar(&f.units, "units", "", "us or metric (default: the design's own)")
	flags.StringVar(&f.allowance, "allowance", "100 mm", "what is added to every wire that is cut, to make its ends")
	flags.StringVar(&f.since, "since", "", "mark what changed since an earlier state of the design: its file as it was then")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	regionFlag(cmd, &f.regions)
	return cmd
}

// sheetNames lists the papers there are.
func sheetNames() string { return strings.Join(sheetKinds(), ", ") }

// sheetKinds are the names of the papers.
func sheetKinds() []string {
	var out []string
	for _, k := range sheet.Kinds() {
		out = append(out, k.Name)
	}
	return out
}

func (c *Command) sheet(args []string, f sheetFlags) error {
	if len(args) != 2 {
		return exit.InputError("name a paper and a design: plumbline sheet wires truck.yaml")
	}
	if err := choose("sheet", args[0], append(sheetKinds(), "all")...); err != nil {
		return err
	}
	if err := choose("format", f.format, report.PaperFormats[:]...); err != nil {
		return err
	}
	job, err := c.job(args[1], f)
	if err != nil {
		return err
	}
	if f.since != "" {
		if f.earlier, err = c.job(f.since, f); err != nil {
			if _, other := storedReport(f.since); other == nil {
				return exit.InputError("%s is a stored report, which holds findings and no facts; papers are compared with the earlier design: --since DESIGN", f.since)
			}
			return err
		}
	}
	if args[0] == "all" {
		return c.allSheets(job, f)
	}
	if err := cmp.Or(spare(f.output, shop.Inputs(append([]string{f.since}, args[1:]...))), c.spareWork(f.output), c.spareOthers(f.output)); err != nil {
		return err
	}
	paper := f.paper(args[0], job)
	if f.format == "svg" && !report.HasDrawing(paper) {
		return exit.InputError("there is no drawing on the sheet %s; choose another format", args[0])
	}
	return c.into(f.output, func(w io.Writer) error {
		if err := report.Paper(w, paper, f.format, report.TextOptions{Width: c.width(f.width)}); err != nil {
			return exit.Failure(fmt.Errorf("the paper cannot be written: %w", shop.Reason(err)))
		}
		return nil
	})
}

// paper makes a paper, with marks where it is to tell what changed.
func (f *sheetFlags) paper(name string, job *sheet.Job) *sheet.Paper {
	paper := sheet.Make(name, job)
	if f.earlier != nil {
		sheet.Since(paper, sheet.Make(name, f.earlier))
	}
	return paper
}

// job judges a design for its papers.
func (c *Command) job(name string, f sheetFlags) (*sheet.Job, error) {
	lib, err := c.shop.Open(f.rules)
	if err != nil {
		return nil, err
	}
	design, err := c.design(name)
	if err != nil {
		return nil, err
	}
	o := c.shop.Defaults(design, engine.Options{Today: c.Now(), Units: schema.Habit(design)})
	if f.units != "" {
		if o.Units, err = unitSystem(f.units); err != nil {
			return nil, err
		}
	}
	if o.Units == quantity.Both {
		if f.units != "" {
			return nil, exit.InputError("a paper is in one system of units: write --units us or --units metric")
		}
		o.Units = quantity.Metric
	}
	if o.Regions, err = c.shop.CheckRegions(lib.Library, f.regions); err != nil {
		return nil, err
	}
	r := lib.Judge(design, o)
	r.File = name
	job := shop.Papers(lib.Library, design, r, o, c.Now())
	if job.Allowance, err = quantity.Parse(f.allowance, quantity.DimLength); err != nil || job.Allowance.SI() < 0 {
		return nil, exit.InputError("--allowance takes a length, such as 100 mm, not %s", f.allowance)
	}
	return job, nil
}

// inReport are the papers that a report draws.
var inReport = []string{"fuel", "pump", "current"}

// papers are those drawn in the report of a design.
func (r *run) papers(x *result) []*sheet.Paper {
	o := r.options
	if o.Units == quantity.Both {
		if o.Units = schema.Habit(x.design); o.Units == quantity.Both {
			o.Units = quantity.Metric
		}
	}
	job := shop.Papers(r.library.Library, x.design, x.report, o, r.Now())
	job.Brief = true
	var out []*sheet.Paper
	for _, name := range inReport {
		if paper := sheet.Make(name, job); report.HasDrawing(paper) {
			out = append(out, paper)
		}
	}
	return out
}
