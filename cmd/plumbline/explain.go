package main

import (
	"encoding/json"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
)

// explanation is what is known of one name: the same record feeds text and JSON.
type explanation struct {
	Name string `json:"name"`
	// Kind is rule, pack, limit, table, derived value or fact.
	Kind  string `json:"kind"`
	Title string `json:"title"`
	// Facets are what there is to say, in order.
	Facets []facet `json:"facets"`
	// Design is how it came out in a design, a line each.
	Design []string `json:"in_design,omitempty"`
}

// facet is one thing to say about a name.
type facet struct {
	Label string   `json:"label"`
	Text  []string `json:"text"`
}

// add adds a facet when there is something to say.
func (e *explanation) add(label string, text ...string) {
	var said []string
	for _, t := range text {
		if t = strings.TrimSpace(t); t != "" {
			said = append(said, t)
		}
	}
	if len(said) > 0 {
		e.Facets = append(e.Facets, facet{label, said})
	}
}

// explainFlags are the flags of explain.
type explainFlags struct {
	units         string
	asJSON        bool
	noAssumptions bool
	width         int
	rules         []string
}

// explainVerb explains a name.
func (c *Command) explainVerb() *cobra.Command {
	var f explainFlags
	cmd := &cobra.Command{
		Use:   "explain NAME [DESIGN]",
		Short: "Explain a rule, pack, limit, table, derived value or fact; with a design, how it came out there",
		Example: "  plumbline explain fuel/delivery.flow-at-full-load truck.yaml\n  plumbline explain at.full_load.fuel_demand truck.yaml\n" +
			"  plumbline explain limit.flow_reserve\n  plumbline explain design.pump.curve",
		Args: cobra.RangeArgs(1, 2),
		RunE: func(_ *cobra.Command, args []string) error { return c.explain(args, f) },
	}
	flags := cmd.Flags()
	flags.BoolVar(&f.asJSON, "json", false, "print JSON")
	flags.StringVar(&f.units, "units", "both", "us, metric or both")
	flags.BoolVar(&f.noAssumptions, "no-assumptions", false, "leave open what a pack would assume")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	return cmd
}

func (c *Command) explain(args []string, f explainFlags) error {
	units, err := unitSystem(f.units)
	if err != nil {
		return err
	}
	lib, err := c.load(f.rules)
	if err != nil {
		return err
	}
	g, err := newGlossary(lib)
	if err != nil {
		return failure(err)
	}
	found := g.find(args[0])
	if len(found) == 0 {
		if near := document.Nearest(args[0], g.names()); near != "" {
			return inputError("there is nothing named %q; did you mean %s?", document.Cut(args[0]), near)
		}
		return inputError("there is nothing named %q; names are a rule (fuel/delivery.flow-at-full-load), a pack, limit.NAME, table.NAME, "+
			"a derived value (at.idle.fuel_demand) or a fact (design.pump.curve)", document.Cut(args[0]))
	}
	if len(args) == 2 {
		design, err := c.design(args[1])
		if err != nil {
			return err
		}
		here := &inDesign{design: design, library: lib.Library,
			options: engine.Options{Units: units, NoAssumptions: f.noAssumptions, Today: c.Now()}}
		for i := range found {
			found[i].Design = here.lines(&found[i], args[0])
		}
	}
	return c.printExplanations(found, f)
}

// design reads one design; - is the standard input.
func (c *Command) design(arg string) (*schema.Design, error) {
	in := input{name: arg, path: arg}
	if arg == "-" {
		in = input{name: stdinName}
	}
	data, err := c.read(in)
	if err != nil {
		return nil, err
	}
	d, err := schema.Load(in.name, data)
	if err != nil {
		return nil, &exitError{code: c.showResult(&result{input: in, err: err, data: data})}
	}
	return d, nil
}

func (c *Command) printExplanations(list []explanation, f explainFlags) error {
	if f.asJSON {
		e := json.NewEncoder(c.Stdout)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		if err := e.Encode(list); err != nil {
			return failure(err)
		}
		return nil
	}
	p := report.NewPrinter(c.Stdout, c.width(f.width), false)
	for i, x := range list {
		if i > 0 {
			p.Blank()
		}
		p.Para(0, 2, x.Name+", a "+x.Kind+": "+x.Title)
		for _, facet := range x.Facets {
			if len(facet.Text) == 1 {
				p.Para(2, 4, facet.Label+": "+facet.Text[0])
				continue
			}
			p.Para(2, 4, facet.Label+":")
			for _, line := range facet.Text {
				p.Para(4, 6, line)
			}
		}
		if len(x.Design) > 0 {
			p.Blank()
			p.Para(0, 0, "In this design")
		}
		for _, line := range x.Design {
			depth := len(line) - len(strings.TrimLeft(line, " "))
			p.Para(2+min(depth, 24), 4+min(depth, 24), visible(line))
		}
	}
	if err := p.Flush(); err != nil {
		return failure(err)
	}
	return nil
}
