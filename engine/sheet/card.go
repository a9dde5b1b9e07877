package sheet

import "plumbline/schema"

// cardPaper is one small page for the glove box: fuses, pressure, fuel, what to do when it does not start or smells of fuel.
func cardPaper(m *maker) {
	d := m.Design
	m.paper.Small = true
	m.add(Block{Heading: "In an emergency", Paras: []string{"Smell of fuel or fire: key off, everybody out and away, then the extinguisher and the fire brigade. Crash: key off; the battery is cut where: ____________"}})
	t := &Table{Caption: "Figures", Heads: []string{"what", "is"}}
	row := func(what string, f schema.Reading) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: what}, m.fact(f)}})
	}
	row("fuel pressure", &d.Regulator.Setting)
	if d.Setup.Ethanol.Known() {
		row("ethanol in the fuel", &d.Setup.Ethanol)
	} else {
		row("ethanol in the fuel", &d.Fuel.Ethanol)
	}
	if d.Pump.InertiaSwitch.Presence() != schema.Absent {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: "crash switch of the pump"}, {Text: "where:", Blank: true}}})
	}
	t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: "shop, telephone"}, {Blank: true}}})
	m.add(Block{Heading: "Figures", Table: t})
	m.cardFuses()
	hum := "Pump does not hum at key on: its fuse, its relay, the crash switch (look for fuel first). Pump hums, engine turns, no start: do not keep trying, the exhaust fills; call the shop. Runs badly: loose plug or ground first."
	if d.Pump.InertiaSwitch.Presence() == schema.Absent {
		hum = "Pump does not hum at key on: its fuse, then its relay. Pump hums, engine turns, no start: do not keep trying, the exhaust fills; call the shop. Runs badly: loose plug or ground first."
	}
	m.add(Block{Heading: "It does not start", Paras: []string{hum}})
}

// mostCardFuses is how many fuses a card holds.
const mostCardFuses = 9

// cardFuses are the fuses with what stops when they blow.
func (m *maker) cardFuses() {
	t := &Table{Caption: "Fuses: never a larger one", Heads: []string{"fuse", "stops", "place"}}
	more := 0
	for i := range m.Design.Circuits.Items {
		c := &m.Design.Circuits.Items[i]
		if c.Fuse.Presence() != schema.Present {
			continue
		}
		if len(t.Rows) == mostCardFuses {
			more++
			continue
		}
		f := &c.Fuse.Part
		place := m.fact(&f.Place)
		t.Rows = append(t.Rows, Row{Cells: []Cell{m.fact(&f.Rating), {Text: m.circuitName(c)}, place}})
	}
	if len(t.Rows) == 0 {
		t.Rows = []Row{{Cells: []Cell{{Blank: true}, {Blank: true}, {Blank: true}}}, {Cells: []Cell{{Blank: true}, {Blank: true}, {Blank: true}}}}
	}
	b := Block{Heading: "Fuses: never a larger one", Table: t}
	if more > 0 {
		b.Paras = []string{m.counted(more, "fuse more stands", "fuses more stand") + " on the sheet of the wires."}
	}
	m.add(b)
}
