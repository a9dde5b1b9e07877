package sheet

import (
	"math"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// handOverPaper is for the customer, in plain words: what was done, what is different, what to watch, what stays open.
func handOverPaper(m *maker) {
	m.paper.Use = "For whoever drives it and whoever works on it next. Keep it with the vehicle."
	if engine.StageRank(m.Report.Stage) < engine.StageRank("started") {
		m.add(Block{Heading: "Not yet", Paras: []string{"The vehicle has not run yet. This sheet is filled in and given when it has passed the last gate of the start-up sheet, and not before."}})
	}
	m.add(Block{Heading: "What was fitted", Half: true, Table: m.fitted("What was fitted")})
	m.add(Block{Heading: "What is different now", Half: true, Paras: m.different()})
	m.add(Block{Heading: "What not to change", Half: true, Paras: m.leaveAlone()})
	m.add(Block{Heading: "As handed over", Paras: []string{"A later mechanic may call a reading good while it lies in the last column."}, Table: m.asHandedOver()})
	m.service()
	m.leftOpen()
	m.regionsAsk()
	m.add(Block{Heading: "Handed over", Half: true, Paras: []string{"Shown and explained: key, wait and start; the smell of fuel; the switch that cuts the pump; the papers."}, Table: &Table{Caption: "Handed over", Heads: []string{"what", "is"},
		Rows: []Row{{Cells: []Cell{{Text: "odometer"}, {Blank: true}}}}}, Sign: "Shop:"})
	m.add(Block{Heading: "Received", Half: true, Sign: "Customer:"})
}

// phrase joins what is known, between words; "" where nothing is.
func (m *maker) phrase(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

// saying prints a stated fact between words; "" while it is not stated.
func (m *maker) saying(before string, f schema.Reading, after string) string {
	if text := m.factText(f); text != "" {
		return before + text + after
	}
	return ""
}

// fitted is what was fitted, a line for each system.
func (m *maker) fitted(caption string) *Table {
	d := m.Design
	t := &Table{Caption: caption, Heads: []string{"system", "what it is"}}
	row := func(name, text, path string) {
		c := Cell{Text: text}
		if text == "" {
			c = Cell{Text: unknown, Unknown: true, Blank: true, Fills: []string{path}}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: name}, c}})
	}
	row("throttle body", m.phrase(m.saying("", &d.ThrottleBody.Bores, " bores"), m.saying("", &d.ThrottleBody.Injectors.Count, " injectors")), d.ThrottleBody.Bores.Path())
	row("fuel pump", m.saying("electric, ", &d.Pump.Place, ""), d.Pump.Place.Path())
	row("fuel pressure", m.phrase(m.saying("", &d.Regulator.Setting, ", held by the regulator"), m.saying("", &d.Regulator.Style, "")), d.Regulator.Setting.Path())
	back := ""
	switch d.ReturnLine.Presence() {
	case schema.Present:
		back = "there is one: most of the fuel goes back to the tank"
	case schema.Absent:
		back = "none"
	}
	row("line back to the tank", back, d.ReturnLine.Path())
	if d.SecondTank.Presence() == schema.Present {
		row("second tank", "there is one", d.SecondTank.Path())
	}
	row("controller", m.saying("", &d.Controller.Place, ""), d.Controller.Place.Path())
	sensor := ""
	if n := len(d.OxygenSensors.Items); n > 0 {
		sensor = m.note(itoa(n), "how many exhaust sensors") + " in the exhaust"
	} else if d.OxygenSensors.Known() {
		sensor = "none"
	}
	row("exhaust sensor", sensor, d.OxygenSensors.Path())
	row("spark timed by", m.saying("", &d.Ignition.Mode, ""), d.Ignition.Mode.Path())
	pump := ""
	switch d.Pump.InertiaSwitch.Presence() {
	case schema.Present:
		pump = "there is one"
	case schema.Absent:
		pump = "none"
	}
	row("switch that cuts the pump in a crash", pump, d.Pump.InertiaSwitch.Path())
	return t
}

