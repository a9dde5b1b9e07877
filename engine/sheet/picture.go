package sheet

import (
	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Chart is a picture of one quantity over another: lines, levels that they are held against, and spots on them. All numbers are
// in SI. Each line, level and spot is told by a letter, in the order they stand here.
type Chart struct {
	// Title and Describes say what is drawn, for those who do not see it.
	Title, Describes string
	X, Y             Axis
	Lines            []Line
	Levels           []Level
	Spots            []Spot
}

// Axis is one side of a chart, from nothing, or by powers of ten, up to what is drawn.
type Axis struct {
	Name, Unit string
	// One is one of the unit, in SI.
	One float64
	// Log marks it by powers of ten.
	Log bool
}

// Line is a line of a chart. One that is no more than Between bounds is drawn broken.
type Line struct {
	Name    string
	Points  []Point
	Between bool
	// Weight is how boldly it is drawn: 0 thin, 1, or 2 for the one that decides. Again is set for a line that goes on with the one
	// before it, and needs no letter.
	Weight int
	Again  bool
}

// Level is a value across the whole chart: Across one of Y, else of X.
type Level struct {
	Name   string
	At     float64
	Across bool
	// Limit marks one that must not be passed, drawn double.
	Limit bool
}

// Spot is one place on a chart.
type Spot struct {
	Name string
	At   Point
}

// Point is a place on a chart.
type Point struct{ X, Y float64 }

// Bars are values held against what is fine and where work stops, one below the other.
type Bars struct {
	Title, Describes string
	Rows             []Bar
	// Common draws all of them on one scale, from nothing; else each has its own.
	Common bool
}

// Bar is one value with its band, in SI; NaN where there is no such end, or no such value.
type Bar struct {
	Name, Text                           string
	Expected, Got                        float64
	FineLow, FineHigh, StopLow, StopHigh float64
	// Bad is the number of the finding that is wrong about it, 0 for none.
	Bad int
}

// Outline is something drawn as large as it is: circles about one middle, and a plug's face among them. Lengths are in metres.
type Outline struct {
	Title, Describes string
	Rounds           []Round
	Face             *Face
}

// Round is a circle of an outline.
type Round struct {
	Name     string
	Diameter float64
	// Cut marks what is cut into the panel, Filled what goes through.
	Cut, Filled bool
}

// Face is the leading face of a plug.
type Face struct {
	Name          string
	Width, Height float64
}

// Clock is a pipe seen from behind, along it, with a sensor in it.
type Clock struct {
	Title, Describes string
	// Angle is that of the sensor from straight up, in radians; Known is false while nobody stated it. Most is where it stops being fine.
	Angle, Most float64
	Known       bool
	Text        string
	Bad         int
}

// Plan is what lies beside the exhaust, from the engine to the tail of the vehicle, each as far from it as it is. Lengths are in metres.
type Plan struct {
	Title, Describes string
	Things           []Thing
}

// Thing is one thing on a plan, told by a letter.
type Thing struct {
	// Name is what it is, Text how far it is from the exhaust as printed, Zone where it lies.
	Name, Text, Zone string
	// At is its distance, NaN while nobody measured it; Fine is how far it should be, Stop how far it must; NaN for no such end.
	At, Fine, Stop float64
	// Shield is set where a shield stands between.
	Shield bool
	Bad    int
}

// Net is what takes power, from where, through which fuse and relay, and to which place of ground; and how those hang together.
type Net struct {
	Title, Describes string
	// Branches stand in the order they are drawn: each behind the one it comes from.
	Branches []Branch
	// Grounds are the places of ground, Straps what joins them.
	Grounds []string
	Straps  []Strap
}

// Branch is one circuit of a net.
type Branch struct {
	Name string
	// Source is where it begins, set for those that hang on no other; Depth is how many circuits lie before it.
	Source string
	Depth  int
	// Fuse, Relay and Takes are as printed; "" for none of it.
	Fuse, Relay, Takes string
	// Ground is the place among the grounds where it ends, -1 for one that nobody named.
	Ground int
	Bad    int
}

// Strap joins two places of ground.
type Strap struct {
	Name, Text string
	// From and To are places among the grounds.
	From, To int
	Bad      int
}

// axis is an axis of a chart for values up to one.
func (m *maker) axis(name string, d quantity.Dimension, largest float64) Axis {
	unit, one := quantity.Axis(m.Units == quantity.US, d, largest)
	return Axis{Name: name, Unit: unit, One: one}
}

// si is a derived value in SI; false while it is not known.
func (m *maker) si(part any, p derive.Point, name string) (float64, bool) {
	q, ok := m.Session.On(part, p, name).Value().(quantity.Value)
	return q.SI(), ok
}

// siOf is a stated fact in SI; false while it is not stated.
func siOf(f schema.Reading) (float64, bool) {
	if !f.Known() {
		return 0, false
	}
	q, ok := f.Any().(interface{ SI() float64 })
	if !ok {
		return 0, false
	}
	return q.SI(), true
}
