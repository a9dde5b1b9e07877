package drawing

import "plumbline/engine/sheet"

// symbol draws what a stop is, on a path that runs down the page at x from one height to another.
func (c *canvas) symbol(s *sheet.Stop, x, from, to float64) {
	y := (from + to) / 2
	line := shape{stroke: 1.6, fill: "paper"}
	if s.Unknown {
		line.dash = "4 3"
	}
	fill := func(s2 shape) shape {
		if wrong(s) {
			s2.fill = "bad"
		}
		return s2
	}
	through := func(a, b float64) { c.line(x, a, x, b, shape{stroke: 2}) }
	switch s.Symbol {
	case sheet.SymbolHose:
		c.hose(s, x, from, to)
	case sheet.SymbolTube, sheet.SymbolWire:
		width := 6.0
		if s.Symbol == sheet.SymbolWire {
			width = 3
		}
		tube := shape{stroke: width}
		if s.Unknown {
			tube = shape{stroke: 2.5, dash: "4 3"}
		}
		c.line(x, from, x, to, tube)
		if wrong(s) {
			c.rect(x-7, from+2, 14, to-from-4, 0, shape{stroke: 1, fill: "bad"})
		}
	case sheet.SymbolFilter: // a can with its paper across the flow
		through(from, to)
		c.rect(x-13, y-16, 26, 32, 8, line)
		c.rect(x-13, y-16, 26, 32, 8, fill(shape{stroke: 1.6, dash: line.dash}))
		c.line(x-13, y, x+13, y, shape{stroke: 1.6, dash: "2 2"})
	case sheet.SymbolFitting: // two collars and the body between
		through(from, to)
		c.rect(x-6, y-9, 12, 18, 1, fill(shape{fill: "ink", stroke: 1}))
		c.rect(x-10, y-12, 20, 5, 1, shape{fill: "ink"})
		c.rect(x-10, y+7, 20, 5, 1, shape{fill: "ink"})
	case sheet.SymbolPump: // a can with a cap at each end, and the way the fuel goes
		c.line(x, y, x, to, shape{stroke: 2})
		c.rect(x-14, y-20, 28, 40, 5, line)
		c.rect(x-14, y-20, 28, 40, 5, fill(shape{stroke: 1.6, dash: line.dash}))
		c.line(x-14, y-12, x+14, y-12, shape{stroke: 1.2})
		c.line(x-14, y+12, x+14, y+12, shape{stroke: 1.2})
		c.path(at("M%s %sL%s %sL%s %sz", x-6, y-6, x+6, y-6, x, y+6), shape{fill: "ink"})
	case sheet.SymbolTank: // a flat vessel, filled in part
		c.rect(x-22, y-15, 44, 30, 6, line)
		c.rect(x-22, y-15, 44, 30, 6, fill(shape{stroke: 1.6, dash: line.dash}))
		c.path(at("M%s %sq5.5 -4 11 0t11 0t11 0t11 0", x-22, y-2), shape{stroke: 1.2})
	case sheet.SymbolBody: // a flange with two bores, from above
		c.line(x, from, x, y, shape{stroke: 2})
		c.rect(x-22, y-15, 44, 30, 3, line)
		c.rect(x-22, y-15, 44, 30, 3, fill(shape{stroke: 1.6, dash: line.dash}))
		for _, side := range []float64{-10, 10} {
			c.circle(x+side, y, 8, shape{stroke: 1.6, fill: "paper"})
			c.line(x+side-8, y, x+side+8, y, shape{stroke: 1.2})
		}
	case sheet.SymbolRegulator: // a spring on a diaphragm
		c.line(x, y+6, x, to, shape{stroke: 2})
		c.path(at("M%s %sv-9q0 -11 14 -11t14 11v9z", x-14, y+2), line)
		c.path(at("M%s %sl5 -3l-10 -4l10 -4l-5 -3", x, y), shape{stroke: 1.2})
		c.rect(x-18, y+2, 36, 5, 1, fill(shape{fill: "ink", stroke: 1}))
		c.rect(x-9, y+7, 18, 9, 1, line)
	case sheet.SymbolBox: // a thing that is only named
		through(from, to)
		c.rect(x-18, y-14, 36, 28, 5, line)
		c.rect(x-18, y-14, 36, 28, 5, fill(shape{stroke: 1.6, dash: line.dash}))
	case sheet.SymbolPipe: // two walls, and room between
		for _, side := range []float64{-9, 9} {
			c.line(x+side, from, x+side, to, shape{stroke: 2.4, dash: line.dash})
		}
		if wrong(s) {
			c.rect(x-9, from, 18, to-from, 0, shape{fill: "bad"})
		}
	case sheet.SymbolSensor: // a probe in its thread
		through(from, to)
		c.path(at("M%s %sh16l6 10l-6 10h-16l-6 -10z", x-8, y-10), line)
		c.path(at("M%s %sh16l6 10l-6 10h-16l-6 -10z", x-8, y-10), fill(shape{stroke: 1.6, dash: line.dash}))
		c.circle(x, y, 4, shape{fill: "ink"})
	case sheet.SymbolGap:
		c.line(x, from, x, to, shape{stroke: 2, dash: "3 5"})
		c.circle(x, y, 11, shape{stroke: 1.6, fill: "paper", dash: "3 3"})
		c.text(x, y+4.5, letters{size: 13, anchor: "middle", bold: true}, "?")
	default:
		c.electric(s, x, from, to, line)
	}
}

