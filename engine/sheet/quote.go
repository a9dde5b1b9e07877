package sheet

import (
	"slices"
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema"
)

// quotePaper is for the customer before the work: what is fitted, what is known and what is not, steps and parts with room for hours
// and prices. No price stands on it: the shop writes it.
func quotePaper(m *maker) {
	m.paper.Use = "What the shop would do to this vehicle, and on what it rests. Hours and prices are written by the shop; none is made up here."
	m.add(Block{Heading: "What is fitted", Half: true, Table: m.fitted("What is fitted")})
	m.proof()
	m.decides()
	m.knownOrNot()
	m.refused()
	m.steps()
	m.partsPriced()
	m.regionsAsk()
	m.add(Block{Heading: "Agreed", Half: true, Table: &Table{Caption: "Agreed", Heads: []string{"what", "is"}, Rows: []Row{{Cells: []Cell{{Text: "parts, together"}, {Blank: true}}}, {Cells: []Cell{{Text: "work, together"}, {Blank: true}}},
		{Cells: []Cell{{Text: "tax"}, {Blank: true}}}, {Cells: []Cell{{Text: "total, and how long it holds"}, {Blank: true}}}, {Cells: []Cell{{Text: "asked again before more is spent than"}, {Blank: true}}}}}, Sign: "Customer:"})
}

// proof is what will be measured when it is done.
func (m *maker) proof() {
	var out []string
	if pressure := m.value(m.Design, derive.Idle, "throttle_body_pressure"); !pressure.Unknown {
		out = append(out, pressure.Text+" at the throttle body at idle")
	}
	if pressure := m.value(m.Design, derive.FullLoad, "throttle_body_pressure"); !pressure.Unknown {
		out = append(out, pressure.Text+" at full load")
	}
	if volts := m.value(m.Design, derive.Idle, "pump_voltage"); !volts.Unknown {
		out = append(out, volts.Text+" at the pump")
	}
	text := "It is proved with the gauge and the meter before it is handed over, on a sheet that stays with the vehicle."
	if len(out) > 0 {
		text += " To be seen there: " + strings.Join(out, ", ") + "."
	}
	paras := []string{text}
	if gives := m.value(m.Design, derive.FullLoad, "pump_capacity"); !gives.Unknown {
		if need := m.value(m.Design, derive.FullLoad, "fuel_demand"); !need.Unknown {
			paras = append(paras, "The pump could give "+gives.Text+"; at full load the engine takes "+need.Text+".")
		}
	}
	if duty := m.value(m.Design, derive.FullLoad, "injector_duty"); !duty.Unknown {
		paras = append(paras, "At full load the injectors are open "+duty.Text+" of the time.")
	}
	m.add(Block{Heading: "How it is proved", Half: true, Paras: paras})
}

// mostFoundOut is how many facts are told that are not known.
const mostFoundOut = 10

// knownOrNot is what is known of the vehicle, what was taken as usual, and what is found out when it is apart.
func (m *maker) knownOrNot() {
	d := m.Design
	t := &Table{Caption: "Known, taken as usual, found out", Heads: []string{"about", "is", "so far"}}
	for _, f := range []schema.Reading{&d.Engine.Displacement, &d.Engine.Power, &d.Tank.Material, &d.Tank.Inside, &d.Fuel.Ethanol, &d.Alternator.RatedOutput} {
		c := m.fact(f)
		so := "the customer's word, or seen"
		if c.Unknown {
			so = "to be found out"
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: NameOf(d, f.Path())}, c, {Text: so}}})
	}
	for i, a := range m.Report.Assumed {
		if i == mostFoundOut {
			break
		}
		m.noteNumbers(a.Value)
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: NameOf(d, a.Path)}, {Text: a.Value}, {Text: "taken as usual, nobody measured it"}}})
	}
	asked, later := 0, 0
	for _, q := range m.Report.Asked {
		if asked == mostFoundOut {
			break
		}
		if strings.HasPrefix(q.Path, d.Measured.Path()) || strings.HasPrefix(q.Path, d.Procedure.Path()) {
			later++ // that is found when it runs
			continue
		}
		if f := d.FactAt(q.Path); f != nil && f.Known() {
			later++ // what is asked is another word for it
			continue
		}
		if slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Cells[0].Text == NameOf(d, q.Path) }) {
			continue
		}
		asked++
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: NameOf(d, q.Path)}, {Text: unknown, Unknown: true, Blank: true, Fills: []string{q.Path}}, {Text: "to be found out"}}})
	}
	paras := []string{"What is found out later can change the price. The shop asks before it spends more."}
	if more := len(m.Report.Asked) - asked - later; more > 0 {
		paras = append(paras, m.counted(more, "point more is", "points more are")+" open, on the job sheet.")
	}
	m.add(Block{Heading: "What we know, what we took as usual, what we find out", Paras: paras, Table: t})
}

