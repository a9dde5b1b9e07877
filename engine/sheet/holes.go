package sheet

import (
	"math"
	"slices"
	"strconv"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// holesPaper is every hole through a panel, the place of each exhaust sensor, and what must keep clear of heat and of what moves.
func holesPaper(m *maker) {
	m.paper.Use = "Look behind each panel before the drill goes through it: wires, pipes, tank. Glasses and gloves on. First the small drill, then the hole, then both edges deburred and painted, then the lining, and only then what passes. " +
		"Print the drawings at 100 %, not fitted to the page, and lay a steel rule on the bar: only where it measures right are they as large as the part."
	h := &holes{maker: m}
	h.list()
	for i := range m.Design.Passages.Items {
		h.outline(i, &m.Design.Passages.Items[i])
	}
	for i := range m.Design.OxygenSensors.Items {
		h.sensor(&m.Design.OxygenSensors.Items[i])
	}
	h.settings()
	h.distances()
}

// settings are what is set at the throttle, and where controller and sensors sit.
func (h *holes) settings() {
	d := h.Design
	c := &d.ThrottleControl
	rows := [][2]any{{"linkage", &c.Linkage}, {"lever to cable or rod, throttle shut", &c.SmallestLeverAngle}, {"and at the other end", &c.LargestLeverAngle}, {"slack, throttle shut", &c.CableSlack},
		{"return springs", &c.ReturnSprings}, {"snaps shut within", &c.ReturnTime}, {"with one spring alone", &c.ReturnTimeOneSpring}}
	if d.Intake.Adapter.Presence() == schema.Present {
		a := &d.Intake.Adapter.Part
		rows = append(rows, [2]any{"adapter: height", &a.Height}, [2]any{"adapter: bore", &a.Bore}, [2]any{"plates to the adapter, wide open", &a.PlateClearance})
	}
	rows = append(rows, [2]any{"air cleaner to the bonnet", &d.Intake.BonnetClearance})
	h.add(Block{Heading: "Throttle and adapter", Table: h.factTable("Throttle and adapter", rows), Half: true})
	x := &d.Sensors
	rows = [][2]any{{"controller", &d.Controller.Place}, {"its plugs look", &d.Controller.ConnectorsFace}, {"drip loop under it", &d.Controller.DripLoop}, {"coolant sensor", &x.Coolant.Place}, {"air sensor", &x.IntakeAir.Place},
		{"manifold pressure taken from", &x.ManifoldPressure.Port}, {"hose of that sensor", &x.ManifoldPressure.HoseLength}, {"that sensor above its port", &x.ManifoldPressure.HeightAbovePort}, {"regulator", &d.Regulator.Place}, {"speed signal from", &x.SpeedSignal.Source}}
	t := h.factTable("Where the rest sits", rows)
	for _, what := range []string{"fuel pump's relay, and the others", "crash switch of the pump"} {
		if what != "crash switch of the pump" || d.Pump.InertiaSwitch.Presence() != schema.Absent {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: what}, {Blank: true}}})
		}
	}
	if d.Pump.Place.Text() == "in_tank" {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: "opening in the tank for the pump's plate, by the plate's own sheet"}, {Blank: true}}})
	}
	h.add(Block{Heading: "Where the rest sits", Table: t, Half: true})
	rows = [][2]any{{"crankcase ventilation", &d.Intake.CrankcaseVentilation}, {"chamber of the regulator", &d.Regulator.Reference}, {"manifold pressure sensor", &x.ManifoldPressure.Port}, {"vent of the tank", &d.Tank.Vent}}
	if d.Ignition.VacuumAdvance.Text() == "working" {
		rows = append(rows, [2]any{"advance of the distributor", &d.Ignition.NewAdvancePort})
	}
	if d.Intake.CanisterPurge.Known() {
		rows = append(rows, [2]any{"purge of the canister", &d.Intake.CanisterPurge})
	}
	if b := &d.Vehicle.BrakeBooster; b.Presence() == schema.Present {
		rows = append(rows, [2]any{"brake booster, a port of its own: bore", &b.Part.HoseBore})
	}
	h.add(Block{Heading: "Which hose goes where", Table: h.factTable("Which hose goes where", rows), Half: true})
}

type holes struct{ *maker }

// holeMark is what a hole is called.
func holeMark(i int) string { return "H" + strconv.Itoa(i+1) }

