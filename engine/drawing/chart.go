package drawing

import (
	"math"
	"strconv"

	"plumbline/engine/sheet"
)

// The frame of a chart, in pixels: room for the figures at the left, the letters at the top and right, and the figures below.
const (
	chartLeft, chartTop, chartRight, chartBelow = 54.0, 40.0, 24.0, 44.0
	legendLine                                  = 19.0
	letterRound                                 = 8.5
)

// plot is a chart being drawn: its frame and the places of letters, which must not cover each other.
type plot struct {
	*canvas
	chart                    *sheet.Chart
	left, top, right, bottom float64
	x, y                     ticks
	taken                    []sheet.Point
}

// ticks are the marks of an axis, in its unit, and its ends.
type ticks struct {
	low, high float64
	at        []float64
	one       float64
	log       bool
}

// Chart draws lines over two axes. Every line, level and spot bears a letter, told below the frame.
func Chart(x *sheet.Chart, o Options) string {
	c := &canvas{id: o.ID}
	high := math.Min(math.Max(o.Width*0.6, 250), 400)
	p := &plot{canvas: c, chart: x, left: chartLeft, top: chartTop, right: o.Width - chartRight, bottom: chartTop + high}
	p.scales()
	p.frame()
	for i := range x.Levels {
		p.level(&x.Levels[i])
	}
	for i := range x.Lines {
		p.line2(&x.Lines[i])
	}
	y := p.legend(p.bottom + chartBelow)
	for i := range x.Spots {
		p.spot(&x.Spots[i])
	}
	p.letters()
	return c.whole(o, y, x.Title, x.Describes+". "+describeChart(x))
}

// describeChart tells what the letters mean, for those who do not see it.
func describeChart(x *sheet.Chart) string {
	text, n := "", 0
	for _, name := range chartNames(x) {
		text += letterOf(n) + ": " + name + ". "
		n++
	}
	return text + "The figures stand in the table."
}

// chartNames are what is told by a letter, in order.
func chartNames(x *sheet.Chart) []string {
	var out []string
	for _, l := range x.Lines {
		if !l.Again {
			out = append(out, l.Name)
		}
	}
	for _, l := range x.Levels {
		out = append(out, l.Name)
	}
	for _, s := range x.Spots {
		out = append(out, s.Name)
	}
	return out
}

func letterOf(n int) string { return string(rune('A' + n%26)) }

// scales spans the axes.
func (p *plot) scales() {
	var xs, ys []float64
	for _, l := range p.chart.Lines {
		for _, q := range l.Points {
			xs, ys = append(xs, q.X), append(ys, q.Y)
		}
	}
	for _, l := range p.chart.Levels {
		if l.Across {
			ys = append(ys, l.At)
		} else {
			xs = append(xs, l.At)
		}
	}
	for _, s := range p.chart.Spots {
		xs, ys = append(xs, s.At.X), append(ys, s.At.Y)
	}
	p.x, p.y = ticksOf(xs, p.chart.X, (p.right-p.left)/62), ticksOf(ys, p.chart.Y, (p.bottom-p.top)/44)
}

// ticksOf are round marks from nothing, or powers of ten, about so many.
func ticksOf(values []float64, a sheet.Axis, most float64) ticks {
	t := ticks{one: a.One, log: a.Log}
	if t.one == 0 {
		t.one = 1
	}
	low, high := math.Inf(1), 0.0
	for _, v := range values {
		if a.Log && !(v > 0) {
			continue
		}
		low, high = math.Min(low, v/t.one), math.Max(high, v/t.one)
	}
	if a.Log {
		if math.IsInf(low, 0) {
			low, high = 1, 10
		}
		from, to := math.Floor(math.Log10(low)+1e-9), math.Ceil(math.Log10(high)-1e-9)
		to = math.Max(to, from+1)
		for e := from; e <= to; e++ {
			t.at = append(t.at, math.Pow(10, e))
		}
		t.low, t.high = math.Pow(10, from), math.Pow(10, to)
		return t
	}
	if !(high > 0) {
		high = 1
	}
	step := roundStep(high * 1.04 / math.Max(2, math.Floor(most)))
	t.high = math.Ceil(high*1.04/step-1e-9) * step
	for n := 0.0; n*step <= t.high*(1+1e-9); n++ {
		t.at = append(t.at, n*step)
	}
	return t
}