// different is what a driver has to know.
func (m *maker) different() []string {
	d := m.Design
	var out []string
	wait := "Turn the key on and wait until the pump stops humming, then start."
	if t := m.factText(&d.Pump.PrimeTime); t != "" {
		wait = "Turn the key on, wait " + t + " until the pump stops humming, then start. No foot on the pedal."
	}
	out = append(out, wait, "Smell of fuel: key off, do not start, no flame, everybody out, the shop is called. Fuel under pressure sprays.")
	if d.Pump.InertiaSwitch.Presence() != schema.Absent {
		out = append(out, "After a hard knock the switch that cuts the pump may have opened, and the engine turns but does not start. Look under the vehicle for fuel first; only where all is dry it is reset. It sits: ____________________")
	}
	if share := m.factText(&d.Setup.Ethanol); share != "" {
		out = append(out, "Fuel: the controller was set up for fuel with "+share+" of ethanol. Fill in another kind only after the shop has said that lines, pump and settings stand it.")
	} else if share := m.factText(&d.Fuel.Ethanol); share != "" {
		out = append(out, "Fuel: built for fuel with "+share+" of ethanol. Fill in another kind only after the shop has said that lines, pump and settings stand it.")
	} else {
		out = append(out, "Fuel: ____________________ and no other kind before the shop has said that lines, pump and settings stand it.")
	}
	out = append(out, "Never take a battery cable off while the engine runs. For help from another battery keep both engines off until the cables are on, the right way round. A charger goes on with the key off.",
		"A lamp or a number that was not there before, a stumble, a pump that hums on with the engine still: ask before driving far.",
		"Exhaust gas kills without a smell: never run it in a closed garage. Headache or tiredness on the road: windows open, stop, get out.")
	return out
}

// leaveAlone is what must stay as it is.
func (m *maker) leaveAlone() []string {
	out := []string{"The regulator's screw, the ground straps and where they are bolted, the fuses' sizes, the wires at the battery.",
		"Fuel hose is renewed only with hose of the same marking, in fuel with one that may lie in it, each end with an injection clamp. Ordinary hose bursts or dissolves.",
		"No second pump, no filter finer or in another place, no electric load on the wires of the pump or the controller."}
	if m.Design.Regulator.Reference.Text() == "atmosphere" {
		out = append(out, "The small port of the regulator stays open to the air, clean, and with no hose on it.")
	}
	return out
}

// asHandedOver are the readings at the end, with the band in which a later mechanic may call them good.
func (m *maker) asHandedOver() *Table {
	t := &Table{Caption: "As handed over", Heads: []string{"what", "as handed over", "good between"}}
	for _, x := range m.taken() {
		_, fine, _ := m.words(nil, x.dimension, x.band)
		if fine == "" {
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: x.do}, m.fact(x.got), {Text: fine}}})
	}
	return t
}

// taken are the readings of the start-up sheet that a fact holds and a band judges.
func (m *maker) taken() []taken {
	scratch := &maker{Job: m.Job, paper: &Paper{}}
	var out []taken
	readings := newStartUp(scratch).readings
	m.paper.Figures = append(m.paper.Figures, scratch.paper.Figures...)
	for _, x := range readings {
		if x.got != nil && !x.band.none() {
			out = append(out, x)
		}
	}
	return out
}

