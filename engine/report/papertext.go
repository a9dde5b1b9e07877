package report

import (
	"encoding/csv"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"plumbline/engine/sheet"
)

// paperText writes a paper for a terminal or a plain printer: tables in columns where they fit, else a card for each row.
func paperText(w io.Writer, paper *sheet.Paper, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	p.Heading(clean(paper.Title) + ": " + clean(paper.About))
	if paper.Use != "" {
		p.Para(0, 0, clean(paper.Use))
	}
	for i := range paper.Blocks {
		b := &paper.Blocks[i]
		if drawnOnly(b) {
			continue // its readings stand in a table
		}
		p.Blank()
		p.Heading(clean(b.Heading))
		for _, text := range b.Paras {
			p.Para(0, 0, clean(text))
		}
		if b.Table != nil {
			textTable(p, b.Table)
		}
		if b.Sign != "" {
			p.Para(0, 0, clean(b.Sign)+" "+blankLine+blankLine+"  day "+blankLine)
		}
	}
	p.Blank()
	p.Para(0, 0, footWords(&paper.Foot))
	return p.Flush()
}

// drawnOnly reports whether all there is in a block is drawn.
func drawnOnly(b *sheet.Block) bool { return b.Table == nil && len(b.Paras) == 0 && b.Sign == "" }

// leastColumn is the narrowest that a column with more in it than that is printed.
const leastColumn = 9

// textTable prints a table in columns, the wide ones wrapped, or where the page is too narrow for that as cards.
func textTable(p *Printer, t *sheet.Table) {
	widths := columnWidths(t, p.width)
	if widths == nil {
		textCards(p, t)
		return
	}
	heads := make([]string, len(t.Heads))
	copy(heads, t.Heads)
	textRow(p, widths, heads)
	var line []string
	for _, n := range widths {
		line = append(line, strings.Repeat("-", n))
	}
	p.w.WriteString(strings.Join(line, "  ") + "\n")
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Over != "" {
			p.Blank()
			p.Para(0, 2, clean(r.Over))
			continue
		}
		cells := make([]string, len(r.Cells))
		for k := range r.Cells {
			cells[k] = cellWords(&r.Cells[k])
		}
		textRow(p, widths, cells)
		if r.Note != "" {
			p.Para(widths[0]+2, widths[0]+4, t.NoteHead+": "+clean(r.Note))
		}
	}
}

// textRow prints the cells of a row side by side, each wrapped in its column.
func textRow(p *Printer, widths []int, cells []string) {
	columns, most := make([][]string, len(widths)), 1
	for k := range widths {
		if k < len(cells) {
			columns[k] = wrap(cells[k], widths[k], widths[k])
		}
		most = max(most, len(columns[k]))
	}
	for at := range most {
		var line strings.Builder
		for k, n := range widths {
			text := ""
			if at < len(columns[k]) {
				text = columns[k][at]
			}
			line.WriteString(text + strings.Repeat(" ", n-utf8.RuneCountInString(text)+2))
		}
		p.w.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}

// columnWidths shares the width of a page out over the columns: each gets what it needs while there is room, the widest give way
// first. It is nil where not even their longest words fit.
func columnWidths(t *sheet.Table, width int) []int {
	want, least := make([]int, len(t.Heads)), make([]int, len(t.Heads))
	see := func(k int, text string) {
		want[k] = max(want[k], utf8.RuneCountInString(text))
		for _, word := range pieces(text) {
			least[k] = max(least[k], utf8.RuneCountInString(word))
		}
	}
	for k, head := range t.Heads {
		see(k, head)
	}
	for i := range t.Rows {
		for k := range t.Rows[i].Cells {
			see(k, cellWords(&t.Rows[i].Cells[k]))
		}
	}
	sum, floor := 2*(len(want)-1), 2*(len(want)-1)
	for k := range want {
		least[k] = min(max(least[k], min(want[k], leastColumn)), want[k])
		sum, floor = sum+want[k], floor+least[k]
	}
	if floor > width {
		return nil
	}
	for sum > width {
		widest := -1
		for k := range want {
			if want[k] > least[k] && (widest < 0 || want[k] > want[widest]) {
				widest = k
			}
		}
		want[widest]--
		sum--
	}
	return want
}

// textCards prints each row by itself, cell below cell.
func textCards(p *Printer, t *sheet.Table) {
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Over != "" {
			p.Blank()
			p.Para(0, 2, clean(r.Over))
			continue
		}
		for k := range r.Cells {
			text := cellWords(&r.Cells[k])
			switch {
			case k == 0:
				p.Para(indent, inner, text)
			case text != "":
				p.Para(inner, inner+2, t.Heads[k]+": "+text)
			}
		}
		if r.Note != "" {
			p.Para(inner, inner+2, t.NoteHead+": "+clean(r.Note))
		}
	}
}