// refused is what the shop will not do as it is planned.
func (m *maker) refused() {
	t := &Table{Caption: "Not like this", Heads: []string{"what", "instead", "refused by the customer, signed"}}
	list := m.wrong()
	for _, f := range list[:min(len(list), mostOpen)] {
		m.noteNumbers(f.Text, f.Remedy)
		signed := Cell{Blank: true}
		if f.Danger.Grave() {
			signed = Cell{Text: "is not left so"}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: f.Text, Bad: m.badNumber(f)}, {Text: f.Remedy}, signed}})
	}
	if len(t.Rows) == 0 {
		return
	}
	paras := []string{"What endangers people is not left so, signed or not."}
	if more := len(list) - len(t.Rows); more > 0 {
		paras = append(paras, m.counted(more, "thing more like these is", "things more like these are")+" on the job sheet.")
	}
	m.add(Block{Heading: "What we will not do as it stands", Paras: paras, Table: t})
}

// wrong are the findings that are wrong and not conceded, in the order of the job sheet.
func (m *maker) wrong() []*engine.Finding {
	var out []*engine.Finding
	for i := range m.Report.Findings {
		if f := &m.Report.Findings[i]; f.Outcome == engine.Fail && f.Conceded == nil {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(x, y *engine.Finding) int { return m.badNumber(x) - m.badNumber(y) })
	return out
}

// decides is what the customer decides, of what is not decided yet.
func (m *maker) decides() {
	t := &Table{Caption: "To be decided by the customer", Heads: []string{"what", "yes", "no"}}
	d := m.Design
	for _, x := range []struct {
		text string
		done bool
	}{{"the dash gauges and their senders stay", d.Gauges.Known()}, {"the distributor keeps its own advance", d.Ignition.Mode.Known()}, {"fuel with much ethanol will be used", d.Fuel.Ethanol.Known()},
		{"a set of spare fuses and a relay go along", false}, {"old parts go back to the customer", false}} {
		if !x.done {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: x.text}, {Tick: true}, {Tick: true}}})
		}
	}
	m.add(Block{Heading: "To be decided by the customer", Half: true, Table: t})
}

// steps are the steps of the work that this vehicle asks for, with room for hours and price.
func (m *maker) steps() {
	d := m.Design
	t := &Table{Caption: "The work, in order", Heads: []string{"step", "what", "hours", "price"}}
	step := func(text string, is bool) {
		if is {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: itoa(len(t.Rows) + 1)}, {Text: text}, {Blank: true}, {Blank: true}}})
		}
	}
	not := func(f schema.Reading, words ...string) bool { return !slices.Contains(words, f.Text()) }
	in := d.Pump.Place.Text() == "in_tank"
	step("Condition of vehicle and engine taken down with the customer", true)
	step("Fuel drained, tank out, cleaned, looked into", in || d.Tank.Change.Text() != "unchanged")
	step("Tank: place for pump and return made, plate and seal fitted, tested tight", in)
	step("Surge tank fitted", d.SurgeTank.Presence() == schema.Present)
	step("Pump and filter mounted on the frame", !in)
	step("Fuel line laid and clipped", true)
	step("Line back to the tank laid and clipped", d.ReturnLine.Presence() != schema.Absent)
	step("Old mechanical pump off, its place closed", not(&d.Engine.OldMechanicalPump, "never_fitted"))
	step("Carburettor off, adapter and throttle body on, linkage and springs set", true)
	step("Link to the automatic transmission set", d.Vehicle.AutomaticTransmission.Presence() == schema.Present)
	step("Exhaust off, bush for the sensor welded, exhaust on and tested tight", len(d.OxygenSensors.Items) > 0 || !d.OxygenSensors.Known())
	step("Sensors for coolant, air and manifold pressure fitted", true)
	step("Speed signal connected; ignition set up", true)
	step("Controller mounted, harness laid through its holes, grounds made", true)
	step("Battery, charging and ground straps measured and put right", true)
	step("Settings entered and held against the parts", true)
	step("First start by the sheet, gate by gate; road; second hot run and joints again", true)
	step("Papers, hand-over, what the place of use asks", true)
	m.add(Block{Heading: "The work", Table: t})
}

