package drawing

import (
	"math"

	"plumbline/engine/sheet"
)

// letters puts a letter on each line, level and spot, where it covers no other.
func (p *plot) letters() {
	n := 0
	for i := range p.chart.Lines {
		l := &p.chart.Lines[i]
		if l.Again || len(l.Points) == 0 {
			continue
		}
		var places []sheet.Point
		for _, share := range []float64{0, 1, 0.5, 0.25, 0.75, 0.1, 0.9, 0.35, 0.6} {
			x, y := p.at(along(l.Points, share))
			places = append(places, sheet.Point{X: x, Y: y - 13}, sheet.Point{X: x + 13, Y: y}, sheet.Point{X: x - 13, Y: y})
		}
		p.tag(places, n)
		n++
	}
	for i := range p.chart.Levels {
		l := &p.chart.Levels[i]
		var places []sheet.Point
		if l.Across {
			_, y := p.at(sheet.Point{Y: l.At, X: p.x.low * p.x.one})
			for _, share := range []float64{1, 0.97, 0.9, 0.8, 0.7, 0.6, 0.5} {
				places = append(places, sheet.Point{X: p.left + share*(p.right-p.left) + map[bool]float64{true: 12, false: 0}[share == 1], Y: y})
			}
		} else {
			x, _ := p.at(sheet.Point{X: l.At, Y: p.y.low * p.y.one})
			for _, off := range []float64{0, 9, -9, 18, -18, 27, -27} {
				places = append(places, sheet.Point{X: x + off, Y: p.top - 10})
			}
		}
		p.tag(places, n)
		n++
	}
	for i := range p.chart.Spots {
		x, y := p.at(p.chart.Spots[i].At)
		var places []sheet.Point
		for _, far := range []float64{15, 22, 30} {
			for _, turn := range []float64{-0.6, 0.6, math.Pi - 0.6, math.Pi + 0.6, -math.Pi / 2, math.Pi / 2} {
				places = append(places, sheet.Point{X: x + far*math.Cos(turn), Y: y + far*math.Sin(turn)})
			}
		}
		p.tag(places, n)
		n++
	}
}

// along is the place on a line at a share of its length, in SI of each axis.
func along(points []sheet.Point, share float64) sheet.Point {
	at := share * float64(len(points)-1)
	i := min(int(at), len(points)-2)
	if i < 0 {
		return points[0]
	}
	part := at - float64(i)
	a, b := points[i], points[i+1]
	return sheet.Point{X: a.X + part*(b.X-a.X), Y: a.Y + part*(b.Y-a.Y)}
}

// tag writes a letter in the first of some places that is free, else in that farthest from the others.
func (p *plot) tag(places []sheet.Point, n int) {
	best, far := places[0], -1.0
	for _, q := range places {
		if q.X < p.left-letterRound || q.X > p.right+chartRight-letterRound || q.Y < p.top-chartTop+26 || q.Y > p.bottom-2 {
			continue
		}
		nearest := math.Inf(1)
		for _, t := range p.taken {
			nearest = math.Min(nearest, math.Hypot(t.X-q.X, t.Y-q.Y))
		}
		if nearest > far {
			best, far = q, nearest
		}
		if nearest > 2*letterRound+1 {
			best = q
			break
		}
	}
	p.taken = append(p.taken, best)
	p.ringed(best.X, best.Y, letterOf(n))
}

// ringed writes a letter in a ring.
func (c *canvas) ringed(x, y float64, letter string) {
	c.circle(x, y, letterRound, shape{stroke: 1, fill: "paper"})
	c.text(x, y+4, letters{size: 11, anchor: "middle", bold: true}, letter)
}

// legend tells what the letters mean, and returns where it ends.
func (p *plot) legend(y float64) float64 {
	n := 0
	tell := func(name string, sample func(y float64)) {
		p.ringed(letterRound+3, y+letterRound, letterOf(n))
		sample(y + letterRound)
		for i, line := range broken(name, p.right+chartRight-74, 12, 3) {
			if i > 0 {
				y += 15
			}
			p.text(66, y+letterRound+4, letters{size: 12}, line)
		}
		y += legendLine + 2
		n++
	}
	for i := range p.chart.Lines {
		l := &p.chart.Lines[i]
		if l.Again {
			continue
		}
		s := weights[min(max(l.Weight, 0), len(weights)-1)]
		if l.Between {
			s.dash = "2 4"
		}
		tell(l.Name, func(y float64) { p.canvas.line(26, y, 58, y, s) })
	}
	for i := range p.chart.Levels {
		l := &p.chart.Levels[i]
		tell(l.Name, func(y float64) {
			if l.Limit {
				p.canvas.line(26, y-1.5, 58, y-1.5, shape{stroke: 1})
				p.canvas.line(26, y+1.5, 58, y+1.5, shape{stroke: 1})
				return
			}
			p.canvas.line(26, y, 58, y, shape{stroke: 1.5, dash: "5 3"})
		})
	}
	for i := range p.chart.Spots {
		tell(p.chart.Spots[i].Name, func(y float64) {
			p.circle(42, y, 5, shape{stroke: 1.5, fill: "paper"})
			p.circle(42, y, 2, shape{fill: "ink"})
		})
	}
	for i := range p.chart.Lines {
		if p.chart.Lines[i].Between {
			for _, line := range broken("dotted: nobody printed it, it lies about there", p.right, 11.5, 2) {
				p.text(4, y+11, letters{size: 11.5, faint: true}, line)
				y += 15
			}
			break
		}
	}
	return y + 4
}
