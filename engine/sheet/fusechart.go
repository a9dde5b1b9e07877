package sheet

import (
	"math"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// longestAdiabatic is how long a wire is taken to keep the heat of a short, in seconds.
const longestAdiabatic = 5

// fuseChart draws the fuse that protects its wire with the least room against that wire; nil where none can be drawn.
func (m *maker) fuseChart() (*Chart, string) {
	var tightest *schema.Circuit
	worst := -1.0
	for i := range m.Design.Circuits.Items {
		c := &m.Design.Circuits.Items[i]
		if heat, ok := m.Session.On(c, derive.NoPoint, "short_heating").Value().(float64); ok && heat > worst {
			tightest, worst = c, heat
		}
	}
	if tightest == nil {
		return nil, ""
	}
	l := m.Session.FuseLine(tightest)
	if len(l.Band) == 0 || l.Withstands <= 0 {
		return nil, ""
	}
	name := m.circuitName(tightest)
	c := &Chart{Title: "Fuse against wire: " + name, Describes: "Current to the right, time upward, both by powers of ten: when the fuse has opened at the latest, and how long the weakest wire lasts. Where the fuse lies below the wire it opens first",
		X: Axis{Name: "current", Unit: "A", One: 1, Log: true}, Y: Axis{Name: "time", Unit: "s", One: 1, Log: true}}
	var latest, earliest []Point
	for _, p := range l.Band {
		if p.Latest > 0 {
			latest = append(latest, Point{p.Amps, p.Latest})
			earliest = append(earliest, Point{p.Amps, p.Earliest})
		}
	}
	least := math.Sqrt(l.Withstands / longestAdiabatic)
	most := math.Max(math.Max(l.Fault, least*4), latest[len(latest)-1].X)
	shortest := l.Withstands / most / most
	c.Lines = []Line{{Name: "the fuse of " + m.fact(&tightest.Fuse.Part.Rating).Text + " has opened at the latest", Points: latest, Weight: 2}, {Name: "it does not open before", Points: earliest, Weight: 0},
		{Name: "so long the weakest wire lasts when it is shorted", Points: []Point{{least, longestAdiabatic}, {most, shortest}}, Weight: 1}}
	if last := latest[len(latest)-1]; l.Through > 0 && l.Fault > last.X {
		on := Line{Name: c.Lines[0].Name, Weight: 2, Between: true, Again: true, Points: []Point{last, {l.Fault, math.Min(last.Y, l.Through/l.Fault/l.Fault)}}}
		c.Lines = append(c.Lines[:1:1], append([]Line{on}, c.Lines[1:]...)...)
	}
	if l.Fault > 0 {
		c.Levels = []Level{{Name: "current when the load is shorted, " + m.value(tightest, derive.NoPoint, "fault_current").Text, At: l.Fault}}
	}
	return c, name
}

// charging draws what the alternator gives against what is taken; nil while that is not known.
func (m *maker) charging() (*Bars, *Table) {
	points := []derive.Point{derive.Idle, derive.Cruise}
	t := &Table{Caption: "Charging", Heads: []string{"what"}}
	bars := &Bars{Title: "Charging: what the alternator gives against what is taken", Describes: "A bar for each state; hatched up to what the loads take: an alternator that gives no more empties the battery", Common: true}
	for _, p := range points {
		t.Heads = append(t.Heads, pointWords(p))
		gives, ok := m.si(m.Design, p, "charging_output")
		takes, also := m.si(m.Design, p, "electrical_load")
		if ok && also {
			nan := math.NaN()
			bars.Rows = append(bars.Rows, Bar{Name: pointWords(p) + ": loads take " + m.value(m.Design, p, "electrical_load").Text, Text: "gives " + m.value(m.Design, p, "charging_output").Text,
				Got: gives, Expected: nan, FineLow: nan, FineHigh: nan, StopLow: takes, StopHigh: nan})
		}
	}
	if len(bars.Rows) == 0 {
		return nil, nil
	}
	for _, x := range [][2]string{{"alternator gives", "charging_output"}, {"loads take", "electrical_load"}, {"left for the battery", "charging_balance"}} {
		var list []*derive.Result
		for _, p := range points {
			list = append(list, m.Session.At(p, x[1]))
		}
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{{Text: x[0]}}, m.row(list)...)})
	}
	return bars, t
}
