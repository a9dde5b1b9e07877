package report

import (
	"io"
	"strconv"
	"strings"

	"plumbline/engine/drawing"
	"plumbline/engine/sheet"
)

// picture is a drawing of a block: drawn to a width, or in a size of its own.
type picture struct {
	draw func(drawing.Options) string
	// own is set for one whose size is its own.
	own bool
}

// pictureOf are the drawings of a block that are whole by themselves, beside a way.
func picturesOf(b *sheet.Block) []picture {
	var out []picture
	if b.Chart != nil {
		out = append(out, picture{draw: func(o drawing.Options) string { return drawing.Chart(b.Chart, o) }})
	}
	if b.Bars != nil {
		out = append(out, picture{draw: func(o drawing.Options) string { return drawing.Bars(b.Bars, o) }})
	}
	if b.Plan != nil {
		out = append(out, picture{draw: func(o drawing.Options) string { return drawing.Plan(b.Plan, o) }})
	}
	if b.Net != nil {
		out = append(out, picture{draw: func(o drawing.Options) string { return drawing.Net(b.Net, o) }})
	}
	if b.Outline != nil {
		out = append(out, picture{draw: func(o drawing.Options) string { return drawing.Outline(b.Outline, o) }, own: true})
	}
	if b.Clock != nil {
		out = append(out, picture{draw: func(o drawing.Options) string { return drawing.Clock(b.Clock, o) }, own: true})
	}
	return out
}

// pictures writes the drawings of a block, each for paper and desk and again for a phone, unless it has a size of its own.
func (p *page) pictures(b *sheet.Block, id string) {
	for i, x := range picturesOf(b) {
		name := id + "-p" + strconv.Itoa(i+1)
		p.WriteString("<figure>\n")
		if x.own {
			p.WriteString(x.draw(drawing.Options{ID: name}) + "\n")
		} else {
			p.either(name, x.draw)
		}
		p.WriteString("</figure>\n")
	}
}

// either writes a drawing wide, and narrow for a phone. Only one of the two is shown.
func (p *page) either(id string, draw func(drawing.Options) string) {
	for _, x := range []struct {
		class string
		width float64
	}{{"wide", wideWay}, {"narrow", narrowWay}} {
		svg := draw(drawing.Options{Width: x.width, ID: id + "-" + x.class})
		p.WriteString(strings.Replace(svg, "<svg ", `<svg class="`+x.class+`" `, 1) + "\n")
	}
}

// paperSVG writes the drawings of a paper alone, one below the other.
func paperSVG(w io.Writer, paper *sheet.Paper) error {
	var list []string
	o := drawing.Options{Width: wideWay, Alone: true}
	for i := range paper.Blocks {
		b := &paper.Blocks[i]
		pictures := picturesOf(b)
		if b.Way != nil {
			pictures = append(pictures, picture{draw: func(o drawing.Options) string { return drawing.Way(b.Way, o) }})
		}
		for _, x := range pictures {
			o.ID = paper.Name + strconv.Itoa(len(list)+1)
			list = append(list, x.draw(o))
		}
	}
	text := strings.Join(list, "")
	if len(list) > 1 {
		o.ID = paper.Name
		text = drawing.Stack(list, paper.Title, o)
	}
	_, err := io.WriteString(w, text+"\n")
	return err
}

// HasDrawing reports whether there is something on a paper to write as svg.
func HasDrawing(paper *sheet.Paper) bool {
	for i := range paper.Blocks {
		if paper.Blocks[i].Way != nil || len(picturesOf(&paper.Blocks[i])) > 0 {
			return true
		}
	}
	return false
}
