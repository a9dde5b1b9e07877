package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/words"
)

// diagnoseFlags are the flags of diagnose.
type diagnoseFlags struct {
	rules         []string
	patterns      []string
	sees          []string
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
			"cheap and safe ones first. What nobody stated is taken as usual, with its spread in the margins. That the vehicle is sound, and that nothing known explains the readings, are answers too.",
		Example: "  plumbline diagnose truck.yaml\n  plumbline diagnose --json truck.yaml\n  plumbline diagnose --sees \"the pressure needle swings\" truck.yaml\n  plumbline explain return-narrow",
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
	flags.StringArrayVar(&f.sees, "sees", nil, "a sign that was seen, heard or smelled, in plain words; may be given more than once")
	rulesFlag(cmd, &f.rules)
	patternsFlag(cmd, &f.patterns)
	return cmd
}

func (c *Command) diagnose(arg string, f diagnoseFlags) error {
	if err := choose("color", f.color, "auto", "always", "never"); err != nil {
		return err
	}
	lib, err := c.shop.Open(f.rules)
	if err != nil {
		return err
	}
	design, err := c.design(arg)
	if err != nil {
		return err
	}
	patterns, err := c.shop.OpenPatterns(f.patterns)
	if err != nil {
		return err
	}
	o := c.shop.Defaults(design, engine.Options{Today: c.Now(), Patterns: patterns, Units: schema.Habit(design), NoAssumptions: f.noAssumptions})
	if f.units != "" {
		if o.Units, err = unitSystem(f.units); err != nil {
			return err
		}
	}
	seen, err := signsOf(lib.Library, f.sees)
	if err != nil {
		return err
	}
	found := diagnose.Run(lib.Library, design, o, seen...)
	if f.asJSON {
		return c.printJSON(found)
	}
	if err := report.Diagnosis(c.Stdout, design, found, report.TextOptions{Width: c.width(f.width), Colour: c.coloured(f.color), Verbose: f.verbose}); err != nil {
		return exit.Failure(fmt.Errorf("the diagnosis cannot be written: %w", shop.Reason(err)))
	}
	return nil
}

// signsOf are the ids of the signs that were meant: by id or by what is said of them, however the letters are written.
func signsOf(lib *engine.Library, said []string) ([]string, error) {
	var out []string
	for _, text := range said {
		id, nearest, most := "", []string(nil), 1
		for _, s := range lib.Signs() {
			for _, form := range append([]string{s.ID, s.Title}, s.Said...) {
				if plainSign(form) == plainSign(text) {
					id = s.ID
				}
			}
			if n := shared(text, s.Title+" "+strings.Join(s.Said, " ")); n > most {
				nearest, most = []string{s.Title}, n
			} else if n == most {
				nearest = append(nearest, s.Title)
			}
		}
		switch {
		case id != "":
			out = append(out, id)
		case len(nearest) == 1:
			return nil, exit.InputError("no sign is called %q; did you mean %q?", text, nearest[0])
		default:
			var all []string
			for _, s := range lib.Signs() {
				all = append(all, s.Title)
			}
			return nil, exit.InputError("no sign is called %q; they are: %s", text, strings.Join(all, "; "))
		}
	}
	return out, nil
}

// plainSign brings a sign to the way it is compared.
func plainSign(text string) string {
	text = words.Plain(strings.NewReplacer("-", " ", ",", "", ".", "").Replace(text))
	return strings.TrimPrefix(text, "the ")
}

// shared is how many words of one text another has too, the short ones aside.
func shared(a, b string) int {
	n, in := 0, strings.Fields(plainSign(b))
	for _, w := range strings.Fields(plainSign(a)) {
		if len(w) > 3 && slices.Contains(in, w) {
			n++
		}
	}
	return n
}
