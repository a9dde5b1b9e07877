package report

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"plumbline/engine/drawing"
	"plumbline/engine/sheet"
)

// The widths that ways are drawn in: for paper and desk, and for a phone.
const (
	wideWay   = 760
	narrowWay = 350
)

// paperHTML writes a paper as a page of its own.
func paperHTML(w io.Writer, paper *sheet.Paper) error {
	p := page{small: paper.Small}
	head := pageHead(paper.Title + ": " + paper.About)
	if paper.Small {
		head = strings.Replace(head, "<body>", `<body class="small-page">`, 1)
	}
	p.WriteString(strings.Replace(head, "</style>", pageFoot(paper)+"</style>", 1))
	p.WriteString("<header>\n")
	p.el("h1", "", paper.Title)
	p.el("p", "", paper.About)
	p.el("p", "", paper.Use)
	p.WriteString("</header>\n<main>\n")
	for i := range paper.Blocks {
		p.beside(paper.Blocks, i)
		p.block(&paper.Blocks[i], "h2", paper.Name+"-"+strconv.Itoa(i+1))
	}
	p.beside(paper.Blocks, len(paper.Blocks))
	p.WriteString("</main>\n<footer>\n")
	p.el("p", "", footWords(&paper.Foot))
	p.WriteString("</footer>\n" + pageTail)
	_, err := io.WriteString(w, p.String())
	return err
}

// pageFoot prints at the foot of each page which paper it is a page of, beside its number.
func pageFoot(paper *sheet.Paper) string {
	if paper.Small {
		return ""
	}
	text := paper.Title + " · " + paper.Foot.Design
	if paper.Foot.Revision != "" {
		text += " · revision " + paper.Foot.Revision
	}
	return "@media print{@page{@bottom-left{content:" + cssText(text) + "}}}\n"
}