// holeName is what a hole is called by people.
func (h *holes) holeName(i int, p *schema.Passage) string {
	if name, ok := p.Name.Get(); ok {
		return name
	}
	return "hole No. " + strconv.Itoa(i+1)
}

// list is what is cut and what goes in.
func (h *holes) list() {
	items := h.Design.Passages.Items
	cut := &Table{Caption: "What is cut", Heads: []string{"hole", "through which panel", "its place on it", "for", "drill first", "make it", "needs at least", "edges deburred and painted"}}
	in := &Table{Caption: "What goes in, in this order", Heads: []string{"hole", "lining", "its bore", "what passes", "largest plug", "what passes to the edge", "lined before the loom"}}
	bare := slices.ContainsFunc(items, func(p schema.Passage) bool { return p.Lining.Text() == "nothing" || !p.Lining.Known() })
	if bare {
		in.Heads = append(in.Heads, "held by a clamp beside it")
	}
	for i := range items {
		p := &items[i]
		needed := h.value(p, derive.NoPoint, "hole_needed")
		cutTo := h.fact(&p.Hole)
		if list := h.badAt(p.Path()); len(list) > 0 {
			cutTo.Bad = list[0]
		}
		cut.Rows = append(cut.Rows, Row{Cells: []Cell{{Text: holeMark(i)}, {Text: h.holeName(i, p)}, {Blank: true}, h.fact(&p.Carries), h.fact(&p.PilotDrill), cutTo, needed, h.done(&p.EdgeFinished)}})
		bundle := h.value(p, derive.NoPoint, "bundle")
		if bundle.Unknown {
			bundle.Blank, bundle.Fills = true, []string{p.BundleDiameter.Path()}
		}
		cells := []Cell{{Text: holeMark(i)}, h.fact(&p.Lining), h.bore(p), bundle, h.plug(p), h.fact(&p.EdgeClearance), h.done(&p.LinedBeforePull)}
		if bare {
			cells = append(cells, h.done(&p.Clamped))
		}
		in.Rows = append(in.Rows, Row{Cells: cells})
	}
	if len(items) == 0 && h.Design.Passages.Known() {
		h.add(Block{Heading: "Holes", Paras: []string{"No hole is made or used."}})
		return
	}
	if !h.Design.Passages.Known() {
		blank := func(n int) (out []Cell) {
			for range n {
				out = append(out, Cell{Blank: true, Fills: []string{h.Design.Passages.Path()}})
			}
			return out
		}
		cut.Rows = append(cut.Rows, Row{Over: "Nobody said that these are all the holes. Write down what else goes through a panel."},
			Row{Cells: append([]Cell{{Text: holeMark(len(items))}}, append(blank(6), Cell{Tick: true})...)})
	}
	h.add(Block{Heading: "Holes: what is cut", Table: cut})
	if len(in.Rows) > 0 {
		h.add(Block{Heading: "Holes: what goes in", Table: in})
	}
}

// bore is that of the grommet, of a hole that has one.
func (h *holes) bore(p *schema.Passage) Cell {
	switch p.Lining.Text() {
	case "bulkhead_fitting", "edge_trim", "nothing":
		return Cell{Text: "none"}
	}
	return h.fact(&p.GrommetBore)
}

// plug is the largest that must pass, with its face.
func (h *holes) plug(p *schema.Passage) Cell {
	name, ok := p.LargestConnector.Get()
	switch {
	case !ok:
		return h.fact(&p.LargestConnector)
	case name == "nothing":
		return Cell{Text: "none: it is fitted after"}
	}
	c := Cell{Text: name}
	if diagonal := h.value(p, derive.NoPoint, "connector_diagonal"); !diagonal.Unknown {
		c.Text += ", " + diagonal.Text + " corner to corner"
	}
	return c
}

// mostRound is the largest hole that a page holds.
const mostRound = 0.17

