package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// explanation is what is known of one name: the same record feeds text and JSON.
type explanation struct {
	glossary.Record
	// Here is how it came out in a design.
	Here *here `json:"in_design,omitempty"`
}

// explanations are records that a design may be added to.
func explanations(list []glossary.Record) []explanation {
	var out []explanation
	for _, r := range list {
		out = append(out, explanation{Record: r})
	}
	return out
}

// explainFlags are the flags of explain.
type explainFlags struct {
	units         string
	all           bool
	tree          bool
	asJSON        bool
	noAssumptions bool
	width         int
	rules         []string
	regions       []string
}

// explainVerb explains a name, or every derived value of a design.
func (c *Command) explainVerb() *cobra.Command {
	var f explainFlags
	cmd := &cobra.Command{
		Use:   "explain NAME|WORDS|NUMBER [DESIGN] | explain --all DESIGN",
		Short: "Explain a rule, pack, limit, table, derived value or fact; with a design, how it came out there",
		Long: "Explain says what a name means: a rule, a pack, a limit, a table, a derived value or a fact.\n\n" +
			"Plain words are searched for: explain hose, explain R9, explain pump flow. A finding is explained by its number in the job sheet: " +
			"explain 3 truck.yaml.\n\n" +
			"The rule language is told by topics: explain " + topicNames() + ". Topics, facts, derived values and the built-in library are explained " +
			"while a pack of the shop's is wrong, too.\n\n" +
			"With a design it says in a sentence how it came out there, then gives the working with the numbers put in. --tree tells the rest: " +
			"a derived value with everything it was computed from, down to the facts and their lines; a rule with the value of each of its " +
			"expressions. --all lists every derived value of a design.",
		Example: "  plumbline explain fuel/delivery.flow-at-full-load truck.yaml\n  plumbline explain at.full_load.fuel_demand truck.yaml\n" +
			"  plumbline explain circuits[0].at.idle.voltage_drop truck.yaml\n  plumbline explain limit.flow_reserve\n" +
			"  plumbline explain design.pump.curve\n  plumbline explain --all truck.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case f.all && len(args) != 1:
				return fmt.Errorf("explain --all takes one design and no name")
			case f.all && f.tree:
				return fmt.Errorf("explain --all lists values; --tree tells one: name it instead of --all")
			case !f.all && len(args) == 0:
				return fmt.Errorf("explain takes a name or plain words, and at most one design")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if f.all {
				return c.explainAll(args[0], f)
			}
			return c.explain(c.askedOf(args), f)
		},
	}
	flags := cmd.Flags()
	flags.BoolVar(&f.all, "all", false, "list every derived value of the design")
	flags.BoolVar(&f.tree, "tree", false, "tell all of it: every reason, and everything a value or finding rests on")
	flags.BoolVar(&f.asJSON, "json", false, "print JSON")
	flags.StringVar(&f.units, "units", "both", "us, metric or both")
	flags.BoolVar(&f.noAssumptions, "no-assumptions", false, "leave open what a pack would assume")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	regionFlag(cmd, &f.regions)
	return cmd
}

// askedOf parts what is asked for from the design: several words are one question, and the last argument is a design
// when a file is named so or it is called as files are.
func (c *Command) askedOf(args []string) []string {
	last := len(args) - 1
	if last == 0 {
		return args
	}
	if isFile := args[last] == "-" || isDesignFile(args[last]); !isFile {
		return []string{strings.Join(args, " ")}
	}
	return []string{strings.Join(args[:last], " "), args[last]}
}

// isDesignFile reports whether an argument names a design: by its ending, or because there is such a file.
func isDesignFile(name string) bool {
	if slices.Contains([]string{".yaml", ".yml", ".json"}, strings.ToLower(filepath.Ext(name))) {
		return true
	}
	info, err := os.Stat(name)
	return err == nil && !info.IsDir()
}

