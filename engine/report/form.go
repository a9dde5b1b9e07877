package report

import (
	"cmp"
	"io"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Formats are the formats a run can be written in, the usual one first: of a planned job a slip, of others the job sheet; sheet is
// the job sheet whatever the stage.
var Formats = [...]string{"text", "sheet", "json", "sarif", "markdown", "lines", "html"}

// Item is what became of one design of a run.
type Item struct {
	// Name is what the design was called.
	Name string
	// Report is what was found in it; nil when it could not be judged.
	Report *engine.Report
	// Design is what was judged, where it is at hand.
	Design *schema.Design
	// Sizes finds sizes that would do in it; nil for none.
	Sizes *whatif.Sizer
	// Papers are drawn in a page; other formats leave them out.
	Papers []*sheet.Paper
	// Problems say why it could not be judged, or not by all rules: those of the report, the faults of packs, count too.
	Problems document.Problems
}

// wrong lists why a design could not be judged, or by which rules for faults of their own.
func (x *Item) wrong() document.Problems {
	if x.Report != nil {
		return x.Report.Faults
	}
	return x.Problems
}

// Form writes the designs of a run one after the other, so that none has to be kept until the last is judged.
type Form interface {
	// Piece lays out one design. It may be called by many goroutines at once, for the designs in any order.
	Piece(Item) any
	// Head begins the report, Add puts one piece to it, in the order of the designs, and Tail ends it.
	Head(w io.Writer) error
	Add(w io.Writer, piece any) error
	Tail(w io.Writer) error
}

// NewForm returns the form of one of the Formats.
func NewForm(format string, a About, o TextOptions) Form {
	switch format {
	case "sheet":
		return &textForm{options: o, always: true}
	case "json":
		return &jsonForm{about: a, verbose: o.Verbose}
	case "sarif":
		return &sarifForm{about: a, verbose: o.Verbose}
	case "markdown":
		return &markdownForm{}
	case "lines":
		return linesForm{}
	case "html":
		return &htmlForm{options: o, about: a}
	}
	return &textForm{options: o}
}

// all writes designs that were judged already.
func all(w io.Writer, form Form, reports []*engine.Report) error {
	if err := form.Head(w); err != nil {
		return err
	}
	for _, r := range reports {
		if err := form.Add(w, form.Piece(Item{Name: r.File, Report: r})); err != nil {
			return err
		}
	}
	return form.Tail(w)
}

// problems lays out why a design could not be judged.
func (x *Item) problems() []Problem {
	list := x.wrong()
	out := make([]Problem, 0, len(list))
	for _, p := range list {
		out = append(out, Problem{Design: x.Name, File: p.Place.File, Line: p.Place.Line, Column: p.Place.Column, Path: p.Path, Text: p.Text,
			Message: cmp.Or(p.Message, "it cannot be read")})
	}
	return out
}
