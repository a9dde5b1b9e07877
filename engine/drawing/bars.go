package drawing

import (
	"math"
	"strconv"

	"plumbline/engine/sheet"
)

// The sizes of bars, in pixels.
const (
	barRow, barThick = 46.0, 14.0
	barRoom          = 10.0
)

// Bars draws values against what is fine and where work stops: where it is fine the bar is empty, between fine and stop it is tinted,
// beyond it is hatched. A line is what was expected, a triangle what is.
func Bars(x *sheet.Bars, o Options) string {
	c := &canvas{id: o.ID}
	c.hatching()
	left, right := barRoom, o.Width-barRoom
	low, high := math.NaN(), math.NaN()
	if x.Common {
		low, high = 0, commonEnd(x)
	}
	y := 4.0
	describes := x.Describes + "."
	for i := range x.Rows {
		r := &x.Rows[i]
		from, to := low, high
		if !x.Common {
			from, to = spanOf(r)
		}
		y = c.barOf(r, left, right, from, to, y)
		describes += " " + r.Name + ": " + r.Text + "."
	}
	y = c.barLegend(x, o.Width, y+6)
	return c.whole(o, y, x.Title, describes)
}

// farLimits is how many times the largest limit a common scale goes on: what lies further stands at its end.
const farLimits = 3

// commonEnd is where the one scale of all bars ends.
func commonEnd(x *sheet.Bars) float64 {
	most, limit := 0.0, 0.0
	for i := range x.Rows {
		r := &x.Rows[i]
		for _, v := range []float64{r.FineLow, r.FineHigh, r.StopLow, r.StopHigh} {
			if !math.IsNaN(v) {
				limit = math.Max(limit, v)
			}
		}
		for _, v := range endsOf(r) {
			most = math.Max(most, v)
		}
	}
	if limit > 0 {
		most = math.Min(most, farLimits*limit)
	}
	return most * 1.05
}

// endsOf are the numbers of a bar that are known.
func endsOf(r *sheet.Bar) []float64 {
	var out []float64
	for _, v := range []float64{r.Expected, r.Got, r.FineLow, r.FineHigh, r.StopLow, r.StopHigh} {
		if !math.IsNaN(v) {
			out = append(out, v)
		}
	}
	return out
}

// spanOf is what the scale of one bar spans: all its numbers, with room on either side.
func spanOf(r *sheet.Bar) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range endsOf(r) {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	room := (high - low) * 0.18
	if !(room > 0) {
		room = math.Max(math.Abs(high)*0.2, 1e-6)
	}
	return low - room, high + room
}

// barOf draws one bar below its name.
func (c *canvas) barOf(r *sheet.Bar, left, right, low, high, y float64) float64 {
	name, bold := r.Name, r.Bad > 0
	if r.Bad > 0 {
		name += ", finding " + strconv.Itoa(r.Bad)
	}
	size := 12.0
	room := float64(len([]rune(r.Text)))*size*0.58 + 12
	lines := broken(name, right-left-room, size, 3)
	for i, line := range lines {
		c.text(left, y+12+float64(i)*15, letters{size: size, bold: bold}, line)
	}
	c.text(right, y+12, letters{size: size, anchor: "end", bold: bold}, r.Text)
	y += 18 + float64(len(lines)-1)*15
	x := func(v float64) float64 {
		return left + (math.Min(math.Max(v, low), high)-low)/(high-low)*(right-left)
	}
	c.rect(left, y, right-left, barThick, 0, shape{fill: "paper", stroke: 1})
	part := func(from, to float64, fill string) {
		if to > from {
			c.rect(from, y, to-from, barThick, 0, shape{fill: fill})
		}
	}
	if !math.IsNaN(r.FineLow) {
		part(left, x(r.FineLow), "shade")
	}
	if !math.IsNaN(r.FineHigh) {
		part(x(r.FineHigh), right, "shade")
	}
	if !math.IsNaN(r.StopLow) {
		part(left, x(r.StopLow), "bad")
	}
	if !math.IsNaN(r.StopHigh) {
		part(x(r.StopHigh), right, "bad")
	}
	if !math.IsNaN(r.Expected) {
		c.line(x(r.Expected), y-3, x(r.Expected), y+barThick+3, shape{stroke: 2})
	}
	if !math.IsNaN(r.Got) {
		at := x(r.Got)
		c.path(pointer(at, y+barThick), shape{fill: "ink"})
		c.line(at, y, at, y+barThick, shape{stroke: 1.4, dash: "2 2"})
	}
	return y + barThick + 14
}

// pointer is a triangle below a bar that points up at a place on it.
func pointer(x, y float64) string { return at("M%s %sl-6 10h12z", x, y+1) }

// barLegend says what the parts of a bar mean.
func (c *canvas) barLegend(x *sheet.Bars, width, y float64) float64 {
	at := 10.0
	tell := func(text string, sample func(x, y float64)) {
		room := 30 + float64(len([]rune(text)))*6.4 + 14
		if at > 10 && at+room > width {
			at, y = 10, y+20
		}
		sample(at, y)
		c.text(at+28, y+11, letters{size: 11}, text)
		at += room
	}
	box := func(fill string) func(x, y float64) {
		return func(x, y float64) {
			c.rect(x, y, 22, barThick, 0, shape{fill: "paper", stroke: 1})
			if fill != "" {
				c.rect(x, y, 22, barThick, 0, shape{fill: fill})
			}
		}
	}
	shaded, hatched, expected, got := false, false, false, false
	for i := range x.Rows {
		r := &x.Rows[i]
		shaded = shaded || !math.IsNaN(r.FineLow) || !math.IsNaN(r.FineHigh)
		hatched = hatched || !math.IsNaN(r.StopLow) || !math.IsNaN(r.StopHigh)
		expected, got = expected || !math.IsNaN(r.Expected), got || !math.IsNaN(r.Got)
	}
	if got {
		tell("what is", func(x, y float64) { c.path(pointer(x+11, y), shape{fill: "ink"}) })
	}
	if expected {
		tell("expected", func(x, y float64) { c.line(x+11, y, x+11, y+barThick, shape{stroke: 2}) })
	}
	tell("fine", box(""))
	if shaded {
		tell("find out why", box("shade"))
	}
	if hatched {
		tell("stop", box("bad"))
	}
	return y + 24
}