// inShort are the small parts that a quote tells in one line: what they are called on the order list, and in the quote.
var inShort = []struct{ heading, part, told string }{
	{"Lines", "clamp", "clamps and clips"}, {"Lines", "clip", "clamps and clips"},
	{"Intake, throttle, tank", "gasket", "gaskets, springs, seals and small parts"}, {"Intake, throttle, tank", "return spring", "gaskets, springs, seals and small parts"},
	{"Intake, throttle, tank", "cover and gasket", "gaskets, springs, seals and small parts"}, {"Intake, throttle, tank", "throttle linkage", "gaskets, springs, seals and small parts"},
	{"Intake, throttle, tank", "strainer", "gaskets, springs, seals and small parts"}, {"Intake, throttle, tank", "seal of the tank's plate", "gaskets, springs, seals and small parts"},
	{"Controller and sensors", "coolant sensor with its plug", "sensors"}, {"Controller and sensors", "air sensor with its plug", "sensors"}, {"Controller and sensors", "manifold pressure sensor and hose", "sensors"},
	{"Controller and sensors", "bush for the exhaust sensor", "bush, signal wire, covering, shields"}, {"Controller and sensors", "signal wire for the speed", "bush, signal wire, covering, shields"},
	{"Controller and sensors", "covering of the harness", "bush, signal wire, covering, shields"}, {"Controller and sensors", "heat shield", "bush, signal wire, covering, shields"},
	{"Wire, fuses, relays", "wire", "wire and cable"}, {"Wire, fuses, relays", "wire for sensors and relay coils", "wire and cable"}, {"Wire, fuses, relays", "fuse", "fuses"}, {"Wire, fuses, relays", "holder, a place for each fuse", "fuses"}, {"Wire, fuses, relays", "relay with base", "relays with their bases"},
	{"Wire, fuses, relays", "", "terminals, splices and seals"}, {"Holes", "", "linings of the holes"},
}

// toldShort is what a part is told with in a quote; "" for one that has a line of its own.
func toldShort(heading, part string) string {
	for _, x := range inShort {
		if x.heading == heading && (x.part == part || x.part == "") {
			return x.told
		}
	}
	return ""
}

// partsPriced are the parts of the order list with room for prices: those that a customer would ask about by themselves, the small
// ones together.
func (m *maker) partsPriced() {
	scratch := &maker{Job: m.Job, paper: &Paper{}}
	partsPaper(scratch)
	t := &Table{Caption: "Parts", Heads: []string{"part", "must be", "how many", "price"}}
	for _, b := range scratch.paper.Blocks {
		if b.Table == nil {
			continue
		}
		var shorts []string
		numbers := map[string][]string{}
		for _, r := range b.Table.Rows {
			told := ""
			if r.Over == "" {
				told = toldShort(b.Heading, r.Cells[1].Text)
			}
			switch {
			case r.Over != "":
				t.Rows = append(t.Rows, r)
			case told != "":
				if numbers[told] == nil {
					shorts = append(shorts, told)
				}
				numbers[told] = append(numbers[told], r.Cells[0].Text)
			default:
				t.Rows = append(t.Rows, Row{Cells: []Cell{r.Cells[1], r.Cells[2], r.Cells[4], {Blank: true}}})
			}
		}
		for _, short := range shorts {
			lines := "line "
			if len(numbers[short]) > 1 {
				lines = "lines "
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: short}, {Text: "as on the order list, " + lines + spans(numbers[short])}, {}, {Blank: true}}})
		}
	}
	m.paper.Figures = append(m.paper.Figures, scratch.paper.Figures...)
	m.add(Block{Heading: "Parts", Table: t})
}

// spans writes rising numbers, those that follow each other as from and to.
func spans(numbers []string) string {
	var out []string
	for i := 0; i < len(numbers); {
		last := i
		for last+1 < len(numbers) && follows(numbers[last], numbers[last+1]) {
			last++
		}
		text := numbers[i]
		if last > i {
			text += " to " + numbers[last]
		}
		out, i = append(out, text), last+1
	}
	return strings.Join(out, ", ")
}

func follows(a, b string) bool {
	x, err := strconv.Atoi(a)
	y, also := strconv.Atoi(b)
	return err == nil && also == nil && y == x+1
}
