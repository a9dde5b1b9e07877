package sheet

import "plumbline/schema"

// beforePaper is the vehicle and its engine as they came, before anything is taken off.
func beforePaper(m *maker) {
	d := m.Design
	m.paper.Use = "Filled in with the customer beside the vehicle, before anything is taken off. What is found now cannot be said later to come from the conversion; what cannot be found out is struck through, not guessed."
	m.add(Block{Heading: "The vehicle", Half: true, Table: m.asked("The vehicle", []schema.Reading{&d.Vehicle.Description, &d.Vehicle.ModelYear, &d.Condition.Standing, &d.Condition.TyreAge, &d.Condition.BrakeFluidAge, &d.Condition.FuelAge},
		"odometer", "rust at frame, tank straps and floor", "warning lamps that are on", "dents and scratches, seats, carpets")})
	looks := []string{"oil: level, colour, smell of fuel"}
	if d.Engine.Cooling.Text() != "air" {
		looks = append(looks, "coolant: level, colour")
	}
	m.add(Block{Heading: "Before it is turned over", Half: true, Table: m.asked("Before it is turned over", []schema.Reading{&d.Condition.TurnedByHand, &d.Condition.FluidsGood, &d.Condition.PlugsGood, &d.Condition.OldHoseKept, &d.Battery.RestVoltage},
		append(looks, "mounts of engine and gearbox", "brake pedal: height, holds", "leaks seen below")...)})
	m.baseline()
	m.compression()
	t := m.factTable("Before the carburettor comes off", [][2]any{{"from the manifold's flange to the top of the air cleaner", &d.Intake.OldStackHeight}, {"from the air cleaner to the bonnet, measured with soft clay", &d.Intake.OldBonnetClearance},
		{"exhaust gas into the cabin", &d.Exhaust.CabinLeak}})
	if d.Vehicle.AutomaticTransmission.Presence() == schema.Present {
		x := &d.Vehicle.AutomaticTransmission.Part
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: "travel of the transmission's cable or rod, closed to wide open"}, m.fact(&x.OldTravel)}})
	}
	t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: "photographs of engine bay, tank, under the floor: how many"}, {Blank: true}}})
	m.add(Block{Heading: "Before the carburettor comes off", Half: true, Table: t})
	m.add(Block{Heading: "Agreed", Half: true, Paras: []string{"This is how the vehicle came. Work on the fuel system begins only with the tank's contents known and an extinguisher for burning liquids at hand."}, Sign: "Customer:"})
	m.add(Block{Heading: "For the shop", Half: true, Sign: "Shop:"})
}

// asked lists facts with what is known of them, and below them what the design has no fact for, as blanks.
func (m *maker) asked(caption string, facts []schema.Reading, more ...string) *Table {
	t := &Table{Caption: caption, Heads: []string{"what", "found"}}
	for _, f := range facts {
		cell := m.fact(f)
		if yes, ok := f.(*schema.Fact[bool]); ok {
			cell = m.done(yes)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: label(f.Path())}, cell}})
	}
	for _, text := range more {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: text}, {Blank: true}}})
	}
	return t
}

// compression has a place for each cylinder.
func (m *maker) compression() {
	n, ok := m.Design.Engine.Cylinders.Get()
	if !ok {
		n = 8
	}
	each := "cylinder"
	if m.Design.Engine.Cycle.Text() == "rotary" {
		each = "rotor, its three chambers"
	}
	t := &Table{Caption: "Compression, warm, throttle open, every plug out", Heads: []string{each, "dry", "with oil", "plug looks"}}
	for i := range n {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: m.note(itoa(i+1), "cylinder")}, {Blank: true}, {Blank: true}, {Blank: true}}})
	}
	b := Block{Heading: "Compression", Half: true, Paras: []string{"Ignition and fuel off, nobody at the fan. An engine that is worn runs no better injected; say so before it is paid for."}, Table: t}
	if !ok {
		b.Paras = append(b.Paras, "Nobody said how many cylinders there are; strike out the rows that are too many.")
	}
	m.add(b)
}

// baseline is how it ran on its carburettor.
func (m *maker) baseline() {
	r := &m.Design.Condition.RanBefore
	heading := "How it ran as it came, warm, on its carburettor"
	if r.Presence() == schema.Absent {
		m.add(Block{Heading: heading, Half: true, Paras: []string{"It did not run. Nothing can be compared with how it runs later; say so to the customer now."}})
		return
	}
	x := &r.Part
	m.add(Block{Heading: heading, Half: true, Table: m.asked(heading, []schema.Reading{&x.IdleVacuum, &x.IdleSpeed, &x.BaseTiming}, "needle of the vacuum gauge: steady, or how it moves", "smoke, noises", "starts cold, starts hot")})
}
