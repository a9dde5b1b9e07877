package page

import (
	"html/template"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/drawing"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// ways are the ways of a vehicle, in the order they are gone through, each with the paper that draws it.
var ways = []struct{ key, title, paper string }{
	{"fuel", "Fuel", "fuel"},
	{"current", "Current", "current"},
}

// The widths a way is drawn in: beside the rest of a desk's page, and for a phone.
const (
	wideWay   = 680
	narrowWay = 350
)

// drawn draws the way that is looked at, and names the others.
func drawn(view *desk.View, slip *sheet.Slip, now, file string) (tabs []tab, pictures []template.HTML, about string) {
	at := 0
	for i, w := range ways {
		if w.key == now {
			at = i
		}
	}
	for i, w := range ways {
		t := tab{Key: w.key, Title: w.title, Link: link(file, "way", w.key), Now: i == at}
		tabs = append(tabs, t)
	}
	paper := view.Paper(ways[at].paper)
	if paper == nil {
		return tabs, nil, ""
	}
	o := drawing.Options{Link: func(path string) string { return link(file, "way", ways[at].key, "part", cardPath(path)) + "#card" }}
	for i := range paper.Blocks {
		b := &paper.Blocks[i]
		switch {
		case b.Way != nil:
			if slip != nil {
				b.Way.Judge(slip)
			}
			for leg := range b.Way.Legs {
				pictures = append(pictures, bothWidths(b.Way, leg+1, o, ways[at].key+strconv.Itoa(i)+"-"+strconv.Itoa(leg)))
			}
		case len(pictures) == 0 && len(b.Paras) > 0:
			about = strings.Join(b.Paras, " ")
		}
	}
	return tabs, pictures, about
}

// bothWidths draws one leg for a desk and for a phone; the style sheet shows one of them.
func bothWidths(w *sheet.Way, leg int, o drawing.Options, id string) template.HTML {
	var b strings.Builder
	o.Leg = leg
	for _, x := range []struct {
		class string
		width float64
	}{{"wide", wideWay}, {"narrow", narrowWay}} {
		o.Width, o.ID = x.width, id+"-"+x.class
		b.WriteString(strings.Replace(drawing.Way(w, o), "<svg ", `<svg class="`+x.class+`" `, 1))
	}
	return template.HTML(b.String()) // the drawing escapes what it writes
}

// cardPath is the part whose card opens for a stop.
func cardPath(path string) string {
	if strings.HasSuffix(path, ".fuse") || strings.HasSuffix(path, ".relay") {
		return path
	}
	return partOf(path)
}

// beginnings are the four ways the fuel may run, while nobody said which it is.
func beginnings(view *desk.View) []begin {
	d := view.Design
	if d.Pump.Place.Known() || d.Regulator.Style.Known() || d.ReturnLine.Presence() != schema.NotStated || d.SurgeTank.Presence() == schema.Present {
		return nil
	}
	var out []begin
	for _, x := range drawing.FuelWays() {
		out = append(out, begin{Title: x.Title, Line: x.Says, Picture: template.HTML(x.Picture("begin-" + strconv.Itoa(len(out)+1)))})
	}
	return out
}

// pictures are the drawings of a block, as the papers have them.
func pictures(b *sheet.Block, id string) template.HTML { return template.HTML(report.Pictures(b, id)) }