// hose is two walls that bend a little: it gives way.
func (c *canvas) hose(s *sheet.Stop, x, from, to float64) {
	third := (to - from) / 3
	bend := func(off float64) string {
		return at("M%s %sC%s %s %s %s %s %s", x+off, from, x+off+7, from+third, x+off-7, to-third, x+off, to)
	}
	wall := shape{stroke: 1.8}
	if s.Unknown {
		wall.dash = "4 3"
	}
	if wrong(s) {
		c.path(at("M%s %sC%s %s %s %s %s %sh10C%s %s %s %s %s %sz", x-5, from, x+2, from+third, x-12, to-third, x-5, to,
			x-2, to-third, x+12, from+third, x+5, from), shape{fill: "bad"})
	}
	c.path(bend(-5), wall)
	c.path(bend(5), wall)
}

// electric draws what current goes through.
func (c *canvas) electric(s *sheet.Stop, x, from, to float64, line shape) {
	y := (from + to) / 2
	c.line(x, from, x, to, shape{stroke: 3})
	box := line
	switch s.Symbol {
	case sheet.SymbolBattery: // a box with two posts
		c.rect(x-20, y-11, 40, 24, 2, box)
		c.rect(x-14, y-16, 8, 5, 0, shape{fill: "ink"})
		c.rect(x+6, y-16, 8, 5, 0, shape{fill: "ink"})
		c.text(x-10, y+6, letters{size: 13, anchor: "middle", bold: true}, "+")
		c.text(x+10, y+6, letters{size: 13, anchor: "middle", bold: true}, "−")
	case sheet.SymbolFuse: // a strip that narrows
		c.rect(x-10, y-15, 20, 30, 4, box)
		c.path(at("M%s %sv8l-2 4l2 4v8", x, y-12), shape{stroke: 2})
	case sheet.SymbolRelay: // a contact that closes
		c.rect(x-14, y-16, 28, 32, 2, box)
		c.line(x, y-16, x, y-8, shape{stroke: 2})
		c.line(x-7, y-8, x, y+8, shape{stroke: 2})
		c.line(x, y+8, x, y+16, shape{stroke: 2})
	case sheet.SymbolLoad:
		c.circle(x, y, 17, box)
		c.circle(x, y, 11, shape{stroke: 1.2})
	case sheet.SymbolGround: // a stud with a ring on it
		c.circle(x, y, 10, box)
		c.circle(x, y, 4, shape{fill: "ink"})
	}
	if wrong(s) {
		c.rect(x-14, y-16, 28, 32, 2, shape{stroke: 1, fill: "bad"})
	}
}
