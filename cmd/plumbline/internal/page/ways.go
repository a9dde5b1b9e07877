package page

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine"
	"plumbline/engine/drawing"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// way is one of the ways of a vehicle.
type way struct {
	key, title string
	// of draws it of a job that is opened.
	of func(view *desk.View) (list []*sheet.Way, about string)
}

// ways are the ways of a vehicle, in the order they are gone through.
var ways = func() []way {
	out := []way{{"fuel", "Fuel", ofPaper("fuel")}, {"current", "Current", ofPaper("current")}}
	for _, o := range sheet.OtherWays() {
		out = append(out, way{o.Name, strings.ToUpper(o.Name[:1]) + o.Name[1:], func(view *desk.View) ([]*sheet.Way, string) {
			return []*sheet.Way{o.Way(&sheet.Job{Design: view.Design, Report: view.Report, Units: view.Units, Number: numbersOf(view.Report)})}, ""
		}})
	}
	return out
}()

// ofPaper takes the ways of a paper.
func ofPaper(name string) func(view *desk.View) ([]*sheet.Way, string) {
	return func(view *desk.View) (list []*sheet.Way, about string) {
		paper := view.Paper(name)
		if paper == nil {
			return nil, ""
		}
		for i := range paper.Blocks {
			if b := &paper.Blocks[i]; b.Way != nil {
				list = append(list, b.Way)
			} else if len(list) == 0 && about == "" {
				about = strings.Join(b.Paras, " ")
			}
		}
		return list, about
	}
}

// numbersOf finds the numbers of findings in the job sheet.
func numbersOf(r *engine.Report) func(*engine.Finding) int {
	numbers := map[*engine.Finding]int{}
	for i, list := range report.Numbered(r) {
		for _, f := range list {
			numbers[f] = i + 1
		}
	}
	return func(f *engine.Finding) int { return numbers[f] }
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
		tabs = append(tabs, tab{Key: w.key, Title: w.title, Link: link(file, "way", w.key), Now: i == at})
	}
	list, about := ways[at].of(view)
	o := drawing.Options{Link: func(path string) string { return link(file, "way", ways[at].key, "part", cardPath(path)) + "#card" }}
	for i, w := range list {
		drawn := *w // a paper is not changed
		drawn.Legs = slices.Clone(w.Legs)
		for k := range drawn.Legs {
			drawn.Legs[k].Stops = slices.Clone(w.Legs[k].Stops)
		}
		if slip != nil {
			drawn.Judge(slip)
		}
		for leg := range drawn.Legs {
			pictures = append(pictures, bothWidths(&drawn, leg+1, o, ways[at].key+strconv.Itoa(i)+"-"+strconv.Itoa(leg)))
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
		out = append(out, begin{Title: x.Title, Pattern: x.Pattern, Picture: template.HTML(x.Picture("begin-" + strconv.Itoa(len(out)+1)))})
	}
	return out
}

// pictures are the drawings of a block, as the papers have them.
func pictures(b *sheet.Block, id string) template.HTML { return template.HTML(report.Pictures(b, id)) }
