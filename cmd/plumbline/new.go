package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// newFlags are the flags of new.
type newFlags struct {
	from, units    string
	lines, sheet   string
	regions, rules []string
	patterns       []string
	width          int
	all            bool
}

// newVerb starts a design, or goes on with one.
func (c *Command) newVerb() *cobra.Command {
	var f newFlags
	cmd := &cobra.Command{
		Use:   "new FILE",
		Short: "Start a design by questions, or go on with one",
		Long: "New asks what a design has to state. Of a planned job first what decides on the parts: what the customer remembers, what is seen, what is printed on the parts; " +
			"then what is due by the next stage, dangers before the rest, and of these what settles most rules. What only the maker's sheet of a part tells is not asked of a planned job, but with --all. " +
			"It writes every answer into FILE at once. Stopped at any time, the same command goes on later; what was written by hand stays as it is.\n\n" +
			"A label is typed as it is printed, 255 lph @ 43 psi, and a piece of line too, hose 3/8 R9. Nothing typed means not known yet. none says that there is none, ? tells where to look and what stays open, back takes the last answer back, stop ends. " +
			"A text that is one of these words is typed in quotes.\n\n" +
			"With --sheet start-up it asks for exactly what the blanks of that paper ask for, in the order they stand there: what was written on paper in the bay goes back into FILE.\n\n" +
			"With --lines it asks nothing but reads a list of parts as people write it, one thing a line, into a new FILE: pump 255 lph @ 43 psi in tank. " +
			"It shows what each line was understood to say; what was not stands as remarks in FILE, and the exit code is 2.",
		Example: "  plumbline new truck.yaml\n  plumbline new --region gb van.yaml\n  plumbline new --from templates/six.yaml truck.yaml\n  plumbline new truck.yaml < answers.txt\n  plumbline new truck.yaml --lines list.txt",
		Args:    wants("one file", false),
		RunE:    func(_ *cobra.Command, args []string) error { return c.newDesign(args[0], f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.from, "from", "", "take every fact from this template and ask only for what it leaves open")
	flags.StringVar(&f.lines, "lines", "", "begin with what this list of plain lines says (- for the standard input) and ask nothing")
	flags.StringVar(&f.sheet, "sheet", "", "ask only what the blanks of this paper ask for: "+sheetNames())
	flags.StringSliceVar(&f.regions, "region", nil, "write these regions into the design instead of asking: gb,de")
	flags.StringVar(&f.units, "units", "both", "us, metric or both: the units of examples")
	flags.BoolVar(&f.all, "all", false, "ask a planned job also for what only the maker's sheet of a part tells")
	flags.IntVar(&f.width, "width", 0, "line length of the text (default: the terminal's, up to 100)")
	rulesFlag(cmd, &f.rules)
	c.shelfFlag(cmd)
	patternsFlag(cmd, &f.patterns)
	return cmd
}

func (c *Command) newDesign(name string, f newFlags) error {
	units, err := unitSystem(f.units)
	if err != nil {
		return err
	}
	if f.sheet != "" {
		if f.lines != "" {
			return exit.InputError("--sheet asks, --lines does not; name one of them")
		}
		if err := choose("sheet", f.sheet, sheetKinds()...); err != nil {
			return err
		}
	}
	if f.width < 0 {
		return exit.InputError("--width takes a number of characters, not %d", f.width)
	}
	lib, err := c.shop.Open(f.rules)
	if err != nil {
		return err
	}
	if _, err := c.shop.CheckRegions(lib.Library, f.regions); err != nil {
		return err
	}
	if f.lines != "" {
		return c.fromLines(name, f)
	}
	draft, err := shop.OpenDraft(name)
	if err != nil {
		return err
	}
	if err := c.begin(draft, f); err != nil {
		return err
	}
	session, err := c.session(draft, lib.Library, units, f)
	if err != nil {
		return err
	}
	return c.interview(session, draft, f)
}

// begin writes what the command line says into the draft, in memory, and refuses a file with problems.
func (c *Command) begin(d *shop.Draft, f newFlags) error {
	if f.from != "" {
		if err := d.Base(f.from); err != nil {
			return err
		}
	}
	design, read, err := c.shop.LoadDraft(d)
	if err != nil {
		return c.refuseDraft(d, read, err)
	}
	if len(f.regions) == 0 {
		return nil
	}
	if named := design.Regions; named.Known() {
		var have []string
		for _, r := range named.Items {
			have = append(have, r.Text())
		}
		if !slices.Equal(have, f.regions) {
			return exit.InputError("%s says already that its regions are %s; change regions in the file", d.Name, cmp.Or(strings.Join(have, ", "), "none"))
		}
		return nil
	}
	return d.Place(f.regions)
}

// refuseDraft shows what is wrong with a file that is to be continued, or with its template.
func (c *Command) refuseDraft(d *shop.Draft, read shop.Files, err error) error {
	var problems document.Problems
	if !errors.As(err, &problems) {
		return exit.InputError("%v", err)
	}
	for _, p := range problems {
		c.showProblems(document.Problems{p}, read.Text(p.Place.File))
	}
	if !d.Began {
		return exit.InputError("%s was not begun: its template has %s; mend the template first", d.Name, shop.Counted(len(problems), "problem"))
	}
	return exit.InputError("%s has %s; mend the file first", d.Name, shop.Counted(len(problems), "problem"))
}

// session begins the questions.
func (c *Command) session(d *shop.Draft, lib *engine.Library, units quantity.System, f newFlags) (*interview.Session, error) {
	o := engine.Options{Units: units, Today: c.Now()}
	var err error
	if o.Patterns, err = c.shop.OpenPatterns(f.patterns); err != nil {
		return nil, err
	}
	var only func(*schema.Design, *engine.Report) []string
	if f.sheet != "" {
		only = func(design *schema.Design, r *engine.Report) []string {
			return sheet.Make(f.sheet, shop.Papers(lib, design, r, c.shop.Defaults(design, o), c.Now())).Blanks()
		}
	}
	asked := c.shop.Interview(lib, o)
	asked.File, asked.Text, asked.All, asked.Only = d.Name, d.Text, f.all, only
	s, err := interview.Begin(asked)
	if err != nil {
		return nil, exit.InputError("%s: %v", d.Name, err)
	}
	return s, nil
}

// interview asks until nothing is left, or the answers end. The file is saved after every answer.
func (c *Command) interview(s *interview.Session, d *shop.Draft, f newFlags) error {
	p := report.NewPrinter(c.Stdout, c.width(f.width), c.coloured("auto"))
	typed := c.typed()
	if err := d.Save(s.Text()); err != nil {
		return err
	}
	greet(p, d)
	lines := bufio.NewScanner(c.Stdin)
	lines.Buffer(nil, document.MaxBytes)
	var asked *interview.Question
	for q := s.Question(); q != nil; q = s.Question() {
		if q != asked {
			report.Ask(p, q)
			asked = q
		}
		if err := c.prompt(p, q); err != nil {
			return err
		}
		if !lines.Scan() {
			fmt.Fprintln(c.Stdout)
			break
		}
		if !typed {
			fmt.Fprintln(c.Stdout, strings.TrimSpace(lines.Text()))
		}
		reply := s.Answer(lines.Text())
		if reply.Changed {
			if err := d.Save(s.Text()); err != nil {
				return err
			}
		}
		if reply.Why {
			report.Reasons(p, q)
		}
		report.Taken(p, reply)
		if reply.Stopped {
			break
		}
	}
	c.end(p, s, d, f)
	if err := lines.Err(); err != nil {
		p.Flush()
		return exit.InputError("the answers cannot be read: %v", err)
	}
	return p.Flush()
}

// typed reports whether answers are typed at a terminal, which shows them; others are repeated after the prompt.
func (c *Command) typed() bool {
	f, ok := c.Stdin.(*os.File)
	return ok && columns(f) > 0
}

// prompt ends what was printed so far with a sign that an answer is expected.
func (c *Command) prompt(p *report.Printer, q *interview.Question) error {
	if err := p.Flush(); err != nil {
		return exit.Failure(err)
	}
	sign := "> "
	if q.Form == interview.Items {
		sign = fmt.Sprintf("%d> ", len(q.Listed)+1)
	}
	_, err := io.WriteString(c.Stdout, sign)
	return err
}

// end says what the file is now and what to do with it.
func (c *Command) end(p *report.Printer, s *interview.Session, d *shop.Draft, f newFlags) {
	p.Blank()
	planned := s.Report().Stage == "planned"
	if planned {
		report.Slip(p, sheet.SlipOf(s.Design(), s.Report(), nil), s.Report())
		p.Blank()
	} else {
		report.Outline(p, s.Report())
	}
	more := len(s.Report().Asked) > 0
	switch q := s.Question(); {
	case q == nil && f.sheet != "":
		p.Para(0, 2, "Nothing else on the sheet "+f.sheet+" asks for a fact; what was passed over is asked again in the next run.")
	case q == nil && more:
		text := "Nothing else is asked in this run; what was passed over is asked again in the next."
		if planned && !f.all {
			text += " What only the maker's sheet of a part tells is asked with --all."
		}
		p.Para(0, 2, text)
	case q == nil:
		p.Para(0, 2, "Nothing is left to ask.")
	case len(q.Listed) > 0:
		last := q.Listed[len(q.Listed)-1]
		p.Para(0, 2, fmt.Sprintf("The list of %s ends with %s, where you stopped; if there are more, add them in the file.", strings.Join(q.Label, ", "), last))
	}
	if !planned {
		p.Para(0, 2, "The whole sheet: plumbline check "+shop.Quoted(d.Name))
	}
	if f.sheet != "" {
		p.Para(0, 2, "The sheet: plumbline sheet "+f.sheet+" "+shop.Quoted(d.Name))
	} else if more {
		p.Para(0, 2, "To go on: plumbline new "+shop.Quoted(d.Name))
	}
}

// greet says what happens with the answers.
func greet(p *report.Printer, d *shop.Draft) {
	doing := "is new"
	if d.Began {
		doing = "is continued"
	}
	p.Para(0, 2, fmt.Sprintf("%s %s. Every answer is written into it at once.", d.Name, doing))
	p.Para(0, 2, "Nothing typed: not known yet. none: there is none. ?: where to look, and what stays open. back: take the last answer back. stop: end, and go on another time.")
}
