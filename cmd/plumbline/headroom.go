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

// whatifFlags are the flags of verbs that judge a design again with other facts.
type whatifFlags struct {
	rules, patterns []string
	units           string
	asJSON, all     bool
	width           int
}

func (f *whatifFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.units, "units", "", "us, metric or both (default: the design's own)")
	flags.BoolVar(&f.asJSON, "json", false, "print JSON")
	flags.BoolVar(&f.all, "all", false, "list everything, not only the first of each kind")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	patternsFlag(cmd, &f.patterns)
}

// moving opens library and design, with how its numbers move.
func (c *Command) moving(name string, f whatifFlags) (*again, *whatif.Numbers, error) {
	a, err := c.again(name, f.rules, f.patterns, f.units)
	if err != nil {
		return nil, nil, err
	}
	numbers, err := whatif.ReadNumbers("numbers.yaml", c.Numbers)
	if err != nil {
		return nil, nil, exit.Failure(err)
	}
	return a, numbers, nil
}

// headroomVerb tells how far the numbers of a design may move.
func (c *Command) headroomVerb() *cobra.Command {
	var f whatifFlags
	cmd := &cobra.Command{
		Use:   "headroom DESIGN [FACT...]",
		Short: "Tell how far each number may move before a finding turns",
		Long: "Headroom moves every number of a design up and down and judges again, to the last digit a meter shows: how far it may go before a finding " +
			"turns to worse, and which. First power, fuel, altitude and heat; then what varies, the nearest first, counted in how much such things scatter. " +
			"Numbers that belong together move together: the points of a pump's curve, the filling with the power. A fact may be a part: pump, or circuits[0]. " +
			"What nobody stated is taken as usual. A finding that fails only for a while on the way is found where a number decides it, unless that comes near its bound " +
			"and leaves it twice between two of the values looked at; one that conditions alone decide, where it lasts a twelfth of the way. It ends with 0 when it could judge.",
		Example: "  plumbline headroom truck.yaml\n  plumbline headroom truck.yaml engine.power\n  plumbline headroom --all truck.yaml pump regulator",
		Args:    wants("which design", true),
		RunE:    func(_ *cobra.Command, args []string) error { return c.headroom(args, f) },
	}
	f.add(cmd)
	return cmd
}

func (c *Command) headroom(args []string, f whatifFlags) error {
	a, numbers, err := c.moving(args[0], f)
	if err != nil {
		return err
	}
	var below []string
	for _, name := range args[1:] {
		path := factNamed(a.design, name)
		if path == "" {
			return exit.InputError("the design has no fact or part %q; name one by its path, such as engine.power, or a part by its name", name)
		}
		below = append(below, path)
	}
	h := whatif.Rooms(a.lib, a.design, a.options, numbers, a.series, below)
	if f.asJSON {
		return c.printJSON(h)
	}
	if len(h.Rooms)+len(h.Headlines)+len(h.Still) == 0 {
		return exit.InputError("no number is stated there that could move")
	}
	if err := report.Headroom(c.Stdout, a.design, &h, report.TextOptions{Width: c.width(f.width), Verbose: f.all}); err != nil {
		return exit.Failure(fmt.Errorf("the headroom cannot be written: %w", shop.Reason(err)))
	}
	return nil
}

// factNamed is the path of a fact or part by its path, or of a part by its name, or of a fact below that: fuel pump.fuse.rating.
func factNamed(d *schema.Design, name string) string {
	if path := string(schema.Path("design." + name)); d.FactAt(path) != nil {
		return path
	}
	if d.FactAt(name) != nil {
		return name
	}
	if part := partNamed(d, name); part != "" {
		return part
	}
	for i := strings.LastIndexByte(name, '.'); i > 0; i = strings.LastIndexByte(name[:i], '.') {
		if part := partNamed(d, name[:i]); part != "" && d.FactAt(part+name[i:]) != nil {
			return part + name[i:]
		}
	}
	return ""
}
