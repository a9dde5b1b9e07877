package drawing

// FuelWay is one of the usual ways that fuel runs, as a small picture to choose by.
type FuelWay struct {
	// Title says what it is, Pattern names the usual way to build it.
	Title, Pattern string
	draw           func(c *canvas)
}

// FuelWays are the four usual ways.
func FuelWays() []FuelWay {
	return []FuelWay{
		{"pump and regulator in the tank, one line", "in-tank-regulated", func(c *canvas) {
			c.vessel(6, 30, 74, 52)
			c.smallPump(32, 60)
			c.smallRegulator(58, 60)
			c.way("M32 48V14H168V36")
			c.smallBody()
		}},
		{"pump in the tank, return line", "in-tank-return", func(c *canvas) {
			c.vessel(6, 30, 74, 52)
			c.smallPump(32, 60)
			c.way("M32 48V14H168V36")
			c.smallBody()
			c.smallRegulator(132, 74)
			c.way("M168 56V74H141")
			c.back("M123 74H62")
		}},
		{"pump on the frame, return line", "frame-return", func(c *canvas) {
			c.vessel(6, 30, 58, 52)
			c.smallPump(86, 60)
			c.way("M52 72H86")
			c.way("M86 48V14H168V36")
			c.smallBody()
			c.smallRegulator(132, 74)
			c.way("M168 56V74H141")
			c.back("M123 74H110V88H40V82")
		}},
		{"surge tank with a lift pump", "surge-tank", func(c *canvas) {
			c.vessel(6, 30, 44, 52)
			c.smallPump(26, 62)
			c.way("M26 50V14H72V34")
			c.vessel(60, 34, 26, 48)
			c.smallPump(108, 62)
			c.way("M86 74H108")
			c.way("M108 50V14H168V36")
			c.smallBody()
			c.smallRegulator(140, 78)
			c.way("M168 56V78H149")
			c.back("M131 78H122V90H73V82")
		}},
	}
}

// The size of such a picture.
const (
	smallWidth, smallHeight = 200, 96
)

// Picture draws it; id begins the names within.
func (f FuelWay) Picture(id string) string {
	c := &canvas{id: id}
	f.draw(c)
	return c.whole(Options{Width: smallWidth, ID: id}, smallHeight, f.Title, "The way of the fuel from the tank, at the left, to the throttle body, at the right")
}

// vessel is a tank, half full.
func (c *canvas) vessel(x, y, w, h float64) {
	c.rect(x, y, w, h, 6, shape{stroke: 1.8, fill: "paper"})
	c.line(x+3, y+h*0.35, x+w-3, y+h*0.35, shape{stroke: 1, dash: "4 3"})
}

// smallPump is a pump about a middle, its outlet up.
func (c *canvas) smallPump(x, y float64) {
	c.rect(x-9, y-12, 18, 24, 4, shape{stroke: 1.8, fill: "paper"})
	c.path(at("M%s %sL%s %sL%s %sz", x-5, y+5, x+5, y+5, x, y-6), shape{fill: "ink"})
}

// smallRegulator is a spring on a diaphragm, as the large one.
func (c *canvas) smallRegulator(x, y float64) {
	c.path(at("M%s %sv-6q0 -8 9 -8t9 8v6z", x-9, y+2), shape{stroke: 1.6, fill: "paper"})
	c.rect(x-11, y+2, 22, 4, 1, shape{fill: "ink"})
	c.rect(x-6, y+6, 12, 6, 1, shape{stroke: 1.6, fill: "paper"})
}

// smallBody is the throttle body at its place.
func (c *canvas) smallBody() {
	c.rect(150, 36, 36, 20, 3, shape{stroke: 1.8, fill: "paper"})
	c.circle(160, 46, 6, shape{stroke: 1.4})
	c.circle(176, 46, 6, shape{stroke: 1.4})
}

// way is where fuel under pressure runs, back where it returns.
func (c *canvas) way(d string)  { c.path(d, shape{stroke: 2.6}) }
func (c *canvas) back(d string) { c.path(d, shape{stroke: 1.4, dash: "6 3"}) }
