package sheet

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// pumpPaper is the pump's curve, as printed and as it gives here, with what the engine takes.
func pumpPaper(m *maker) {
	m.paper.Use = "Right of the line of the need there is room, left of it the pump starves the engine. The thin line is what its sheet promises at the sheet's voltage, the thick one what it gives at full load, the dashed one while cranking, at the voltage " +
		"that gets to it here. Hold the sheet that came with the pump against the first table before it is fitted."
	if c := m.pumpChart(); c != nil {
		b := Block{Heading: "The pump's curve and the need", Chart: c, Half: true}
		if _, known := m.si(m.Design, derive.FullLoad, "fuel_demand"); !known {
			b.Paras = []string{"The line of the need is missing: what the engine takes at full load cannot be worked out yet."}
		}
		m.add(b)
	} else {
		m.add(Block{Heading: "The pump's curve and the need", Paras: []string{"No curve can be drawn yet. It wants the points of the pump's sheet (pressure, flow and current), the voltage they hold for, and how it works."}})
	}
	m.printedCurve()
	m.pumpEnds()
	m.pumpWork()
}

// pumpChart draws the curve; nil while there is none.
func (m *maker) pumpChart() *Chart {
	printed := m.Session.PumpLine(derive.NoPoint)
	if len(printed.Printed) < 2 {
		return m.onePoint()
	}
	c := &Chart{Title: "The pump's curve", Describes: "Flow to the right, pressure over the pump upward: the curve as printed and at the voltages it gets here, what the engine takes at full load, and the pressures that bound it"}
	flow, pressure := 0.0, 0.0
	line := func(name string, l derive.PumpLine, weight int) {
		if len(l.Printed) == 0 {
			return
		}
		out := Line{Name: name, Weight: weight}
		for _, p := range l.Printed {
			out.Points = append(out.Points, Point{p.Flow, p.Pressure})
			flow, pressure = max(flow, p.Flow), max(pressure, p.Pressure)
		}
		c.Lines = append(c.Lines, out)
		last := out.Points[len(out.Points)-1]
		if _, known := siOf(&m.Design.Pump.DeadHeadPressure); known && last.X > 0 && len(l.Beyond) > 0 {
			rest := Line{Name: name, Weight: weight, Between: true, Again: true, Points: []Point{last}}
			for _, p := range l.Beyond {
				rest.Points = append(rest.Points, Point{p.Flow, p.Pressure})
				pressure = max(pressure, p.Pressure)
			}
			c.Lines = append(c.Lines, rest)
		}
	}
	line("as printed, at "+cmp.Or(m.factText(&m.Design.Pump.CurveVoltage), "a voltage nobody stated"), printed, 0)
	for _, p := range []derive.Point{derive.Cranking, derive.FullLoad} {
		if volts := m.value(m.Design, p, "pump_voltage"); !volts.Unknown {
			weight := 1
			if p == derive.FullLoad {
				weight = 2
			}
			line(pointWords(p)+", at "+volts.Text, m.Session.PumpLine(p), weight)
		}
	}
	m.pumpNeed(c)
	for _, x := range []struct {
		of    schema.Reading
		name  string
		limit bool
	}{{&m.Design.Pump.MaximumPressure, "most its maker allows", true}, {&m.Design.Pump.DeadHeadPressure, "makes with its outlet shut", false}} {
		if at, ok := siOf(x.of); ok {
			c.Levels = append(c.Levels, Level{Name: x.name + ", " + m.factText(x.of), At: at, Across: true, Limit: x.limit})
			pressure = max(pressure, at)
		}
	}
	c.X, c.Y = m.axis("flow", quantity.DimFlow, flow), m.axis("pressure over the pump", quantity.DimPressure, pressure)
	return c
}

// onePoint draws the one figure that is printed where no curve is; nil without it.
func (m *maker) onePoint() *Chart {
	p := &m.Design.Pump
	flow, ok := siOf(&p.RatedFlow)
	pressure, also := siOf(&p.RatedPressure)
	if !ok || !also {
		return nil
	}
	c := &Chart{Title: "The pump's one figure", Describes: "Flow to the right, pressure over the pump upward: one point is known of the pump, the rest of its curve is not",
		Spots: []Spot{{Name: "printed: " + m.factText(&p.RatedFlow) + " at " + m.factText(&p.RatedPressure) + "; how it goes on from there nobody stated", At: Point{flow, pressure}}}}
	if need, known := m.si(m.Design, derive.FullLoad, "fuel_demand"); known {
		c.Levels = append(c.Levels, Level{Name: "the engine takes " + m.value(m.Design, derive.FullLoad, "fuel_demand").Text + " at full load", At: need})
		flow = max(flow, need)
	}
	if setting, known := siOf(&m.Design.Regulator.Setting); known {
		c.Levels = append(c.Levels, Level{Name: "the regulator holds " + m.factText(&m.Design.Regulator.Setting) + "; the line adds to it", At: setting, Across: true})
		pressure = max(pressure, setting)
	}
	c.X, c.Y = m.axis("flow", quantity.DimFlow, flow), m.axis("pressure over the pump", quantity.DimPressure, pressure)
	return c
}

// pumpNeed puts what the engine takes on the chart, and where the pump works.
func (m *maker) pumpNeed(c *Chart) {
	if need, ok := m.si(m.Design, derive.FullLoad, "fuel_demand"); ok {
		c.Levels = append(c.Levels, Level{Name: "the engine takes " + m.value(m.Design, derive.FullLoad, "fuel_demand").Text + " at full load", At: need})
		if share := m.flowReserve(); share > 1 {
			c.Levels = append(c.Levels, Level{Name: "with the reserve wanted, " + m.reserved(need, share), At: need * share})
		}
	}
	for _, p := range []derive.Point{derive.Idle, derive.FullLoad} {
		flow, ok := m.si(m.Design, p, "pump_flow")
		rise, also := m.si(m.Design, p, "pump_pressure")
		if !ok || !also {
			continue
		}
		if n := len(c.Spots); n > 0 && near(c.Spots[n-1].At, Point{flow, rise}) {
			c.Spots[n-1].Name += " and at " + pointWords(p)
			continue
		}
		c.Spots = append(c.Spots, Spot{Name: "works here at " + pointWords(p), At: Point{flow, rise}})
	}
}

