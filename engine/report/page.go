package report

import (
	_ "embed"
	"html"
	"io"
	"strconv"
	"strings"
)

// pageStyle is the one style sheet of all pages.
//
//go:embed page.css
var pageStyle string

// pageHead begins a page that loads nothing: its policy forbids it.
func pageHead(title string) string {
	return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>` + htmlText(title) + `</title>
<style>
` + pageStyle + `</style>
</head>
<body>
`
}

const pageTail = "</body>\n</html>\n"

// htmlText is a text within a page: nothing in it is markup.
func htmlText(s string) string { return html.EscapeString(clean(s)) }

// page writes pieces of a page.
type page struct {
	strings.Builder
	// small is set for one that is printed on a card.
	small bool
}

// el writes an element with a text in it; attributes are markup and written by us.
func (p *page) el(tag, attributes, text string) {
	if text == "" {
		return
	}
	p.WriteString("<" + tag)
	if attributes != "" {
		p.WriteString(" " + attributes)
	}
	p.WriteString(">" + htmlText(text) + "</" + tag + ">\n")
}

// para writes a paragraph, indented by some blanks, that may begin with a word of weight.
func (p *page) para(indent int, word, text string) {
	p.WriteString(`<p class="in` + strconv.Itoa(min(indent/2, 4)) + `">`)
	if word != "" {
		p.WriteString(`<span class="word">` + htmlText(word) + "</span> ")
	}
	p.WriteString(htmlText(text) + "</p>\n")
}

// tagged writes a paragraph behind a word that stands alone at its left.
func (p *page) tagged(word, text string) {
	p.WriteString(`<p class="tag"><span class="word">` + htmlText(word) + "</span> <span>" + htmlText(text) + "</span></p>\n")
}

// pagePrinter makes a printer whose paragraphs go to a page.
func pagePrinter(p *page) *Printer {
	out := NewPrinter(io.Discard, pageColumns, false)
	out.page = p
	return out
}

// pageColumns is a width for which nothing is shortened: a page wraps by itself.
const pageColumns = 100000