// share is how far along an axis a value in SI lies.
func (t ticks) share(si float64) float64 {
	v := si / t.one
	if t.log {
		return (math.Log10(math.Max(v, t.low/1e3)) - math.Log10(t.low)) / (math.Log10(t.high) - math.Log10(t.low))
	}
	return (v - t.low) / (t.high - t.low)
}

func (p *plot) at(q sheet.Point) (x, y float64) {
	return p.left + p.x.share(q.X)*(p.right-p.left), p.bottom - p.y.share(q.Y)*(p.bottom-p.top)
}

// frame draws the grid with its figures and the names of both sides.
func (p *plot) frame() {
	p.rect(p.left, p.top, p.right-p.left, p.bottom-p.top, 0, shape{stroke: 1, fill: "paper"})
	for _, t := range p.x.at {
		x, _ := p.at(sheet.Point{X: t * p.x.one})
		p.shapeLine(x, p.top, x, p.bottom)
		p.text(x, p.bottom+14, letters{size: 10.5, anchor: "middle", axis: true}, figure(t))
	}
	for _, t := range p.y.at {
		_, y := p.at(sheet.Point{Y: t * p.y.one, X: p.x.low * p.x.one})
		p.shapeLine(p.left, y, p.right, y)
		p.text(p.left-6, y+4, letters{size: 10.5, anchor: "end", axis: true}, figure(t))
	}
	p.text(p.right, p.bottom+32, letters{size: 12, anchor: "end"}, named(p.chart.X))
	p.text(4, 16, letters{size: 12}, named(p.chart.Y))
}

func (p *plot) shapeLine(x1, y1, x2, y2 float64) {
	p.canvas.line(x1, y1, x2, y2, shape{stroke: 1, faint: true})
}

func named(a sheet.Axis) string {
	if a.Unit == "" {
		return a.Name
	}
	return a.Name + ", " + a.Unit
}

// figure writes the mark of a scale; nothing has no sign.
func figure(t float64) string {
	rounded := math.Round(t*1e6) / 1e6
	if rounded == 0 {
		return "0"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// weights are how lines are drawn.
var weights = []shape{{stroke: 1.3}, {stroke: 2, dash: "9 4"}, {stroke: 3.2}}

// line2 draws a line of the chart.
func (p *plot) line2(l *sheet.Line) {
	s := weights[min(max(l.Weight, 0), len(weights)-1)]
	if l.Between {
		s.dash = "2 4"
		s.stroke = math.Min(s.stroke, 2)
	}
	d := ""
	for i, q := range l.Points {
		x, y := p.at(q)
		d += map[bool]string{true: "M", false: "L"}[i == 0] + at("%s %s", x, y)
	}
	p.path(d, s)
}

// level draws a value across the chart; a limit is drawn double.
func (p *plot) level(l *sheet.Level) {
	draw := func(off float64) {
		s := shape{stroke: 1.5, dash: "5 3"}
		if l.Limit {
			s = shape{stroke: 1}
		}
		if l.Across {
			_, y := p.at(sheet.Point{Y: l.At, X: p.x.low * p.x.one})
			p.canvas.line(p.left, y+off, p.right, y+off, s)
			return
		}
		x, _ := p.at(sheet.Point{X: l.At, Y: p.y.low * p.y.one})
		p.canvas.line(x+off, p.top, x+off, p.bottom, s)
	}
	draw(0)
	if l.Limit {
		draw(3)
	}
}

func (p *plot) spot(s *sheet.Spot) {
	x, y := p.at(s.At)
	p.circle(x, y, 5, shape{stroke: 1.5, fill: "paper"})
	p.circle(x, y, 2, shape{fill: "ink"})
}
