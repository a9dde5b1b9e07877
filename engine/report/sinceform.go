package report

import (
	"io"
)

// Changed is the form of a comparison with a stored report. Its first sentence counts over all designs, so it keeps them
// until the last is judged, as the stored report is kept.
type Changed struct {
	name, format string
	old          *Document
	about        About
	options      TextOptions
	items        []Item
	progress     *Progress
}

// NewChanged compares a run, made with the library a, with a stored report that is called name. Lines are not compared.
func NewChanged(name string, old *Document, format string, a About, o TextOptions) *Changed {
	return &Changed{name: name, format: format, old: old, about: a, options: o}
}

// Piece keeps a design.
func (c *Changed) Piece(x Item) any { return x }

// Head writes nothing yet.
func (c *Changed) Head(io.Writer) error { return nil }

// Add keeps a design.
func (c *Changed) Add(_ io.Writer, piece any) error {
	c.items = append(c.items, piece.(Item))
	return nil
}

// Tail compares and writes everything.
func (c *Changed) Tail(w io.Writer) error {
	c.progress = newProgress(c.name, c.old, c.items, c.about)
	c.progress.verbose = c.options.Verbose
	switch c.format {
	case "json":
		return c.progress.JSON(w)
	case "sarif":
		return c.progress.SARIF(w)
	case "markdown":
		return c.progress.Markdown(w)
	}
	return c.progress.Text(w, c.options)
}

// Blocks reports, after Tail, whether the job is stopped.
func (c *Changed) Blocks() bool { return c.progress.Blocks() }
