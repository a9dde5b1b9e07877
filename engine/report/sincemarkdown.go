package report

import (
	"bufio"
	"fmt"
	"io"

	"plumbline/engine"
)

// Markdown writes a summary for the page of a CI run: what is new, the old
// dangers, what is mended, and the counts of each design.
func (c *Progress) Markdown(w io.Writer) error {
	b := bufio.NewWriter(w)
	lead, rest := c.headline()
	fmt.Fprintf(b, "## Conversion designs since %s\n\n**%s** %s\n\n", MarkdownText(c.name), MarkdownText(lead), MarkdownText(rest))
	for _, line := range c.remarks() {
		fmt.Fprintf(b, "%s\n\n", MarkdownText(line))
	}
	fmt.Fprint(b, "| design | new | of them stop | old dangers | mended | in part | as before |\n|---|---|---|---|---|---|---|\n")
	for _, d := range c.designs {
		name, n := MarkdownText(d.report.File), d.counts()
		if d.report.Title != "" {
			name += ": " + MarkdownText(d.report.Title)
		}
		fmt.Fprintf(b, "| %s | %d | %d | %d | %d | %d | %d |\n", name, n.New+n.Worse, n.Blocking, n.Dangerous, n.Mended, n.Milder, n.Unchanged)
	}
	c.markdownSection(b, "New", (*change).fresh)
	c.markdownSection(b, dangersTitle, (*change).dangerous)
	c.markdownMended(b)
	var told []engine.CautionFound
	var others []engine.Overridden
	for i, r := range c.reports() {
		if i == 0 {
			markdownLoosened(b, r.Loosened)
		}
		others = withOverridden(others, r.Overridden)
		told = together(told, r.Cautions)
	}
	markdownOverridden(b, others)
	markdownCautions(b, told)
	return b.Flush()
}

// markdownSection lists findings of every design, at most mostListed of each.
func (c *Progress) markdownSection(b *bufio.Writer, title string, which func(*change) bool) {
	first := true
	for _, d := range c.designs {
		findings, was := findingsOf(d.pick(which))
		causes, unwritten := entries(findings), nowhere(d.report)
		for i, e := range causes {
			if first {
				fmt.Fprintf(b, "\n### %s\n\n", title)
				first = false
			}
			if i == mostListed {
				fmt.Fprintf(b, "- and %d more in %s\n", len(causes)-mostListed, MarkdownText(d.report.File))
				break
			}
			line := markdownEntry(d.report, e, unwritten)
			if text := beforeWords(e.all(), was); text != "" {
				line += " " + MarkdownText(text)
			}
			fmt.Fprintf(b, "- %s\n", line)
		}
	}
}

// markdownMended lists what is mended in every design, at most mostListed of each.
func (c *Progress) markdownMended(b *bufio.Writer) {
	first := true
	for _, d := range c.designs {
		unwritten, told := nowhere(d.report), 0
		list := d.mended()
		for i, x := range list {
			if x.dangerous() {
				continue
			}
			if first {
				fmt.Fprint(b, "\n### Mended or gone\n\n")
				first = false
			}
			if told == mostListed {
				fmt.Fprintf(b, "- and %d more in %s\n", len(list)-i, MarkdownText(d.report.File))
				break
			}
			word, text := x.mendedWords(unwritten, c.fileOf(d))
			fmt.Fprintf(b, "- **%s:** %s\n", word, MarkdownText(text))
			told++
		}
	}
}
