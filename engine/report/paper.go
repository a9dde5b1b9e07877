package report

import (
	"io"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
)

// PaperFormats are the formats a paper can be written in, the usual one first; svg is the drawing on it alone.
var PaperFormats = [...]string{"text", "markdown", "html", "csv", "svg"}

// Paper writes one paper in one of the PaperFormats.
func Paper(w io.Writer, p *sheet.Paper, format string, o TextOptions) error {
	switch format {
	case "markdown":
		return paperMarkdown(w, p)
	case "html":
		return paperHTML(w, p)
	case "csv":
		return paperCSV(w, p)
	case "svg":
		return paperSVG(w, p)
	}
	return paperText(w, p, o)
}

// blankLine is what stands for a place to write where nothing can be drawn, tickBox for one to tick.
const (
	blankLine = "________"
	tickBox   = "[ ]"
)

// unstated reports whether all there is in a cell is that nobody stated it.
func unstated(c *sheet.Cell) bool { return c.Blank && c.Text == "not known" }

// cellWords are a cell as plain text.
func cellWords(c *sheet.Cell) string {
	text := clean(c.Text)
	if unstated(c) {
		text = "" // the place to write says it
	}
	if c.Bad > 0 {
		text += " (finding " + strconv.Itoa(c.Bad) + ")"
	}
	if c.Fresh {
		text = strings.TrimSpace(text + " (new)")
	}
	if c.Was != "" {
		text = strings.TrimSpace(text + " (was " + clean(c.Was) + ")")
	}
	switch {
	case c.Tick:
		text = strings.TrimSpace(text + " " + tickBox)
	case c.Blank:
		text = strings.TrimSpace(text + " " + blankLine)
	}
	return text
}

// footWords say what a paper was made from.
func footWords(f *sheet.Foot) string {
	parts := []string{clean(f.Design)}
	add := func(before, text string) {
		if text != "" {
			parts = append(parts, before+clean(text))
		}
	}
	add("revision ", f.Revision)
	add("changes told since revision ", f.Since)
	add("library edition ", f.Library)
	add("", f.Day)
	parts = append(parts, "the job is "+stageWords(f.Stage))
	parts = append(parts, count(f.Wrong, "finding wrong", "findings wrong")+", "+count(f.Open, "not judged that stops it", "not judged that stop it"))
	return strings.Join(parts, " · ") + ". " + LocalCodes
}