func (c *Command) explain(args []string, f explainFlags) error {
	units, err := unitSystem(f.units)
	if err != nil {
		return err
	}
	if t := explain.TopicNamed(args[0]); t != nil && len(args) == 1 {
		return c.printTopic(t, f)
	}
	lib, err := c.shop.OpenToExplain(f.rules)
	if err != nil {
		return err
	}
	g, err := glossaryOf(lib)
	if err != nil {
		return exit.Failure(err)
	}
	if n, err := strconv.Atoi(args[0]); err == nil {
		if len(args) < 2 {
			return exit.InputError("%s is the number of a finding in a job sheet: name the design too, as in explain %s truck.yaml", document.Cut(args[0]), document.Cut(args[0]))
		}
		return c.explainNumber(n, args, lib, units, f, g)
	}
	found := explanations(g.Find(args[0]))
	if len(found) == 0 && looksLikeName(args[0]) {
		if near := g.Nearest(args[0]); near != "" {
			return exit.InputError("there is nothing named %q; did you mean %s?", document.Cut(args[0]), near)
		}
	}
	if len(found) == 0 {
		return c.search(g, args[0], f)
	}
	var in *inDesign
	if len(args) == 2 {
		if in, err = c.inDesign(args[1], lib, units, f); err != nil {
			return err
		}
		for i := range found {
			if found[i].Here, err = in.here(&found[i], args[0], f.tree); err != nil {
				return exit.Failure(err)
			}
		}
	}
	if f.asJSON {
		return c.printJSON(found)
	}
	if err := c.printExplanations(found, in, f, args); err != nil || in != nil {
		return err
	}
	return c.beside(g, args[0], found, f)
}

// inDesign opens a design to explain how names came out in it.
func (c *Command) inDesign(arg string, lib *shop.Library, units quantity.System, f explainFlags) (*inDesign, error) {
	design, err := c.design(arg)
	if err != nil {
		return nil, err
	}
	o := engine.Options{Units: units, NoAssumptions: f.noAssumptions, Today: c.Now()}
	if o.Regions, err = c.shop.CheckRegions(lib.Library, f.regions); err != nil {
		return nil, err
	}
	if o.Patterns, err = c.shop.OpenPatterns(nil); err != nil {
		return nil, err
	}
	o = c.shop.Defaults(design, o)
	return &inDesign{design: design, library: lib.Library, options: o, session: lib.Session(design, o), labels: labelsOf(design)}, nil
}

// design reads one design; - is the standard input.
func (c *Command) design(arg string) (*schema.Design, error) {
	in := shop.Input{Name: arg, Path: arg}
	if arg == "-" {
		in = shop.Input{Name: shop.StdinName}
	}
	d, files, err := c.shop.Design(in)
	if err != nil {
		return nil, &exit.Error{Code: c.showResult(&result{Input: in, err: err, files: files})}
	}
	return d, nil
}

func (c *Command) printJSON(v any) error {
	c.mode.JSON = true
	e := json.NewEncoder(c.Stdout)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return exit.Failure(err)
	}
	return nil
}

func (c *Command) printExplanations(list []explanation, in *inDesign, f explainFlags, asked []string) error {
	p := report.NewPrinter(c.Stdout, c.width(f.width), false)
	for i, x := range list {
		if i > 0 {
			p.Blank()
		}
		if x.Here != nil && !f.tree {
			(&shorter{&writer{Printer: p, inDesign: in}}).explain(&x)
			allOfIt(p, asked)
			continue
		}
		p.Para(0, 2, x.Name+", a "+x.Kind+": "+x.Title)
		facets, cut := x.Facets, false
		if !f.tree {
			facets, cut = shortFacets(&x)
		}
		w := &writer{Printer: p, inDesign: in, described: map[string]bool{}}
		w.facets(facets)
		if x.Here != nil {
			p.Blank()
			p.Para(0, 0, "In this design")
			w.here(x.Here)
		}
		if cut {
			allOfIt(p, asked)
		}
	}
	if err := p.Flush(); err != nil {
		return exit.Failure(err)
	}
	return nil
}

// allOfIt says how to have all of it told.
func allOfIt(p *report.Printer, asked []string) {
	p.Para(2, 4, "All of it: plumbline explain --tree "+strings.Join(asked, " "))
}