// outline draws a hole as large as it is.
func (h *holes) outline(i int, p *schema.Passage) {
	hole, ok := siOf(&p.Hole)
	heading := "Hole " + holeMark(i) + ", as large as it is: " + h.holeName(i, p)
	if !ok {
		return
	}
	if hole > mostRound {
		h.add(Block{Heading: heading, Paras: []string{"It is larger than a page: strike it with a compass, " + h.factText(&p.Hole) + " across."}})
		return
	}
	o := &Outline{Title: "Hole " + holeMark(i) + ", as large as it is", Describes: "Circles about one middle: the hole, the bore of its lining, what passes, and the face of the largest plug; below them a bar to prove the printer"}
	o.Rounds = append(o.Rounds, Round{Name: "hole " + h.factText(&p.Hole), Diameter: hole, Cut: true})
	if needed, ok := h.si(p, derive.NoPoint, "hole_needed"); ok && needed > hole*1.001 && needed < mostRound {
		o.Rounds = append(o.Rounds, Round{Name: "needed " + h.value(p, derive.NoPoint, "hole_needed").Text, Diameter: needed})
	}
	if bore, ok := siOf(&p.GrommetBore); ok && !h.bore(p).Unknown && h.bore(p).Text != "none" && bore < hole*1.2 {
		o.Rounds = append(o.Rounds, Round{Name: "bore of the grommet " + h.factText(&p.GrommetBore), Diameter: bore})
	}
	if bundle, ok := h.si(p, derive.NoPoint, "bundle"); ok && bundle < mostRound {
		o.Rounds = append(o.Rounds, Round{Name: "what passes " + h.value(p, derive.NoPoint, "bundle").Text, Diameter: bundle, Filled: true})
	}
	if k := h.connector(p); k != nil {
		width, ok := siOf(&k.Width)
		height, also := siOf(&k.Height)
		if ok && also && math.Hypot(width, height) < mostRound {
			o.Face = &Face{Name: "plug " + k.Name.Text() + " " + h.factText(&k.Width) + " by " + h.factText(&k.Height), Width: width, Height: height}
		}
	}
	h.add(Block{Heading: heading, Outline: o, Half: o.narrow()})
}

// halfRound is what half a page holds of an outline.
const halfRound = 0.07

// narrow reports whether half a page holds an outline.
func (o *Outline) narrow() bool {
	widest := 0.0
	for _, r := range o.Rounds {
		widest = math.Max(widest, r.Diameter)
	}
	if o.Face != nil {
		widest = math.Max(widest, math.Hypot(o.Face.Width, o.Face.Height))
	}
	return widest <= halfRound
}

// connector is the plug that must pass a hole; nil for none that is named and there.
func (h *holes) connector(p *schema.Passage) *schema.Connector {
	name, ok := p.LargestConnector.Get()
	if !ok {
		return nil
	}
	for i := range h.Design.Connectors.Items {
		if k := &h.Design.Connectors.Items[i]; k.Name.Known() && k.Name.Text() == name {
			return k
		}
	}
	return nil
}

// sensorName is what an exhaust sensor is called.
func (h *holes) sensorName(x *schema.OxygenSensor) string {
	if text, ok := x.Name.Get(); ok {
		return "exhaust sensor, " + text
	}
	return "exhaust sensor"
}

// sensor is where an exhaust sensor is fitted.
func (h *holes) sensor(x *schema.OxygenSensor) {
	name := h.sensorName(x)
	t := h.factTable("Where it sits: "+name, [][2]any{{"along the pipe from the nearest port", &x.DistanceFromPort}, {"behind where the last cylinder joins", &x.DistanceAfterMerge},
		{"to the open end", &x.DistanceToOpenEnd}, {"catalyst", &x.CatalystSide}, {"angle from straight up", &x.AngleFromTop}, {"fixed by", &x.Fixing}, {"its cable to the exhaust", &x.CableExhaustClearance}})
	c := &Clock{Title: "Where it points: " + name, Describes: "The pipe seen from behind, with the sensor at its angle and the part of the pipe where it may sit",
		Most: math.Pi/2 - h.limits("sensors/oxygen.not-hanging").fineLow, Text: h.fact(&x.AngleFromTop).Text}
	if list := h.badAt(x.Path()); len(list) > 0 {
		c.Bad = list[0]
	}
	c.Angle, c.Known = siOf(&x.AngleFromTop)
	h.add(Block{Heading: "Where it sits: " + name, Table: t, Half: true})
	h.add(Block{Heading: capitalised(name), Clock: c, Half: true, Paras: []string{"Drill from outside with the pipe off or the hole facing down, deburr, and weld the bush with the sensor out of it. Burn no galvanised or painted metal without fresh air, and no fuel vapour near."}})
}