// service is what is looked after, when and why; what is not known is written by the shop.
func (m *maker) service() {
	d := m.Design
	t := &Table{Caption: "Service", Heads: []string{"what", "when", "why", "due"}}
	row := func(what, when, why string) {
		c := Cell{Text: when}
		if when == "" {
			c = Cell{Blank: true}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: what}, c, {Text: why}, {Blank: true}}})
	}
	row("every joint and clamp of the fuel line", "after the first hot run and the first week", "hose and clamps settle when they have been hot once")
	row("fuel filter", "", "what comes off an old tank collects in it; a full filter starves the engine at full load first")
	if life := m.figure("fuel/hose", "limit.hose_life"); !math.IsNaN(life) {
		if q, err := quantity.New(life, quantity.DimTime); err == nil {
			row("fuel hoses and their clamps", "at "+m.note(q.Format(m.Units), "fuel/hose.hose_life")+" at the latest", "hose hardens from inside and out, cracks and weeps")
		}
	}
	row("ground straps: clean, tight", "with every inspection", "a bad ground makes every sensor lie")
	if len(d.OxygenSensors.Items) > 0 {
		row("exhaust sensor", "", "a slow sensor makes the controller give the wrong fuel")
	}
	row("air cleaner", "", "its dirt is read as less air")
	m.add(Block{Heading: "Service", Paras: []string{"Where no time stands, the maker's sheet of the part says it; the shop writes it in."}, Table: t})
}

// mostOpen is how many findings are told a customer.
const mostOpen = 8

// leftOpen is what was conceded, what is wrong, and how much nobody judged.
func (m *maker) leftOpen() {
	t := &Table{Caption: "What stays open", Heads: []string{"what", "why it stays", "until", "seen, signed"}}
	open := 0
	for i := range m.Report.Findings {
		f := &m.Report.Findings[i]
		switch {
		case f.Conceded != nil && (f.Outcome == engine.Fail || f.Outcome == engine.Warn):
			m.noteNumbers(f.Title)
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: f.Title}, {Text: m.note(f.Conceded.Reason, "a concession") + "; granted by " + f.Conceded.By}, {Text: f.Conceded.Until}, {Blank: true}}})
		case f.Outcome == engine.Open && engine.StageRank(f.Due) <= engine.StageRank("handed_over") && !f.Sense:
			open++
		}
	}
	list, grave := m.wrong(), false
	for i, f := range list {
		grave = grave || f.Danger.Grave()
		if i >= mostOpen {
			continue
		}
		m.noteNumbers(f.Text)
		until, signed := Cell{Blank: true}, Cell{Blank: true}
		if f.Danger.Grave() {
			until, signed = Cell{Text: "before it is driven"}, Cell{Text: "is not left so"}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: f.Text, Bad: m.badNumber(f)}, {Text: "not mended yet"}, until, signed}})
	}
	b := Block{Heading: "What stays open, or was refused"}
	switch {
	case len(t.Rows) > 0:
		b.Table = t
	default:
		b.Paras = append(b.Paras, "Nothing is known to be wrong.")
	}
	if grave {
		b.Paras = append(b.Paras, "Not handed over like this: what endangers people is mended first.")
	}
	if more := len(list) - mostOpen; more > 0 {
		b.Paras = append(b.Paras, m.counted(more, "thing more is wrong", "things more are wrong")+", on the job sheet.")
	}
	if open > 0 {
		b.Paras = append(b.Paras, m.counted(open, "point", "points")+" could not be judged, because something about the vehicle is not known: see the job sheet.")
	}
	m.add(b)
}

// regionsAsk is what the place of use asks, and who confirms it.
func (m *maker) regionsAsk() {
	t := &Table{Caption: "What the place of use asks", Heads: []string{"place", "rules not met", "rules not judged", "to be confirmed", "done"}}
	for _, r := range m.Report.Regions {
		m.noteNumbers(r.Confirm)
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: r.Title}, {Text: m.note(itoa(r.NotMet), "rules of "+r.Name)}, {Text: m.note(itoa(r.Open), "rules of "+r.Name)}, {Text: r.Confirm}, {Tick: true}}})
	}
	b := Block{Heading: "What the place of use asks", Half: true}
	if len(t.Rows) > 0 {
		b.Table = t
		b.Paras = []string{"This tells which rules were read and how they came out. Whether the vehicle may be used so, the authority there decides."}
	} else {
		b.Paras = []string{"Nobody said where it is used, so no rules of a place were looked at. It is used in: ____________________"}
	}
	m.add(b)
}
