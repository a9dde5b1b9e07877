package drawing

import (
	"math"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
)

// perMetre are the pixels of a page, of which 96 make an inch, in a metre.
const perMetre = 96 / 0.0254

// provingBar is how long the bar is that proves the printer, in metres.
const provingBar = 0.05

// Outline draws something as large as it is: its width and height are given in millimetres, and a bar of 50 mm proves the printer.
func Outline(x *sheet.Outline, o Options) string {
	c := &canvas{id: o.ID}
	widest := provingBar
	tall := 0.0
	for _, r := range x.Rounds {
		widest, tall = math.Max(widest, r.Diameter), math.Max(tall, r.Diameter)
	}
	if f := x.Face; f != nil {
		widest, tall = math.Max(widest, f.Width), math.Max(tall, f.Height)
	}
	o.Width = math.Ceil((widest + 0.014) * perMetre)
	far := tall*perMetre/2 + 14
	if f := x.Face; f != nil {
		far = math.Max(far, math.Hypot(f.Width, f.Height)/2*perMetre+14)
	}
	middle, y := o.Width/2, 4+letterRound+far
	// The largest first, so that none hides another.
	for i, r := range x.Rounds {
		s := shape{stroke: 1.2, dash: "6 4"}
		switch {
		case r.Cut:
			s = shape{stroke: 2.4}
		case r.Filled:
			s = shape{stroke: 1.2, fill: "tint"}
		}
		c.circle(middle, y, r.Diameter/2*perMetre, s)
		c.leader(middle, y, r.Diameter/2*perMetre, far, -math.Pi/2+0.75*float64(i), letterOf(i))
	}
	if f := x.Face; f != nil {
		w, h := f.Width*perMetre, f.Height*perMetre
		c.rect(middle-w/2, y-h/2, w, h, 2, shape{stroke: 1.4, dash: "2 3"})
		corner := math.Atan2(h/2, -w/2)
		c.leader(middle, y, math.Hypot(w, h)/2, far, corner, letterOf(len(x.Rounds)))
	}
	c.line(middle-6, y, middle+6, y, shape{stroke: 1})
	c.line(middle, y-6, middle, y+6, shape{stroke: 1})
	y += far + letterRound + 16
	var names []string
	for _, r := range x.Rounds {
		names = append(names, r.Name)
	}
	if x.Face != nil {
		names = append(names, x.Face.Name)
	}
	for i, name := range names {
		c.ringed(letterRound+2, y, letterOf(i))
		for k, line := range broken(name, o.Width-34, 12, 3) {
			if k > 0 {
				y += 15
			}
			c.text(26, y+4, letters{size: 12}, line)
		}
		y += legendLine + 2
	}
	y = c.bar(middle, y+4)
	return sized(c.whole(o, y, x.Title, x.Describes+". "+strings.Join(names, ", ")+"."), o.Width, y)
}

// leader leads from a place on an outline, at a turn about its middle, to its letter outside of all.
func (c *canvas) leader(x, y, from, to, turn float64, letter string) {
	cos, sin := math.Cos(turn), math.Sin(turn)
	c.line(x+from*cos, y+from*sin, x+to*cos, y+to*sin, shape{stroke: 0.8})
	c.ringed(x+to*cos, y+to*sin, letter)
}

// bar draws the bar that proves the printer.
func (c *canvas) bar(middle, y float64) float64 {
	from := middle - provingBar/2*perMetre
	for i := range 10 {
		s := shape{stroke: 1}
		if i%2 == 0 {
			s.fill = "ink"
		}
		c.rect(from+float64(i)*provingBar/10*perMetre, y, provingBar/10*perMetre, 7, 0, s)
	}
	c.text(middle, y+22, letters{size: 12, anchor: "middle"}, strconv.Itoa(int(provingBar*1000))+" mm when printed at 100 %")
	return y + 30
}

// sized gives a drawing its size in millimetres, which a printer keeps.
func sized(svg string, width, height float64) string {
	mm := func(px float64) string { return strconv.FormatFloat(px/perMetre*1000, 'f', 3, 64) + "mm" }
	from := `width="` + number(width) + `" height="` + number(math.Ceil(height)) + `"`
	return strings.Replace(svg, from, `width="`+mm(width)+`" height="`+mm(math.Ceil(height))+`"`, 1)
}
