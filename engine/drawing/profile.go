package drawing

import (
	"math"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
)

// scale is what a profile is drawn on: from one end of the readings of its leg to the other.
type scale struct {
	low, high, from, to float64
	// unit is what one of the printed unit is in SI, called its name.
	unit   float64
	called string
	ticks  []float64
	known  bool
	// bases are what each point is drawn from: its first reading where the profile is of what is lost, else nothing.
	bases []float64
}

// scaleOf spans the readings of a leg, in round steps of the unit they are printed in.
func scaleOf(leg *sheet.Leg, cols columns) scale {
	s := scale{low: math.Inf(1), high: math.Inf(-1), from: cols.from, to: cols.to, bases: basesOf(leg)}
	for i := range leg.Stops {
		for k, r := range leg.Stops[i].Readings {
			if !r.Known {
				continue
			}
			at := r.SI - s.bases[k]
			s.low, s.high, s.known = math.Min(s.low, at), math.Max(s.high, at), true
			figure, unit := parted(r.Text)
			if n, err := strconv.ParseFloat(figure, 64); err == nil && math.Abs(n) > math.Abs(s.unit) {
				s.unit, s.called = n, unit
				if n != 0 {
					s.ticks = []float64{r.SI / n} // the largest reading tells the unit best
				}
			}
		}
	}
	if !s.known {
		return s
	}
	unit := 1.0
	if len(s.ticks) > 0 && s.ticks[0] > 0 {
		unit = s.ticks[0]
	}
	s.unit = unit
	step := roundStep(math.Max(s.high-s.low, unit*0.05) / unit / 2.5)
	low, high := math.Floor(s.low/unit/step+1e-6)*step, math.Ceil(s.high/unit/step-1e-6)*step
	if high <= low {
		high = low + step
	}
	s.low, s.high, s.ticks = low*unit, high*unit, nil
	for t := low; t <= high+step/2; t += step {
		s.ticks = append(s.ticks, t)
	}
	return s
}

// basesOf are what the profile of each point of a leg is drawn from.
func basesOf(leg *sheet.Leg) []float64 {
	var out []float64
	for i := range leg.Stops {
		for k, r := range leg.Stops[i].Readings {
			if k == len(out) {
				out = append(out, math.NaN())
			}
			if r.Known && math.IsNaN(out[k]) {
				out[k] = r.SI
			}
		}
	}
	for k := range out {
		if !leg.Lost || math.IsNaN(out[k]) {
			out[k] = 0
		}
	}
	return out
}

// roundStep is the next of 1, 2, 5 and their tens.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*power >= x {
			return m * power
		}
	}
	return 10 * power
}

func (s scale) x(si float64) float64 {
	return s.from + (si-s.low)/(s.high-s.low)*(s.to-s.from)
}

// heads names the columns of readings and their unit.
func (c *canvas) heads(w *sheet.Way, leg *sheet.Leg, cols columns, y float64) {
	unit := ""
	for i := range leg.Stops {
		for _, r := range leg.Stops[i].Readings {
			if r.Known && unit == "" {
				_, unit = parted(r.Text)
			}
		}
	}
	for k, point := range cols.shown {
		words := strings.Fields(w.Points[point])
		for i, word := range words {
			c.text(cols.reads[k], y+float64(i-len(words)+1)*headLine, letters{size: 10, anchor: "end", faint: true}, word)
		}
	}
	if cols.room > 0 {
		c.text(cols.blank+4+cols.room/2, y, letters{size: 10, anchor: "middle", faint: true}, "read")
	}
	if leg.Lost {
		unit += " lost"
	}
	c.text(cols.from-6, y, letters{size: 10, anchor: "end", faint: true}, unit)
}

// grid draws the lines of a scale with their figures above.
func (c *canvas) grid(s scale, y, end float64) {
	for i, t := range s.ticks {
		x := s.x(t * s.unit)
		c.line(x, y, x, end, shape{stroke: 1, faint: true})
		anchor := "middle"
		if i%2 == 1 && len(s.ticks) > 3 && s.to-s.from < 120 {
			continue // there is no room for each
		}
		c.text(x, y-3, letters{size: 9.5, anchor: anchor, faint: true, axis: true}, figure(t))
	}
}

// strokes are how the operating points are told apart, the one that decides most drawn boldest.
var strokes = []shape{{stroke: 1.6, dash: "1.5 3.5"}, {stroke: 1.6, dash: "6 3"}, {stroke: 1}, {stroke: 2.6}}

func strokeOf(w *sheet.Way, point int) shape { return strokes[len(strokes)-len(w.Points)+point] }

// profile draws the readings of each operating point as a line from joint to joint.
func (c *canvas) profile(w *sheet.Way, rows []row, s scale) {
	for point := range w.Points {
		var d strings.Builder
		open := false
		for _, r := range rows {
			if len(r.stop.Readings) == 0 {
				continue
			}
			reading := r.stop.Readings[point]
			if !reading.Known {
				open = false
				continue
			}
			letter := "M"
			if open {
				letter = "L"
			}
			d.WriteString(letter + at("%s %s", s.x(reading.SI-s.bases[point]), r.top+r.high/2))
			open = true
		}
		if d.Len() == 0 {
			continue
		}
		c.path(d.String(), strokeOf(w, point))
		for _, r := range rows {
			if len(r.stop.Readings) > point && r.stop.Readings[point].Known && point == len(w.Points)-1 {
				c.circle(s.x(r.stop.Readings[point].SI-s.bases[point]), r.top+r.high/2, 3, shape{fill: "ink"})
			}
		}
	}
}

// legend says how the lines are told apart, and ends the drawing.
func (c *canvas) legend(w *sheet.Way, cols columns, y float64) float64 {
	x := 4.0
	for point, name := range w.Points {
		room := 42 + 7*float64(len(name))
		if x+room > cols.reads[len(cols.reads)-1] {
			x, y = 4, y+18
		}
		c.line(x, y+6, x+30, y+6, strokeOf(w, point))
		c.text(x+36, y+10, letters{size: 11}, name)
		x += room + 12
	}
	return y + 22
}
