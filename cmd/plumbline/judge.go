package main

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"runtime"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/flow"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/document"
)

// result is what became of one input: a design, then its report, or an error.
type result struct {
	shop.Input
	design *schema.Design
	report *engine.Report
	err    error
	// files are those that were read: the design and what it is based on.
	files shop.Files
	// other is the kind of file it is when it is no design: pack, sources, catalogue, CI action or stored report.
	other string
	// piece is what it adds to the report of the run; nil for a file that is no design.
	piece any
}

// run is one run of check over its designs.
type run struct {
	*Command
	library *shop.Library
	options engine.Options
	form    report.Form
	// output is the file the report is for, "" for the standard output.
	output string

	// partly is true when what could be read of a file with problems is judged: for people, who see both.
	partly bool

	code, judged int
	progress     bool
	// series are the sizes that things are made in, of which those that would do are told.
	series []whatif.Series
	// drawn draws the ways of a design in its report.
	drawn bool
	// habit prints the slip of a planned job in the units its design is written in.
	habit bool
}

// over judges designs: each is read, judged and laid out by one of several workers, written in its turn, and forgotten.
func (r *run) over(designs iter.Seq[shop.Input], w io.Writer) error {
	if err := r.form.Head(w); err != nil {
		return err
	}
	err := flow.Ordered(runtime.GOMAXPROCS(0), designs, r.one, func(x *result) error { return r.take(w, x) })
	if r.progress {
		fmt.Fprint(raw(r.Stderr), "\r\x1b[K")
	}
	if err != nil {
		return err
	}
	return r.form.Tail(w)
}

// one reads, judges and lays out one design.
func (r *run) one(in shop.Input) *result {
	x := r.readOne(in)
	if x.err != nil && (!r.partly || x.other != "" || in.Line > 0) {
		x.design = nil
	}
	options := r.options
	if d := x.design; r.habit && d != nil && r.shop.Defaults(d, options).StageOf(d) == "planned" {
		options.Units = schema.Habit(d)
	}
	if x.design != nil && len(r.series) > 0 {
		options.Things = whatif.Things(x.design, r.series)
	}
	r.judgeOne(r.library.Library, x, options)
	r.lay(x)
	if x.other == "" && x.piece == nil {
		x.piece = r.form.Piece(report.Item{Name: x.Name, Problems: x.problems()})
	}
	return x
}

// lay lays out what was judged.
func (r *run) lay(x *result) {
	defer x.caught()
	if x.report != nil {
		defer func() { x.design = nil }()
		item := report.Item{Name: x.Name, Report: x.report, Design: x.design, Sizes: whatif.NewSizer(x.design, r.series, x.report)}
		if r.drawn {
			item.Papers = r.papers(x)
		}
		x.piece = r.form.Piece(item)
	}
}

// take writes one design and keeps of it only what the exit code needs.
func (r *run) take(w io.Writer, x *result) error {
	r.code = max(r.code, r.showResult(x))
	if x.report != nil && x.report.Blocking() > 0 {
		r.code = max(r.code, exit.Blocked)
	}
	if x.report != nil && len(x.report.Faults) > 0 {
		r.code = exit.Failed
		for _, p := range x.report.Faults {
			r.showProblems(document.Problems{p}, r.library.Text(p.Place.File))
		}
	}
	if err := spare(r.output, x.files.Templates()); err != nil {
		return err
	}
	if r.judged++; r.progress {
		fmt.Fprintf(raw(r.Stderr), "\r%s judged", shop.Counted(r.judged, "design"))
	}
	if x.piece == nil {
		return nil
	}
	return r.form.Add(w, x.piece)
}

// problems say why a design could not be judged.
func (r *result) problems() document.Problems {
	var problems document.Problems
	if r.err == nil || errors.As(r.err, &problems) {
		return problems
	}
	return document.Problems{{Message: r.err.Error()}}
}

// readOne reads one input.
func (c *Command) readOne(in shop.Input) (r *result) {
	r = &result{Input: in}
	defer r.caught()
	r.design, r.files, r.err = c.shop.Design(in)
	switch {
	case r.err == nil || !in.Found:
	case isReport(in.Path):
		r.other = storedKind
	case len(r.files) > 0:
		r.other = shop.OtherKind(in.Name, r.files[0].Data)
	}
	return r
}

// judgeOne judges one input that could be read.
func (c *Command) judgeOne(lib *engine.Library, r *result, o engine.Options) {
	if r.design == nil {
		return
	}
	defer r.caught()
	r.report = lib.Judge(r.design, c.shop.Defaults(r.design, o))
	r.report.File = r.Name
	if r.err == nil { // the lines of problems are shown
		r.files.Forget()
	}
}

// caught makes a panic an error of its input.
func (r *result) caught() {
	if p := recover(); p != nil {
		r.design, r.report, r.err = nil, nil, exit.Failure(fmt.Errorf("%s: %s", r.Name, crash(p)))
	}
}

// showResult prints what is wrong with an input and returns its exit code.
func (c *Command) showResult(r *result) int {
	var problems document.Problems
	switch {
	case r.err == nil:
		return exit.Clear
	case r.other == storedKind:
		fmt.Fprintf(c.Stderr, "%s is not judged: it is a stored report\n", r.Name)
		return exit.Clear
	case r.other != "":
		fmt.Fprintf(c.Stderr, "%s is not judged: it is no design but a file of a %s\n", r.Name, r.other)
		return exit.Clear
	case errors.As(r.err, &problems):
		if r.report != nil {
			fmt.Fprintf(c.Stderr, "%s has %s; what could be read of it is judged, the rest counts as not known\n", r.Name, shop.Counted(len(problems), "problem"))
		} else {
			fmt.Fprintf(c.Stderr, "%s is not judged: it has %s\n", r.Name, shop.Counted(len(problems), "problem"))
		}
		for _, p := range problems {
			c.showProblems(document.Problems{p}, r.files.Text(p.Place.File))
		}
		return exit.Input
	}
	return c.exit(r.err)
}
