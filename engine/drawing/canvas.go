package drawing

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Options shape a drawing.
type Options struct {
	// Width in pixels of the page; the height follows.
	Width float64
	// ID begins the names within the drawing: several stand in one page.
	ID string
	// Alone is set for a file of its own: it brings its own background.
	Alone bool
	// Leg is the part of a way that is drawn, counted from 1; 0 for all of it.
	Leg int
	// Link is where a tap on the part of a path leads, "" for nowhere; nil for a drawing that is only looked at.
	Link func(path string) string
}

// canvas writes one SVG.
type canvas struct {
	b  strings.Builder
	id string
	// tapped is set within a link.
	tapped bool
}

// whole puts what was drawn into an SVG of a size.
func (c *canvas) whole(o Options, height float64, title, describes string) string {
	var b strings.Builder
	w, h, role := number(o.Width), number(math.Ceil(height)), "img"
	if o.Link != nil {
		role = "group" // what is tapped in it is heard one by one
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s" height="%s" role="%s" aria-labelledby="%s-t %s-d" font-family="system-ui, 'DejaVu Sans', Arial, sans-serif" font-size="12" fill="currentColor"`,
		w, h, w, h, role, o.ID, o.ID)
	if o.Alone {
		b.WriteString(` color="#111"`)
	}
	fmt.Fprintf(&b, `><title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, o.ID, escaped(title), o.ID, escaped(describes))
	if o.Alone {
		fmt.Fprintf(&b, `<rect width="%s" height="%s" fill="#fff"/>`, w, h)
	}
	b.WriteString(c.b.String())
	b.WriteString("</svg>")
	return b.String()
}

// hatching defines the pattern that marks what is wrong.
func (c *canvas) hatching() {
	fmt.Fprintf(&c.b, `<defs><pattern id="%s-bad" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2.5" height="7"/></pattern></defs>`, c.id)
}

// shape is how a shape is drawn.
type shape struct {
	// stroke is the width of its outline, 0 for none.
	stroke float64
	// fill is none, paper, ink, bad, or ink thinned to a tint or a shade; dash a pattern of strokes.
	fill, dash string
	// faint is set for what stays in the background.
	faint bool
}

func (c *canvas) shape(s shape) string {
	var b strings.Builder
	switch s.fill {
	case "ink":
	case "bad":
		fmt.Fprintf(&b, ` fill="url(#%s-bad)"`, c.id)
	case "tint":
		b.WriteString(` fill-opacity="0.06"`)
	case "shade":
		b.WriteString(` fill-opacity="0.22"`)
	case "clear":
		b.WriteString(` fill="transparent"`)
	case "paper":
		b.WriteString(` fill="var(--paper, #fff)"`)
	default:
		b.WriteString(` fill="none"`)
	}
	if s.stroke > 0 {
		fmt.Fprintf(&b, ` stroke="currentColor" stroke-width="%s"`, number(s.stroke))
	}
	if s.dash != "" {
		fmt.Fprintf(&b, ` stroke-dasharray="%s"`, s.dash)
	}
	if s.faint {
		b.WriteString(` opacity="0.3"`)
	}
	return b.String()
}

func (c *canvas) line(x1, y1, x2, y2 float64, s shape) {
	fmt.Fprintf(&c.b, `<line x1="%s" y1="%s" x2="%s" y2="%s"%s/>`, number(x1), number(y1), number(x2), number(y2), c.shape(s))
}

func (c *canvas) rect(x, y, w, h, round float64, s shape) {
	fmt.Fprintf(&c.b, `<rect x="%s" y="%s" width="%s" height="%s" rx="%s"%s/>`, number(x), number(y), number(w), number(h), number(round), c.shape(s))
}

func (c *canvas) circle(x, y, r float64, s shape) {
	fmt.Fprintf(&c.b, `<circle cx="%s" cy="%s" r="%s"%s/>`, number(x), number(y), number(r), c.shape(s))
}

func (c *canvas) path(d string, s shape) { fmt.Fprintf(&c.b, `<path d="%s"%s/>`, d, c.shape(s)) }

// at writes the numbers of a path.
func at(format string, numbers ...float64) string {
	texts := make([]any, len(numbers))
	for i, n := range numbers {
		texts[i] = number(n)
	}
	return fmt.Sprintf(format, texts...)
}

// letters are how a text is written.
type letters struct {
	size   float64
	anchor string // start, middle or end
	bold   bool
	faint  bool
	// axis marks the figures of a scale, which are no readings.
	axis bool
	// name marks what a link is called.
	name bool
	// light writes with the colour of the paper, on a dark ground.
	light bool
}

func (c *canvas) text(x, y float64, l letters, text string) {
	fmt.Fprintf(&c.b, `<text x="%s" y="%s"`, number(x), number(y))
	if l.size > 0 {
		fmt.Fprintf(&c.b, ` font-size="%s"`, number(l.size))
	}
	if l.anchor != "" {
		fmt.Fprintf(&c.b, ` text-anchor="%s"`, l.anchor)
	}
	if l.bold {
		c.b.WriteString(` font-weight="600"`)
	}
	if l.faint {
		c.b.WriteString(` opacity="0.75"`)
	}
	if l.axis {
		c.b.WriteString(` class="axis"`)
	}
	if l.name {
		c.b.WriteString(` class="name"`)
	}
	if l.light {
		c.b.WriteString(` fill="var(--paper, #fff)"`)
	}
	fmt.Fprintf(&c.b, `>%s</text>`, escaped(text))
}

// broken breaks a text into lines that a width holds, at most some; the last ends in dots where there is more.
func broken(text string, width, size float64, most int) []string {
	room := max(4, int(width/(size*0.56)))
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= room:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	for i, l := range lines {
		if r := []rune(l); len(r) > room {
			lines[i] = string(r[:room-1]) + "…"
		}
	}
	if len(lines) > most {
		last := []rune(lines[most-1])
		lines = append(lines[:most-1:most-1], string(last[:min(len(last), room-1)])+"…")
	}
	return lines
}

// number writes a coordinate, to a tenth.
func number(x float64) string {
	return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64)
}

// escaped is a text within markup: nothing in it is markup, and nothing that cannot be seen.
func escaped(s string) string {
	return html.EscapeString(strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)), " "))
}
