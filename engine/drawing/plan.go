package drawing

import (
	"math"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
)

// The sizes of a plan, in pixels.
const (
	planHigh, planPipe = 150.0, 16.0
	planLeast          = 24.0
)

// Plan draws the exhaust along the foot, from the engine at the left to the tail at the right, and above it each thing as far away as
// it is: hatched from the pipe up to where nothing may be, shaded up to where it should not be without a shield.
func Plan(x *sheet.Plan, o Options) string {
	c := &canvas{id: o.ID}
	c.hatching()
	left, right, top := 10.0, o.Width-10, 44.0
	foot := top + planHigh
	scale, end := planHigh/planEnd(x), planEnd(x)
	each := math.Max(planLeast, (right-left)/float64(max(1, len(x.Things))))
	c.rect(left, foot, right-left, planPipe, 4, shape{fill: "ink"})
	c.text((left+right)/2, foot+12.5, letters{size: 11, anchor: "middle", bold: true, light: true}, "exhaust: engine at the left, tail at the right")
	zone, from := "", left
	for i := range x.Things {
		t := &x.Things[i]
		at := left + each*(float64(i)+0.5)
		if t.Zone != zone || i == 0 {
			from, zone = left+each*float64(i), t.Zone
			c.zone(x, i, from, each, top, foot)
		}
		c.thing(t, i, at, math.Min(each-6, 40), foot, scale, end)
	}
	y := foot + planPipe + 18
	describes := x.Describes + "."
	columns := 1
	if o.Width >= wide {
		columns = 3
	}
	y = c.planLegend(x, columns, o.Width, y)
	for i := range x.Things {
		describes += " " + legendOf(&x.Things[i]) + "."
	}
	return c.whole(o, c.planSigns(o.Width, y+4), x.Title, describes)
}

// planEnd is the farthest that is drawn: what lies farther stands at the rim.
func planEnd(x *sheet.Plan) float64 {
	limit := 0.0
	for i := range x.Things {
		for _, v := range []float64{x.Things[i].Fine, x.Things[i].Stop} {
			if !math.IsNaN(v) {
				limit = math.Max(limit, v)
			}
		}
	}
	if limit == 0 {
		limit = 0.1
	}
	return farLimits * limit
}

// zone names a part of the vehicle over the things that lie in it.
func (c *canvas) zone(x *sheet.Plan, first int, from, each, top, foot float64) {
	n := 1
	for first+n < len(x.Things) && x.Things[first+n].Zone == x.Things[first].Zone {
		n++
	}
	if first > 0 {
		c.line(from, top-30, from, foot, shape{stroke: 1, dash: "2 4"})
	}
	name := x.Things[first].Zone
	if name == "" {
		name = "place not known"
	}
	lines := broken(name, each*float64(n)-6, 11, 3)
	if len(lines) > 2 || strings.Contains(strings.Join(lines, ""), "…") {
		return // it stands beside its letter below
	}
	for i, line := range lines {
		c.text(from+3, top-28+float64(i)*12, letters{size: 11, bold: true}, line)
	}
}

// thing draws one thing above the exhaust.
func (c *canvas) thing(t *sheet.Thing, i int, at, wide, foot, scale, end float64) {
	up := func(v float64) float64 { return foot - math.Min(v, end)*scale }
	band := func(from, to float64, fill string) {
		if to > from {
			c.rect(at-wide/2, up(to), wide, up(from)-up(to), 0, shape{fill: fill})
		}
	}
	stop := 0.0
	if !math.IsNaN(t.Stop) {
		stop = t.Stop
		band(0, stop, "bad")
	}
	if !math.IsNaN(t.Fine) {
		band(stop, t.Fine, "shade")
	}
	mark := shape{stroke: 5}
	y := up(end) + letterRound + 4
	if math.IsNaN(t.At) {
		mark = shape{stroke: 1.6, dash: "4 3"}
	} else {
		y = math.Max(y, up(t.At))
		c.line(at, foot, at, y, shape{stroke: 1})
	}
	c.line(at-wide/2, y, at+wide/2, y, mark)
	if t.Shield {
		middle := (foot + y) / 2
		for _, off := range []float64{-2, 2} {
			c.line(at-wide/2, middle+off, at+wide/2, middle+off, shape{stroke: 1.4})
		}
	}
	c.ringed(at, y-letterRound-4, letterOf(i))
}

// legendOf tells a thing in words.
func legendOf(t *sheet.Thing) string {
	text := t.Name + ", " + t.Text
	if t.Zone != "" {
		text = t.Name + " (" + t.Zone + "), " + t.Text
	}
	if t.Shield {
		text += ", behind a shield"
	}
	if t.Bad > 0 {
		text += ", wrong: finding " + strconv.Itoa(t.Bad)
	}
	return text
}

// planLegend tells each letter.
func (c *canvas) planLegend(x *sheet.Plan, columns int, width, y float64) float64 {
	rows := (len(x.Things) + columns - 1) / columns
	room := width / float64(columns)
	end := y
	for column := range columns {
		at := y
		for i := column * rows; i < min(len(x.Things), (column+1)*rows); i++ {
			left := float64(column) * room
			c.ringed(left+letterRound+2, at, letterOf(i))
			for k, line := range broken(legendOf(&x.Things[i]), room-34, 12, 3) {
				if k > 0 {
					at += 14
				}
				c.text(left+26, at+4, letters{size: 12, bold: x.Things[i].Bad > 0}, line)
			}
			at += legendLine
		}
		end = math.Max(end, at)
	}
	return end
}

// planSigns say what the parts of a plan mean.
func (c *canvas) planSigns(width, y float64) float64 {
	at := 10.0
	for _, s := range []struct {
		text string
		draw func(x, y float64)
	}{
		{"nothing may be there", func(x, y float64) { c.rect(x, y, 22, 12, 0, shape{fill: "bad"}) }},
		{"only behind a shield", func(x, y float64) { c.rect(x, y, 22, 12, 0, shape{fill: "shade"}) }},
		{"a shield is there", func(x, y float64) {
			c.line(x, y+4, x+22, y+4, shape{stroke: 1.4})
			c.line(x, y+8, x+22, y+8, shape{stroke: 1.4})
		}},
		{"not measured: ______", func(x, y float64) { c.line(x, y+6, x+22, y+6, shape{stroke: 1.6, dash: "4 3"}) }},
	} {
		room := 30 + float64(len([]rune(s.text)))*6.4 + 14
		if at > 10 && at+room > width {
			at, y = 10, y+18
		}
		s.draw(at, y)
		c.text(at+28, y+10, letters{size: 11}, s.text)
		at += room
	}
	return y + 22
}

// joinedWords joins what is there with a comma.
func joinedWords(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}
