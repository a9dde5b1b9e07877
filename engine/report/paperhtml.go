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
	p.WriteString(pageHead(paper.Title + ": " + paper.About))
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

// paperSVG writes the drawing of a paper alone; a paper without one says so.
func paperSVG(w io.Writer, paper *sheet.Paper) error {
	for i := range paper.Blocks {
		if way := paper.Blocks[i].Way; way != nil {
			_, err := io.WriteString(w, drawing.Way(way, drawing.Options{Width: wideWay, ID: paper.Name, Alone: true})+"\n")
			return err
		}
	}
	return nil
}

// HasDrawing reports whether there is something on a paper to write as svg.
func HasDrawing(paper *sheet.Paper) bool {
	for i := range paper.Blocks {
		if paper.Blocks[i].Way != nil {
			return true
		}
	}
	return false
}

// block writes a piece of a paper below a heading of a level.
func (p *page) block(b *sheet.Block, heading, id string) {
	p.WriteString("<section aria-labelledby=\"" + id + "\">\n")
	p.el(heading, `id="`+id+`"`, b.Heading)
	for _, text := range b.Paras {
		p.el("p", "", text)
	}
	if b.Way != nil {
		p.way(b.Way, id)
	}
	if b.Table != nil {
		p.table(b.Table)
	}
	if b.Sign != "" {
		p.WriteString(`<p class="sign">` + htmlText(b.Sign) + ` <span class="blank"></span> day <span class="blank"></span></p>` + "\n")
	}
	p.WriteString("</section>\n")
}

// way draws a way leg by leg, so that a page may end between them: wide, and narrow for a phone. Only one of the two is shown.
func (p *page) way(w *sheet.Way, id string) {
	for leg := range w.Legs {
		p.WriteString("<figure>\n")
		for _, x := range []struct {
			class string
			width float64
		}{{"wide", wideWay}, {"narrow", narrowWay}} {
			svg := drawing.Way(w, drawing.Options{Width: x.width, ID: id + "-" + x.class + strconv.Itoa(leg+1), Leg: leg + 1})
			p.WriteString(strings.Replace(svg, "<svg ", `<svg class="`+x.class+`" `, 1) + "\n")
		}
		p.WriteString("</figure>\n")
	}
}

// table writes a table whose rows become cards on a narrow screen; the roles keep it a table there for those who hear it.
func (p *page) table(t *sheet.Table) {
	p.WriteString(`<table role="table">` + "\n")
	p.el("caption", "", t.Caption)
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
		p.WriteString(`<tr role="row">`)
		for k := range r.Cells {
			p.cell(t, k, &r.Cells[k])
		}
		p.WriteString("</tr>\n")
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
