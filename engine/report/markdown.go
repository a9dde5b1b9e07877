package report

import (
	"bufio"
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// mostListed is how many findings of one design the summary lists.
const mostListed = 20

// markdownLoosened lists what local packs made milder; it is the same for all designs of a run.
func markdownLoosened(b *bufio.Writer, list []engine.Loosened) {
	if len(list) == 0 {
		return
	}
	fmt.Fprint(b, "\n### Made milder by local packs\n\n")
	for _, x := range list {
		fmt.Fprintf(b, "- %s\n", MarkdownText(loosenedWords(x)))
	}
}

func markdownFindings(b *bufio.Writer, r *engine.Report) {
	var list []*engine.Finding
	for _, p := range parts(r) {
		for _, f := range p.findings {
			if f.Blocks || f.Outcome == engine.Fail {
				list = append(list, f)
			}
		}
	}
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(b, "\n### %s\n\n", MarkdownText(r.File))
	causes, unwritten := entries(list), nowhere(r)
	for i, e := range causes {
		if i == mostListed {
			fmt.Fprintf(b, "- and %d more\n", len(causes)-mostListed)
			break
		}
		fmt.Fprintf(b, "- %s\n", markdownEntry(r, e, unwritten))
	}
}

// markdownDoubted lists what passed on figures that a measurement contradicts.
func markdownDoubted(b *bufio.Writer, r *engine.Report) {
	for i, text := range doubted(r, false) {
		if i == 0 {
			fmt.Fprintf(b, "\n### In doubt: %s\n\n", MarkdownText(r.File))
		}
		fmt.Fprintf(b, "- %s\n", MarkdownText(text))
	}
}

// markdownEntry is one cause on one line; nowhere is the place of what was not written.
func markdownEntry(r *engine.Report, e *entry, nowhere schema.Place) string {
	text := toldWords(e)
	if n := Numbers(e.Finding); n != "" {
		text += " " + n + "."
	}
	if e.Outcome == engine.Open {
		text = "Cannot be judged yet: " + sentence(e.Title)
	}
	if len(e.same) > 0 {
		text += fmt.Sprintf(" The same at %s.", count(len(e.same), "more place", "more places"))
	}
	for _, also := range alsoWords(e) {
		text += " " + also
	}
	if e.Remedy != "" {
		text += " Do: " + sentence(e.Remedy)
	}
	for _, doubt := range doubtWords(e.Finding) {
		text += " " + doubt
	}
	if words := confirmWords(r, e.Finding); words != "" {
		text += " " + words
	}
	if e.Conceded != nil {
		text += " Conceded until " + clean(e.Conceded.Until) + "."
	}
	return fmt.Sprintf("**%s:** %s (%s, %s)", OutcomeWord(e.Outcome), MarkdownText(text), MarkdownText(placeOf(e.Finding, nowhere)), MarkdownText(e.Rule))
}

// MarkdownText escapes what Markdown or HTML would take for markup.
func MarkdownText(s string) string {
	var b strings.Builder
	for _, r := range clean(s) {
		switch r {
		case '<':
			b.WriteString("&lt;")
		case '&':
			b.WriteString("&amp;")
		case '\\', '`', '*', '_', '[', ']', '|', '#', '~', '!', '@':
			b.WriteByte('\\')
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