// cssText is a text as a string of a style sheet: what is not plain is written by its number, so nothing in it ends the string or the sheet.
func cssText(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range clean(text) {
		switch {
		case r == ' ' || r == '.' || r == '-' || r == '_' || r == ',' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "\\%06X ", r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// beside opens two columns before the first of several narrow blocks, and closes them behind the last.
func (p *page) beside(blocks []sheet.Block, i int) {
	half := func(i int) bool { return i >= 0 && i < len(blocks) && blocks[i].Half }
	switch {
	case half(i) && !half(i-1):
		p.WriteString("<div class=\"cols\">\n")
	case !half(i) && half(i-1):
		p.WriteString("</div>\n")
	}
}

// block writes a piece of a paper below a heading of a level.
func (p *page) block(b *sheet.Block, heading, id string) {
	if b.Again {
		p.folded(b)
		return
	}
	p.WriteString("<section aria-labelledby=\"" + id + "\">\n")
	p.el(heading, `id="`+id+`"`, b.Heading)
	for _, text := range b.Paras {
		p.el("p", "", text)
	}
	if b.Way != nil {
		p.way(b.Way, id)
	}
	p.pictures(b, id)
	if b.Table != nil {
		columns := pageTable
		if b.Half || p.small {
			columns = halfTable
		}
		p.table(b.Table, b.Heading, columns)
	}
	if b.Sign != "" {
		p.WriteString(`<p class="sign">` + htmlText(b.Sign) + ` <span class="blank"></span> day <span class="blank"></span></p>` + "\n")
	}
	p.WriteString("</section>\n")
}

// folded writes a table that is opened by whoever wants it.
func (p *page) folded(b *sheet.Block) {
	p.WriteString("<details><summary>" + htmlText(b.Heading) + "</summary>\n")
	p.table(b.Table, b.Heading, pageTable)
	p.WriteString("</details>\n")
}

// way draws a way leg by leg, so that a page may end between them: wide, and narrow for a phone. Only one of the two is shown.
func (p *page) way(w *sheet.Way, id string) {
	p.WriteString("<div class=\"legs\">\n")
	for leg := range w.Legs {
		p.WriteString("<figure>\n")
		p.either(id+"-"+strconv.Itoa(leg+1), func(o drawing.Options) string {
			o.Leg = leg + 1
			return drawing.Way(w, o)
		})
		p.WriteString("</figure>\n")
	}
	p.WriteString("</div>\n")
}

// table writes a table below a heading whose rows become cards on a narrow screen; the roles keep it a table there for those who hear
// it. A caption that only repeats the heading is heard, not seen.
func (p *page) table(t *sheet.Table, heading string, letters int) {
	class := ""
	if len(t.Heads) == 2 { // on a phone a name and what it is stand side by side and need no heads
		class = ` class="pair"`
	}
	p.WriteString(`<table role="table"` + class + `>` + "\n")
	if t.Caption == heading {
		p.WriteString("<caption><span class=\"vh\">" + htmlText(t.Caption) + "</span></caption>\n")
	} else {
		p.el("caption", "", t.Caption)
	}
	p.columns(t, letters)
	p.WriteString(`<thead role="rowgroup"><tr role="row">`)
	for _, head := range t.Heads {
		p.WriteString(`<th role="columnheader" scope="col">` + htmlText(head) + "</th>")
	}
	p.WriteString("</tr></thead>\n" + `<tbody role="rowgroup">` + "\n")
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Over != "" {
			p.WriteString(`<tr class="over" role="row"><th role="rowheader" scope="colgroup" colspan="` + strconv.Itoa(len(t.Heads)) + `"><span>` + htmlText(r.Over) + "</span></th></tr>\n")
			continue
		}
		class := ""
		if r.Note != "" {
			class = ` class="noted"`
		}
		p.WriteString(`<tr role="row"` + class + `>`)
		for k := range r.Cells {
			p.cell(t, k, &r.Cells[k])
		}
		p.WriteString("</tr>\n")
		if r.Note != "" {
			p.WriteString(`<tr class="note" role="row"><td role="cell" colspan="` + strconv.Itoa(len(t.Heads)) + `" data-head="` + htmlText(t.NoteHead) + `"><span><i>` + htmlText(t.NoteHead) + `:</i> ` + htmlText(r.Note) + "</span></td></tr>\n")
		}
	}
	p.WriteString("</tbody></table>\n")
}

// mostUnbroken is how long the text of a cell may be that is not broken, mostFigures one with figures in it: a band with its unit.
// What is longer than mostBeside takes the whole width of a card.
const (
	mostUnbroken, mostFigures = 11, 14
	mostBeside                = 32
)

func shortCell(text string) bool {
	n := len([]rune(text))
	return n <= mostUnbroken || n <= mostFigures && strings.ContainsAny(text, "0123456789")
}

// figureAndUnit are never parted at the end of a line.
var figureAndUnit = regexp.MustCompile(`([0-9]) ((?:kPa|psi|Pa|inHg|V|mV|A|mA|L/h|gal/h|mL/min|mL|mm2|mm|m|in|ft|rpm|degC|degF|deg|K|mohm|ohm|AWG|%|ppm|s)\b|%)`)

func (p *page) cell(t *sheet.Table, k int, c *sheet.Cell) {
	tag, role, class := "td", "cell", ""
	if k == 0 {
		tag, role = "th", `rowheader" scope="row`
	}
	switch {
	case c.Text == "" && !c.Blank && !c.Tick && c.Bad == 0:
		class = ` class="none"`
	case c.Unknown:
		class = ` class="unknown"`
	case c.Bad == 0 && shortCell(c.Text):
		class = ` class="short"`
	case len([]rune(c.Text)) > mostBeside:
		class = ` class="long"`
	}
	p.WriteString("<" + tag + ` role="` + role + `"` + class + ` data-head="` + htmlText(t.Heads[k]) + `"><span>`)
	if !unstated(c) {
		p.WriteString(figureAndUnit.ReplaceAllString(htmlText(c.Text), "$1\u00a0$2"))
	}
	if c.Fresh {
		p.WriteString(` <span class="was">new</span>`)
	}
	if c.Was != "" {
		p.WriteString(` <span class="was">was ` + htmlText(c.Was) + "</span>")
	}
	if c.Bad > 0 {
		n := strconv.Itoa(c.Bad)
		p.WriteString(` <strong class="stop">finding ` + n + "</strong>")
	}
	if c.Blank {
		p.WriteString(` <span class="blank"></span><span class="vh">to be written</span>`)
	}
	if c.Tick {
		p.WriteString(` <span class="box"></span><span class="vh">to be ticked</span>`)
	}
	p.WriteString("</span></" + tag + ">")
}
