package report

import (
	"io"
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
	var p page
	head := pageHead(paper.Title + ": " + paper.About)
	if paper.Small {
		head = strings.Replace(head, "<body>", `<body class="small-page">`, 1)
	}
	p.WriteString(head)
	p.WriteString("<header>\n")
	p.el("h1", "", paper.Title)
	p.el("p", "", paper.About)
	p.el("p", "", paper.Use)
	p.WriteString("</header>\n<main>\n")
	for i := range paper.Blocks {
		p.block(&paper.Blocks[i], "h2", paper.Name+"-"+strconv.Itoa(i+1))
	}
	p.WriteString("</main>\n<footer>\n")
	p.el("p", "", footWords(&paper.Foot))
	p.WriteString("</footer>\n" + pageTail)
	_, err := io.WriteString(w, p.String())
	return err
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
		p.table(b.Table, b.Heading)
	}
	if b.Sign != "" {
		p.WriteString(`<p class="sign">` + htmlText(b.Sign) + ` <span class="blank"></span> day <span class="blank"></span></p>` + "\n")
	}
	p.WriteString("</section>\n")
}

// folded writes a table that is opened by whoever wants it.
func (p *page) folded(b *sheet.Block) {
	p.WriteString("<details><summary>" + htmlText(b.Heading) + "</summary>\n")
	p.table(b.Table, b.Heading)
	p.WriteString("</details>\n")
}

// way draws a way leg by leg, so that a page may end between them: wide, and narrow for a phone. Only one of the two is shown.
func (p *page) way(w *sheet.Way, id string) {
	for leg := range w.Legs {
		p.WriteString("<figure>\n")
		p.either(id+"-"+strconv.Itoa(leg+1), func(o drawing.Options) string {
			o.Leg = leg + 1
			return drawing.Way(w, o)
		})
		p.WriteString("</figure>\n")
	}
}

// table writes a table below a heading whose rows become cards on a narrow screen; the roles keep it a table there for those who hear
// it. A caption that only repeats the heading is heard, not seen.
func (p *page) table(t *sheet.Table, heading string) {
	p.WriteString(`<table role="table">` + "\n")
	if t.Caption == heading {
		p.WriteString("<caption><span class=\"vh\">" + htmlText(t.Caption) + "</span></caption>\n")
	} else {
		p.el("caption", "", t.Caption)
	}
	p.WriteString(`<thead role="rowgroup"><tr role="row">`)
	for _, head := range t.Heads {
		p.WriteString(`<th role="columnheader" scope="col">` + htmlText(head) + "</th>")
	}
	p.WriteString("</tr></thead>\n" + `<tbody role="rowgroup">` + "\n")
	for i := range t.Rows {
		r := &t.Rows[i]
		if r.Over != "" {
			p.WriteString(`<tr class="over" role="row"><th role="rowheader" scope="colgroup" colspan="` + strconv.Itoa(len(t.Heads)) + `">` + htmlText(r.Over) + "</th></tr>\n")
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
	mostUnbroken, mostFigures = 11, 19
	mostBeside                = 32
)

func shortCell(text string) bool {
	n := len([]rune(text))
	return n <= mostUnbroken || n <= mostFigures && strings.ContainsAny(text, "0123456789")
}

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
		p.WriteString(htmlText(c.Text))
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
