package report

import (
	"strconv"

	"plumbline/engine"
	"plumbline/engine/sheet"
)

// Style is the style sheet that all pages share.
func Style() string { return pageStyle }

// Rest says what comes after the headline: what will stop the job later, and how much is asked. The slip is that of a planned job; nil
// for any other.
func Rest(r *engine.Report, slip *sheet.Slip) string { return verdictOf(r, slip).rest() }

// PaperBody is a paper as markup within a page, below a heading of level two.
func PaperBody(paper *sheet.Paper) string {
	var p page
	p.el("h2", "", paper.Title)
	p.el("p", "", paper.About)
	p.el("p", "", paper.Use)
	for i := range paper.Blocks {
		p.block(&paper.Blocks[i], "h3", paper.Name+"-"+strconv.Itoa(i+1))
	}
	p.el("p", `class="small"`, footWords(&paper.Foot))
	return p.String()
}

// Pictures are the drawings of a block of a paper but its ways, as markup.
func Pictures(b *sheet.Block, id string) string {
	var p page
	p.pictures(b, id)
	return p.String()
}
