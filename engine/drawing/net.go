package drawing

import (
	"math"
	"strconv"

	"plumbline/engine/sheet"
)

// The sizes of a net, in pixels.
const (
	netRow, netIndent, netRail = 34.0, 70.0, 26.0
	netHead                    = 22.0
)

// Net draws what takes power: sources and what hangs on them at the left, one circuit a row, each ending on the rail of its place of
// ground at the right; below them the straps that join the rails.
func Net(x *sheet.Net, o Options) string {
	c := &canvas{id: o.ID}
	c.hatching()
	rails := o.Width - 14 - netRail*float64(max(0, len(x.Grounds)-1))
	rail := func(i int) float64 { return rails + netRail*float64(i) }
	top := 8 + 2*letterRound
	y := top + 10
	describes := x.Describes + "."
	open := map[int]float64{} // how far down the line of each depth has come
	for i := range x.Branches {
		b := &x.Branches[i]
		if b.Source != "" {
			c.text(4, y+14, letters{size: 13, bold: true}, b.Source)
			y += netHead
			open = map[int]float64{0: y - 4}
		}
		left := 14 + netIndent*float64(b.Depth)
		name := joinedWords(b.Name, b.Takes)
		if b.Bad > 0 {
			name += ", wrong: finding " + strconv.Itoa(b.Bad)
		}
		for _, text := range broken(name, rails-left-16, 13, 3) {
			y += 15
			c.text(left+8, y, letters{size: 12, bold: true}, text)
		}
		line := y + 13
		c.line(left, open[b.Depth], left, line, shape{stroke: 3})
		open[b.Depth], open[b.Depth+1] = line, line
		c.branch(b, left, line, rails-26)
		if b.Ground >= 0 {
			c.line(rails-12, line, rail(b.Ground), line, shape{stroke: 1.4})
			c.circle(rail(b.Ground), line, 4, shape{fill: "ink"})
		} else {
			c.text(rails-9, line+4, letters{size: 12, bold: true}, "?")
		}
		describes += " " + joinedWords(b.Name, b.Fuse, b.Relay, b.Takes) + "."
		y += netRow
	}
	y += 4
	for i := range x.Straps {
		s := &x.Straps[i]
		y += 26
		text := s.Name + ": " + s.Text
		if s.Bad > 0 {
			text += ", wrong: finding " + strconv.Itoa(s.Bad)
		}
		for _, line := range broken(text, rails-16, 12, 1) {
			c.text(4, y+4, letters{size: 12, bold: s.Bad > 0}, line)
		}
		from, to := rail(s.From), rail(s.To)
		c.line(from, y, to, y, shape{stroke: 5})
		c.circle(from, y, 5, shape{fill: "ink"})
		c.circle(to, y, 5, shape{fill: "ink"})
		describes += " " + text + "."
	}
	y += 14
	for i := range x.Grounds {
		c.line(rail(i), top, rail(i), y, shape{stroke: 2.4})
		c.ringed(rail(i), top-letterRound, letterOf(i))
	}
	y += 16
	for i, name := range x.Grounds {
		c.ringed(letterRound+4, y, letterOf(i))
		for k, line := range broken("ground: "+name, o.Width-34, 12, 2) {
			y += float64(min(k, 1)) * 14
			c.text(28, y+4, letters{size: 12}, line)
		}
		y += legendLine
	}
	return c.whole(o, math.Ceil(y), x.Title, describes)
}

// branch draws the line of a circuit: its fuse, its relay and what it feeds.
func (c *canvas) branch(b *sheet.Branch, left, y, right float64) {
	c.line(left, y, right, y, shape{stroke: 1.4})
	at := left + 5
	if b.Fuse != "" {
		c.rect(at, y-6, 24, 12, 2, shape{stroke: 1.4, fill: "paper"})
		c.line(at, y, at+24, y, shape{stroke: 1.4})
		c.text(at, y+17, letters{size: 10.5}, b.Fuse)
	}
	if b.Relay != "" {
		at += 31
		c.rect(at, y-7, 26, 14, 2, shape{stroke: 1.4, fill: "paper"})
		c.circle(at+5, y, 1.8, shape{fill: "ink"})
		c.circle(at+21, y, 1.8, shape{fill: "ink"})
		c.line(at+5, y, at+19, y-6, shape{stroke: 1.4})
		c.text(at, y+17, letters{size: 10.5}, b.Relay)
	}
	c.circle(right+6, y, 7, shape{stroke: 1.6, fill: "paper"})
	c.circle(right+6, y, 3, shape{stroke: 1})
}
