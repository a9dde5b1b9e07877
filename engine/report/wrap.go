package report

import (
	"bufio"
	"io"
	"strings"
	"unicode/utf8"

	"plumbline/schema/quantity"
)

const (
	// DefaultWidth is the line length when none is given.
	DefaultWidth = 100
	// leastWidth keeps lines readable on the narrowest screen.
	leastWidth = 32
)

// Printer writes wrapped paragraphs; Flush returns the first error of all of them.
type Printer struct {
	w      *bufio.Writer
	width  int
	colour bool
	// page takes what is printed as paragraphs of a page instead; nil for text.
	page *page
}

// NewPrinter makes a printer of lines of a width, DefaultWidth when it is 0.
func NewPrinter(w io.Writer, width int, colour bool) *Printer {
	if width <= 0 {
		width = DefaultWidth
	}
	return &Printer{w: bufio.NewWriter(w), width: max(width, leastWidth), colour: colour}
}

// Flush ends the output.
func (p *Printer) Flush() error { return p.w.Flush() }

// Blank writes an empty line.
func (p *Printer) Blank() {
	if p.page == nil {
		p.w.WriteByte('\n')
	}
}

// Raw writes a line as it is.
func (p *Printer) Raw(line string) { p.w.WriteString(line + "\n") }

// Para writes a paragraph: its first line indented by first blanks, the others by rest.
func (p *Printer) Para(first, rest int, text string) { p.Marked(first, rest, "", "", text) }

// Heading writes a line in bold when colours are on.
func (p *Printer) Heading(text string) {
	if p.page != nil {
		p.page.el("h2", "", text)
		return
	}
	p.Marked(0, 0, text, styleBold, "")
}

// Marked writes a paragraph that begins with a word, in a style (an escape sequence) when colours are on.
func (p *Printer) Marked(first, rest int, word, style, text string) {
	if p.page != nil {
		p.page.para(first, word, text)
		return
	}
	whole := text
	if word != "" {
		whole = word + " " + text
	}
	for i, line := range wrap(whole, p.width-first, p.width-rest) {
		indent := rest
		if i == 0 {
			indent = first
			if p.colour && style != "" && strings.HasPrefix(line, word) {
				line = style + word + styleEnd + strings.TrimPrefix(line, word)
			}
		}
		p.w.WriteString(strings.Repeat(" ", indent))
		p.w.WriteString(line)
		p.w.WriteByte('\n')
	}
}

// Tagged writes a paragraph behind a word that stands alone at its left, in a style when colours are on.
func (p *Printer) Tagged(indent int, word, style, text string) {
	if p.page != nil {
		p.page.tagged(word, text)
		return
	}
	for i, line := range wrap(text, p.width-indent, p.width-indent) {
		tag := strings.Repeat(" ", indent)
		if i == 0 && word != "" {
			tag = word + strings.Repeat(" ", max(1, indent-utf8.RuneCountInString(word)))
			if p.colour && style != "" {
				tag = style + word + styleEnd + strings.TrimPrefix(tag, word)
			}
		}
		p.w.WriteString(tag)
		p.w.WriteString(line)
		p.w.WriteByte('\n')
	}
}

const (
	styleEnd  = "\x1b[0m"
	styleBold = "\x1b[1m"
	styleFail = "\x1b[1;31m"
	styleWarn = "\x1b[33m"
	styleOpen = "\x1b[36m"
)

// pieces are the words of a text, a number with its unit as one.
func pieces(text string) []string {
	words := strings.Fields(text)
	out := make([]string, 0, len(words))
	for i := 0; i < len(words); i++ {
		n := 0
		if endsInNumber(words[i]) {
			for n = min(mostInUnit, len(words)-i-1); n > 0 && !isUnit(words[i+1:i+1+n]); n-- {
			}
		}
		out = append(out, strings.Join(words[i:i+n+1], " "))
		i += n
	}
	return out
}

// mostInUnit are the most words a unit is written in: lb/(hp h).
const mostInUnit = 2

func endsInNumber(word string) bool {
	word = strings.TrimLeft(word, "(\"-+~<>")
	return word != "" && word[0] >= '0' && word[0] <= '9' && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

// isUnit reports whether some words are a unit, with what stands behind it in a sentence.
func isUnit(words []string) bool {
	text := strings.TrimRight(strings.Join(words, " "), ".,;:?!\"")
	if strings.Count(text, "(") < strings.Count(text, ")") {
		text = strings.TrimRight(strings.TrimSuffix(text, ")"), ".,;:?!\"")
	}
	return quantity.IsUnit(text)
}

// wrap breaks a text into lines of at most first, then rest characters. A number stays with its unit. A word longer than a
// line is broken.
func wrap(text string, first, rest int) []string {
	first, rest = max(first, 8), max(rest, 8)
	var lines []string
	line, room := "", first
	end := func() { lines, line, room = append(lines, line), "", rest }
	for _, word := range pieces(text) {
		n := utf8.RuneCountInString(word)
		if line != "" && utf8.RuneCountInString(line)+1+n > room {
			end()
		}
		for n > room {
			runes := []rune(word)
			line, word = string(runes[:room]), string(runes[room:])
			n -= room
			end()
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}
