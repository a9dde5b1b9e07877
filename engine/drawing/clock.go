package drawing

import (
	"math"
	"strconv"

	"plumbline/engine/sheet"
)

// Clock draws a pipe from behind with a sensor at its angle from straight up, on the left and on the right alike: which side is free.
// The part of the pipe where it may not sit is hatched.
func Clock(x *sheet.Clock, o Options) string {
	c := &canvas{id: o.ID}
	c.hatching()
	o.Width = 300
	middle, y, r := o.Width/2, 104.0, 46.0
	place := func(turn, far float64) (float64, float64) { // from straight up, to the right
		return middle + far*math.Sin(turn), y - far*math.Cos(turn)
	}
	if !math.IsNaN(x.Most) && x.Most > 0 && x.Most < math.Pi {
		x1, y1 := place(x.Most, r+14)
		x2, y2 := place(-x.Most, r+14)
		big := "1"
		if x.Most > math.Pi/2 {
			big = "0"
		}
		c.path(at("M%s %sL%s %sA%s %s 0 "+big+" 1 %s %sz", middle, y, x1, y1, r+14, r+14, x2, y2), shape{fill: "bad"})
		c.line(middle, y, x1, y1, shape{stroke: 1, dash: "4 3"})
		c.line(middle, y, x2, y2, shape{stroke: 1, dash: "4 3"})
	}
	c.circle(middle, y, r, shape{stroke: 3, fill: "paper"})
	c.line(middle, y-r-34, middle, y-r-14, shape{stroke: 1, dash: "3 3"})
	c.text(middle, y-r-40, letters{size: 11, anchor: "middle"}, "up")
	c.text(middle, y+4, letters{size: 11, anchor: "middle", faint: true}, "pipe")
	says := "angle not stated: ______"
	if x.Known {
		says = x.Text + " from straight up, on the side that is free"
		for _, side := range []float64{1, -1} {
			s := shape{stroke: 9}
			if side < 0 {
				s = shape{stroke: 1.2, dash: "3 3"}
			}
			x1, y1 := place(side*x.Angle, r+2)
			x2, y2 := place(side*x.Angle, r+30)
			c.line(x1, y1, x2, y2, s)
		}
	}
	bottom := y + r + 34
	if x.Bad > 0 {
		says += "; wrong: finding " + strconv.Itoa(x.Bad)
	}
	if !math.IsNaN(x.Most) {
		says += ". Hatched: not there"
	}
	for _, line := range broken(says+".", o.Width-10, 12, 3) {
		c.text(middle, bottom, letters{size: 12, anchor: "middle"}, line)
		bottom += 16
	}
	return c.whole(o, bottom, x.Title, x.Describes+". "+says+".")
}
