package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"plumbline/engine"
)

// Text writes the job sheet of each design, and of several a line for each at the end.
func Text(w io.Writer, reports []*engine.Report, o TextOptions) error {
	return all(w, &textForm{options: o}, reports)
}

// textForm writes sheets one after the other and remembers a line of each for the summary.
type textForm struct {
	options TextOptions
	// always writes the job sheet, also of a planned job.
	always          bool
	lines           []string
	judged, stopped int
	unread          []Problem
}

// textPiece is a sheet, written, or why there is none; line is its line of the summary.
type textPiece struct {
	text     []byte
	line     string
	stopped  bool
	problems []Problem
}

// Piece is the sheet of one design and its line in the list of several.
func (t *textForm) Piece(x Item) any {
	if x.Report == nil {
		return textPiece{line: clean(x.Name) + ": not judged, " + count(len(x.Problems), "problem", "problems") + ".", problems: x.problems()}
	}
	var b bytes.Buffer
	p := NewPrinter(&b, t.options.Width, t.options.Colour)
	s := &jobSheet{Printer: p, verbose: t.options.Verbose, report: x.Report, slip: slipOf(&x), nowhere: nowhere(x.Report)}
	t.faults(p, &x)
	if s.slip != nil && !t.always {
		s.printSlip()
		s.slipped = true
	}
	if s.slip == nil || t.always || s.verbose {
		s.print()
	}
	if err := p.Flush(); err != nil {
		panic(err) // a buffer takes everything
	}
	return textPiece{text: b.Bytes(), line: clean(x.Report.File) + ": " + verdictOf(x.Report, s.slip).line() + ".", stopped: x.Report.Blocking() > 0}
}

// faults says before anything else that rules could not be judged for faults of their packs.
func (t *textForm) faults(p *Printer, x *Item) {
	list := x.problems()
	if x.Report == nil || len(list) == 0 {
		return
	}
	p.Para(0, indent, "Not all is judged: a pack is wrong, and what its rules would find is not known.")
	for i := range list {
		p.Para(indent, inner, problemWords(&list[i]))
	}
	p.Blank()
}

// Head writes nothing: a sheet begins with its verdict.
func (t *textForm) Head(io.Writer) error { return nil }

// Add writes a sheet, parted from the one before.
func (t *textForm) Add(w io.Writer, piece any) error {
	p := piece.(textPiece)
	t.lines = append(t.lines, p.line)
	if p.text == nil {
		if t.options.Kept {
			t.unread = append(t.unread, p.problems...)
		}
		return nil
	}
	if p.stopped {
		t.stopped++
	}
	if t.judged++; t.judged > 1 {
		if err := t.rule(w); err != nil {
			return err
		}
	}
	_, err := w.Write(p.text)
	return err
}

// rule parts two sheets.
func (t *textForm) rule(w io.Writer) error {
	_, err := fmt.Fprintf(w, "\n%s\n\n", strings.Repeat("-", 8))
	return err
}

// Tail writes the list of the designs, when there are several.
func (t *textForm) Tail(w io.Writer) error {
	p := NewPrinter(w, t.options.Width, t.options.Colour)
	if t.judged > 0 && len(t.lines) > 1 {
		if err := t.rule(w); err != nil {
			return err
		}
		for _, line := range t.lines {
			p.Para(0, indent, line)
		}
		p.Para(0, indent, fmt.Sprintf("%s judged; %s.", count(t.judged, "design", "designs"), stoppedWords(t.stopped)))
	}
	for i := range t.unread {
		if i == 0 {
			if len(t.lines) > 1 || t.judged > 0 {
				p.Blank()
			}
			p.Heading("Not judged, because of these problems")
		}
		p.Para(indent, inner, problemWords(&t.unread[i]))
	}
	return p.Flush()
}

// problemWords say where a problem is and what it is.
func problemWords(x *Problem) string {
	where := clean(x.Design)
	if x.File != "" {
		where = clean(x.File)
	}
	if x.Line > 0 {
		where += fmt.Sprintf(":%d", x.Line)
	}
	return where + ": " + sentence(x.Message)
}