// near reports whether two places cannot be told apart on a chart.
func near(a, b Point) bool {
	return math.Abs(a.X-b.X) <= 0.01*math.Abs(a.X) && math.Abs(a.Y-b.Y) <= 0.01*math.Abs(a.Y)
}

// flowReserve is how many times the need a pump should give; 0 where no rule says so.
func (m *maker) flowReserve() float64 {
	b := m.limits(reserveRule)
	if !(b.fineLow > 0) {
		return 0
	}
	return b.fineLow
}

const reserveRule = "fuel/delivery.flow-at-full-load"

// reserved prints a need with its reserve.
func (m *maker) reserved(need, share float64) string {
	q, err := quantity.New(need*share, quantity.DimFlow)
	if err != nil {
		return unknown
	}
	return m.note(q.Format(m.Units), "at.full_load.fuel_demand", "x "+reserveRule)
}

// printedCurve are the points of the pump's sheet.
func (m *maker) printedCurve() {
	p := &m.Design.Pump
	t := &Table{Caption: "As printed in the pump's sheet", Heads: []string{"point", "pressure over the pump", "flow", "current", "same on the sheet"}}
	for i := range p.Curve.Items {
		x := &p.Curve.Items[i]
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: strconv.Itoa(i + 1)}, m.fact(&x.Pressure), m.fact(&x.Flow), m.fact(&x.Current), {Tick: true}}})
	}
	if len(t.Rows) == 0 {
		for i := range 3 {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: strconv.Itoa(i + 1)}, {Blank: true, Fills: []string{p.Curve.Path()}}, {Blank: true}, {Blank: true}, {}}})
		}
	}
	m.add(Block{Heading: "As printed in the pump's sheet", Half: true, Table: t})
	m.add(Block{Heading: "What the sheet holds for", Half: true, Table: m.factTable("What the sheet holds for", [][2]any{
		{"voltage of the curve", &p.CurveVoltage}, {"how it works", &p.Kind}, {"resistance of the motor, standing still", &p.MotorResistance},
		{"printed flow", &p.RatedFlow}, {"at a pressure of", &p.RatedPressure}, {"most pressure its maker allows", &p.MaximumPressure},
		{"makes with its outlet shut", &p.DeadHeadPressure}})})
}

// factTable lists facts, one a row, each with its name.
func (m *maker) factTable(caption string, rows [][2]any) *Table {
	t := &Table{Caption: caption, Heads: []string{"what", "is"}}
	for _, r := range rows {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: r[0].(string)}, m.fact(r[1].(schema.Reading))}})
	}
	return t
}

// pumpWork is where it works at each operating point.
func (m *maker) pumpWork() {
	points := []derive.Point{derive.Cranking, derive.Idle, derive.Cruise, derive.FullLoad}
	t := &Table{Caption: "What it does here", Heads: []string{"what"}}
	for _, p := range points {
		t.Heads = append(t.Heads, pointWords(p))
	}
	for _, x := range [][2]string{{"voltage at its terminals", "pump_voltage"}, {"current", "pump_current"}, {"pressure over it", "pump_pressure"}, {"could give at that", "pump_capacity"},
		{"the engine takes", "fuel_demand"}, {"could still hold beyond that pressure", "pressure_headroom"}} {
		var list []*derive.Result
		for _, p := range points {
			list = append(list, m.Session.At(p, x[1]))
		}
		cells := m.row(list)
		if x[1] == "fuel_demand" {
			cells[0] = Cell{Text: "hardly any"} // it is not worked out: the starter's few turns take no flow worth the name
		}
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{{Text: x[0]}}, cells...)})
	}
	if slices.ContainsFunc(t.Rows, func(r Row) bool { return slices.ContainsFunc(r.Cells[2:], func(c Cell) bool { return !c.Unknown }) }) {
		m.add(Block{Heading: "What it does here", Table: t})
	}
}

// pumpEnds says in words what the picture shows.
func (m *maker) pumpEnds() {
	gives, ok := m.si(m.Design, derive.FullLoad, "pump_capacity")
	need, also := m.si(m.Design, derive.FullLoad, "fuel_demand")
	if !ok || !also || need <= 0 {
		m.add(Block{Heading: "Is it enough?", Half: true, Paras: []string{"Not known yet. It wants: " + listOf(m.namesOf(append(m.Session.At(derive.FullLoad, "pump_capacity").Missing, m.Session.At(derive.FullLoad, "fuel_demand").Missing...)), 5) + "."}})
		return
	}
	text := "At full load it could give " + m.value(m.Design, derive.FullLoad, "pump_capacity").Text + " where the engine takes " + m.value(m.Design, derive.FullLoad, "fuel_demand").Text +
		": " + strconv.FormatFloat(gives/need, 'f', 1, 64) + " times that."
	if share := m.flowReserve(); share > 0 {
		text += " Wanted are " + strconv.FormatFloat(share, 'f', -1, 64) + " times, " + m.reserved(need, share) + "."
		switch {
		case gives < need:
			text += " It is not enough."
		case gives < need*share:
			text += " It is enough new, with less than the reserve that wear and hot fuel eat."
		}
	}
	m.add(Block{Heading: "Is it enough?", Half: true, Paras: []string{text}})
}
