package report

import (
	"bufio"
	"bytes"
	"fmt"
	"io"

	"plumbline/engine"
)

// mostSections is how many designs of a run the summary tells the findings of: the page of a CI run holds about a megabyte.
const mostSections = 100

// Markdown writes a short summary for the page of a CI run: a table of the
// designs, then the findings that stop a job or will.
func Markdown(w io.Writer, reports []*engine.Report) error {
	return all(w, &markdownForm{}, reports)
}

// markdownForm writes the rows of the table as they come and what is below it at the end.
type markdownForm struct {
	below    bytes.Buffer
	sections int
	more     int
	loosened []engine.Loosened
	others   []engine.Overridden
	cautions []engine.CautionFound
}

// markdownPiece is the row of a design and its section below the table.
type markdownPiece struct {
	row, section []byte
	loosened     []engine.Loosened
	others       []engine.Overridden
	cautions     []engine.CautionFound
}

// Piece is the section of one design.
func (m *markdownForm) Piece(x Item) any {
	var row, section bytes.Buffer
	if x.Report == nil {
		fmt.Fprintf(&row, "| %s: not judged, %s | | | | | |\n", MarkdownText(x.Name), count(len(x.Problems), "problem", "problems"))
		markdownProblems(&section, &x)
		return markdownPiece{row: row.Bytes(), section: section.Bytes()}
	}
	r := x.Report
	name := MarkdownText(r.File)
	if r.Title != "" {
		name += ": " + MarkdownText(r.Title)
	}
	fmt.Fprintf(&row, "| %s | %d | %d | %d | %d | %d |\n", name, r.Blocking(),
		r.Count(engine.Fail), r.Count(engine.Warn), r.Count(engine.Open), r.Count(engine.Pass))
	if len(r.Faults) > 0 {
		markdownProblems(&section, &x)
	}
	b := bufio.NewWriter(&section)
	markdownFindings(b, r)
	markdownDoubted(b, r)
	if err := b.Flush(); err != nil {
		panic(err) // a buffer takes everything
	}
	return markdownPiece{row.Bytes(), section.Bytes(), r.Loosened, r.Overridden, r.Cautions}
}

// markdownProblems lists why a design could not be judged.
func markdownProblems(b *bytes.Buffer, x *Item) {
	heading := "Not judged"
	if x.Report != nil {
		heading = "Not judged by all rules"
	}
	fmt.Fprintf(b, "\n### %s: %s\n\n", heading, MarkdownText(x.Name))
	list := x.problems()
	for i := range list {
		if i == mostListed {
			fmt.Fprintf(b, "- and %d more\n", len(list)-mostListed)
			break
		}
		fmt.Fprintf(b, "- %s\n", MarkdownText(problemWords(&list[i])))
	}
}

// Head begins the summary.
func (m *markdownForm) Head(w io.Writer) error {
	_, err := io.WriteString(w, "## Conversion designs\n\n| design | stops the job | wrong | doubtful | open | met |\n|---|---|---|---|---|---|\n")
	return err
}

// Add writes a section, and counts what goes into the table at the end.
func (m *markdownForm) Add(w io.Writer, piece any) error {
	p := piece.(markdownPiece)
	switch {
	case len(p.section) == 0:
	case m.sections == mostSections:
		m.more++
	default:
		m.sections++
		m.below.Write(p.section)
	}
	if m.loosened == nil {
		m.loosened = p.loosened
	}
	m.others = withOverridden(m.others, p.others)
	m.cautions = together(m.cautions, p.cautions)
	_, err := w.Write(p.row)
	return err
}

// Tail ends the summary.
func (m *markdownForm) Tail(w io.Writer) error {
	b := bufio.NewWriter(w)
	if _, err := m.below.WriteTo(b); err != nil {
		return err
	}
	if m.more > 0 {
		fmt.Fprintf(b, "\nWhat was found in %s more stands in the other formats.\n", count(m.more, "design", "designs"))
	}
	markdownLoosened(b, m.loosened)
	markdownOverridden(b, m.others)
	markdownCautions(b, m.cautions)
	return b.Flush()
}
