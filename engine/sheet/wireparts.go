package sheet

import (
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// grounds lists the straps between ground points, and the charge cable.
func (w *wireList) grounds() *Table {
	t := &Table{Caption: "Straps and cables to make", Heads: []string{"cable", "from", "to", "size", "cut", "surface", "insulation", "fuse", "bolted where", "done"}}
	row := func(mark, path string, cells ...Cell) {
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{{Text: mark, Bad: first(w.badAt(path))}}, cells...)})
	}
	for i := range w.Design.Grounds.Items {
		g := &w.Design.Grounds.Items[i]
		long := w.cut("", g.Path(), "ground cable", &g.Size, &g.Length, nil, nil)
		row("G"+strconv.Itoa(i+1), g.Path(), w.named(&g.Name), w.named(&g.To), long.Cells[1], long.Cells[2], w.fact(&g.Surface), Cell{Text: "—"}, Cell{Text: "—"}, Cell{Blank: true}, Cell{Tick: true})
	}
	if c := &w.Design.Alternator.ChargeCable; c.Size.Known() || c.Length.Known() {
		long := w.cut("", c.Path(), "charge cable", &c.Size, &c.Length, nil, nil)
		fuse := Cell{Text: unknown, Unknown: true}
		switch c.Fuse.Presence() {
		case schema.Present:
			fuse = w.fact(&c.Fuse.Part.Rating)
			if at := w.factText(&c.Fuse.Part.DistanceFromBattery); at != "" {
				fuse.Text += ", " + at + " from the battery"
			}
		case schema.Absent:
			fuse = Cell{Text: "none"}
		}
		row("C1", c.Path(), Cell{Text: "alternator"}, Cell{Text: "battery +"}, long.Cells[1], long.Cells[2], Cell{Text: "—"}, w.fact(&c.InsulationRating), fuse, Cell{Blank: true}, Cell{Tick: true})
	}
	return t
}

// named is a name that other parts refer to, as people say it.
func (w *wireList) named(f *schema.Fact[string]) Cell {
	if name, ok := f.Get(); ok {
		return Cell{Text: strings.ReplaceAll(name, "_", " ")}
	}
	return Cell{Text: unknown, Unknown: true}
}

// signals are the wires that no circuit holds: of the sensors, of the speed signal, and of the coils of the relays.
func (w *wireList) signals() *Table {
	d := w.Design
	t := &Table{Caption: "Signals and relay coils", Heads: []string{"of", "how many, which way", "what is known", "place in the plug", "colour", "size", "cut", "done"}}
	row := func(of, way, known string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: of}, {Text: way}, {Text: known}, {Blank: true}, {Blank: true}, {Blank: true}, {Blank: true}, {Tick: true}}})
	}
	for i := range d.Circuits.Items {
		if c := &d.Circuits.Items[i]; c.Relay.Presence() == schema.Present {
			way := "2: one fed, one switched"
			if c.Purpose.Text() == "fuel_pump" && d.Pump.InertiaSwitch.Presence() == schema.Present && d.Pump.InertiaSwitch.Part.Opens.Text() == "pump_relay_coil" {
				way = "2: one fed, one switched; the crash switch lies in this one"
			}
			row("coil of the relay of the "+w.circuitName(c), way, w.phrase(w.saying("fed from ", &c.Relay.Part.CoilFeed, ""), w.saying("", &c.Relay.Part.Suppression, " across it")))
		}
	}
	if n, ok := d.Sensors.Coolant.Wires.Get(); ok && n == 1 {
		row("coolant sensor", "1: signal; the engine is its ground", "")
	} else {
		row("coolant sensor", "2: signal, sensor ground", "")
	}
	row("air sensor", "2: signal, sensor ground", "")
	if d.Setup.LoadSignal.Text() != "throttle_position" {
		row("manifold pressure sensor", "3: reference, signal, sensor ground", w.saying("reference ", &d.Sensors.ReferenceVoltage, ""))
	}
	row("throttle position sensor", "3: reference, signal, sensor ground", w.saying("reference ", &d.Sensors.ReferenceVoltage, ""))
	for i := range d.OxygenSensors.Items {
		x := &d.OxygenSensors.Items[i]
		row("exhaust sensor"+w.saying(" ", &x.Name, ""), "its signal wires, by its own sheet", w.saying("", &x.Kind, ""))
	}
	row("speed signal", w.phrase("1 or as its cable has", w.saying("from ", &d.Sensors.SpeedSignal.Source, "")), w.phrase(w.saying("", &d.Sensors.SpeedSignal.Cable, ""), w.saying("shield grounded at ", &d.Sensors.SpeedSignal.ShieldGroundedEnds, " end")))
	if idle := w.factText(&d.ThrottleBody.IdleAir); idle != "" {
		row("idle air", "by its own sheet", idle)
	}
	return t
}

// fuses lists the fuses and relays by circuit: what stops when one blows.
func (w *wireList) fuses() *Table {
	t := &Table{Caption: "What each fuse and relay is for", Heads: []string{"circuit", "fuse", "steady current", "the wires bear at most", "relay contact", "coil fed from", "sits in"}}
	for i := range w.Design.Circuits.Items {
		c := &w.Design.Circuits.Items[i]
		cells := []Cell{{Text: w.circuitName(c), Bad: first(w.badAt(c.Path() + ".fuse"))}}
		switch c.Fuse.Presence() {
		case schema.Present:
			cell := w.fact(&c.Fuse.Part.Rating)
			if kind := w.factText(&c.Fuse.Part.Kind); kind != "" {
				cell.Text += ", " + kind
			}
			cells = append(cells, cell, w.value(c, derive.NoPoint, "steady_current"), w.value(c, derive.NoPoint, "fuse_ceiling"))
		case schema.Absent:
			cells = append(cells, Cell{Text: "none"}, w.value(c, derive.NoPoint, "steady_current"), Cell{Text: "—"})
		default:
			cells = append(cells, Cell{Text: unknown, Unknown: true}, w.value(c, derive.NoPoint, "steady_current"), Cell{Text: "—"})
		}
		switch c.Relay.Presence() {
		case schema.Present:
			cells = append(cells, w.fact(&c.Relay.Part.ContactRating), w.fact(&c.Relay.Part.CoilFeed))
		case schema.Absent:
			cells = append(cells, Cell{Text: "none"}, Cell{Text: "—"})
		default:
			cells = append(cells, Cell{Text: unknown, Unknown: true}, Cell{Text: "—"})
		}
		sits := Cell{Text: "—"}
		if c.Fuse.Presence() == schema.Present {
			sits = w.fact(&c.Fuse.Part.Place)
		}
		t.Rows = append(t.Rows, Row{Cells: append(cells, sits)})
	}
	return t
}