// paperMarkdown writes a paper as Markdown.
func paperMarkdown(w io.Writer, paper *sheet.Paper) error {
	var b strings.Builder
	b.WriteString("# " + MarkdownText(paper.Title) + ": " + MarkdownText(paper.About) + "\n\n" + MarkdownText(paper.Use) + "\n")
	for i := range paper.Blocks {
		x := &paper.Blocks[i]
		if drawnOnly(x) {
			continue
		}
		b.WriteString("\n## " + MarkdownText(x.Heading) + "\n\n")
		for _, text := range x.Paras {
			b.WriteString(MarkdownText(text) + "\n\n")
		}
		if x.Table != nil {
			markdownTable(&b, x.Table)
		}
		if x.Sign != "" {
			b.WriteString(MarkdownText(x.Sign+" "+blankLine+blankLine+" day "+blankLine) + "\n")
		}
	}
	b.WriteString("\n" + MarkdownText(footWords(&paper.Foot)) + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func markdownTable(b *strings.Builder, t *sheet.Table) {
	heads := noted(t, t.Heads, t.NoteHead)
	line := func(cells []string) {
		for _, c := range cells {
			b.WriteString("| " + MarkdownText(c) + " ")
		}
		b.WriteString(strings.Repeat("| ", len(heads)-len(cells)) + "|\n")
	}
	line(heads)
	b.WriteString(strings.Repeat("|---", len(heads)) + "|\n")
	for i := range t.Rows {
		var cells []string
		if t.Rows[i].Over != "" {
			cells = []string{t.Rows[i].Over}
		}
		for k := range t.Rows[i].Cells {
			cells = append(cells, cellWords(&t.Rows[i].Cells[k]))
		}
		if t.Rows[i].Over == "" {
			cells = noted(t, cells, t.Rows[i].Note)
		}
		line(cells)
	}
}

// noted adds what stands below a row as a column more, in a table whose rows have notes.
func noted(t *sheet.Table, cells []string, note string) []string {
	if t.NoteHead == "" {
		return cells
	}
	return append(slices.Clip(cells), note)
}

// paperCSV writes the tables of a paper for a machine, each below the other with its heads, an empty row apart; tables with the
// same heads go on as one. Each row has as many fields as the widest, as RFC 4180 asks.
func paperCSV(w io.Writer, paper *sheet.Paper) error {
	var rows [][]string
	var heads []string
	for i := range paper.Blocks {
		t := paper.Blocks[i].Table
		if t == nil {
			continue
		}
		if own := append([]string{"of"}, noted(t, t.Heads, t.NoteHead)...); !slices.Equal(own, heads) {
			if heads != nil {
				rows = append(rows, nil)
			}
			heads = own
			rows = append(rows, own)
		}
		over := ""
		for k := range t.Rows {
			if t.Rows[k].Over != "" {
				over = harmless(clean(t.Rows[k].Over))
				continue
			}
			cells := []string{over}
			for n := range t.Rows[k].Cells {
				cells = append(cells, harmless(clean(t.Rows[k].Cells[n].Text)))
			}
			rows = append(rows, noted(t, cells, harmless(clean(t.Rows[k].Note))))
		}
	}
	widest := 0
	for _, row := range rows {
		widest = max(widest, len(row))
	}
	for i := range rows {
		rows[i] = append(slices.Clip(rows[i]), make([]string, widest-len(rows[i]))...)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// harmless keeps a spreadsheet from taking a text for a formula.
func harmless(text string) string {
	if text != "" && strings.ContainsRune("=+-@", rune(text[0])) && !belowNothing.MatchString(text) {
		return "'" + text
	}
	return text
}

// belowNothing is a number below nothing, alone or with words behind it; what a spreadsheet would reckon with is none.
var belowNothing = regexp.MustCompile(`^-[0-9]+(\.[0-9]+)?( [A-Za-z0-9%/. ]*)?$`)
