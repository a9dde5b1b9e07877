package sheet

import (
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// fuelPaper is the way of the fuel: drawn, and as a table of its joints.
func fuelPaper(m *maker) {
	m.paper.Use = "The pressure beside each joint is what a gauge on a tee there would show. Where one reads lower than it should, look at the piece just before it."
	m.paper.Use += " Hose goes over the bead, and the clamp behind it, drawn up as its own sheet says."
	w, f := m.fuelWay()
	m.add(Block{Heading: "The way, drawn", Way: w, Half: len(w.Legs) > mostWide})
	m.add(f.pieces())
	m.add(f.table(w))
	m.add(f.states())
	m.add(Block{Heading: "What the figures rest on", Paras: f.notes()})
}

// mostWide is how many legs are printed one below the other over the whole width.
const mostWide = 3

// fuelWay is the way of the fuel, leg by leg.
func (m *maker) fuelWay() (*Way, *fuelPath) {
	w := &Way{Title: "The way of the fuel", Describes: "From the tank through the pump to the throttle body and back, with the pressure at every joint", Blank: true}
	f := &fuelPath{maker: m, points: m.fuelPoints()}
	for _, p := range f.points {
		w.Points = append(w.Points, pointWords(p))
	}
	d := m.Design
	if m.pumpOutside() {
		w.Legs = append(w.Legs, f.leg("Tank to pump", &d.Suction.Part, d.Suction.Presence(), f.tank(), f.pump()))
		w.Legs = append(w.Legs, f.leg("Pump to throttle body", &d.Feed, schema.Present, nil, f.body()))
	} else {
		w.Legs = append(w.Legs, f.leg("Tank and pump to throttle body", &d.Feed, schema.Present, []Stop{f.tankWithPump()}, f.body()))
	}
	if d.ReturnLine.Presence() != schema.Absent && d.Regulator.Style.Text() != "in_tank" && d.Regulator.Style.Text() != "dead_head" {
		w.Legs = append(w.Legs, f.leg("Back to the tank", &d.ReturnLine.Part, d.ReturnLine.Presence(), f.regulator(), f.tankAgain()))
	}
	second := []Stop{{Symbol: SymbolTank, Name: "second tank", Bad: f.badAt("design.second_tank")}}
	for _, x := range []struct {
		name          string
		line          *schema.Line
		there         schema.Presence
		before, after []Stop
	}{{"Second tank, suction", &d.SecondSuction.Part, d.SecondSuction.Presence(), second, nil}, {"Second tank, feed", &d.SecondFeed.Part, d.SecondFeed.Presence(), second, nil}, {"Back to the second tank", &d.SecondReturn.Part, d.SecondReturn.Presence(), nil, second}} {
		if x.there == schema.Present {
			w.Legs = append(w.Legs, f.leg(x.name, x.line, x.there, x.before, x.after))
		}
	}
	return w, f
}

// fuelPath numbers the joints of the way of the fuel as it is gone along.
type fuelPath struct {
	*maker
	points []derive.Point
	joints int
}

// fuelPoints are the operating points that pressures are told for.
func (m *maker) fuelPoints() []derive.Point {
	return []derive.Point{derive.Cranking, derive.Idle, derive.Cruise, derive.FullLoad}
}

// pumpOutside says that the pump draws through a line of its own.
func (m *maker) pumpOutside() bool {
	switch m.Design.Pump.Place.Text() {
	case "in_tank", "in_surge_tank":
		return false
	}
	return m.Design.Suction.Presence() != schema.Absent
}

// leg goes along one line.
func (f *fuelPath) leg(name string, line *schema.Line, there schema.Presence, before, after []Stop) Leg {
	out := Leg{Name: name, Stops: before, Note: f.climb(line)}
	runs := line.Runs.Items
	var at []int
	var read [][]*derive.Result
	joint := func(end *schema.LineEnd) {
		s, results := f.joint(end)
		at, read = append(at, len(out.Stops)), append(read, results)
		out.Stops = append(out.Stops, s)
	}
	for i := range runs {
		joint(&runs[i].Inlet)
		out.Stops = append(out.Stops, f.run(&runs[i]))
	}
	switch {
	case there == schema.NotStated && len(runs) == 0:
		out.Stops = append(out.Stops, Stop{Symbol: SymbolGap, Path: line.Path(), Name: "nobody said whether there is such a line", Unknown: true})
	case len(runs) == 0:
		out.Stops = append(out.Stops, Stop{Symbol: SymbolGap, Path: line.Path(), Name: "no piece of this line was named", Unknown: true})
	case !line.Runs.Known():
		out.Stops = append(out.Stops, Stop{Symbol: SymbolGap, Path: line.Path(), Name: "more pieces? nobody said that these are all", Unknown: true})
	}
	if len(runs) > 0 && line.Runs.Known() {
		joint(&runs[len(runs)-1].Outlet)
	}
	for i, list := range f.readings(read) {
		out.Stops[at[i]].Readings = list
	}
	out.Stops = append(out.Stops, after...)
	return out
}

// climb says how far a line climbs or falls.
func (f *fuelPath) climb(line *schema.Line) string {
	rise, ok := line.Rise.Get()
	switch {
	case !ok && line.Rise.Ranged():
		return "height of its end over its beginning " + f.note(line.Rise.Text(), line.Rise.Path())
	case !ok:
		return "height of its end over its beginning not known: ______"
	case rise.SI() < 0:
		down := strings.ReplaceAll(f.factText(&line.Rise), "-", "")
		return "falls " + f.note(down, line.Rise.Path(), "downwards") + " on its way"
	case rise.SI() == 0:
		return "ends at the height it begins at"
	}
	return "climbs " + f.factText(&line.Rise) + " on its way"
}

// joint is a joint with what is read there.
func (f *fuelPath) joint(end *schema.LineEnd) (Stop, []*derive.Result) {
	f.joints++
	s := Stop{Symbol: SymbolJoint, Path: end.Path(), Mark: "J" + strconv.Itoa(f.joints), Name: "joint", Bad: f.badAt(end.Path())}
	if j := f.Session.JointAt(end); j != nil {
		s.Name = j.Called()
	}
	fit, _ := f.Session.On(end, derive.NoPoint, "fit").Value().(string)
	switch fit {
	case "":
		s.Details, s.Unknown = []string{"how it is joined is not known: ______"}, true
	case "no_fit":
		s.Details = []string{"these two ends do not go together: an adapter is needed"}
	default:
		s.Details = []string{strings.ReplaceAll(fit, "_", " ")}
	}
	if thread := f.factText(&end.Thread); thread != "" && fit != "hose_on_spigot" {
		s.Details = append(s.Details, thread)
	}
	var out []*derive.Result
	for _, p := range f.points {
		out = append(out, f.Session.On(end, p, "pressure"))
	}
	return s, out
}

// run is one piece of a line.
func (f *fuelPath) run(r *schema.Run) Stop {
	kind := r.Kind.Text()
	s := Stop{Symbol: SymbolHose, Path: r.Path(), Name: piece(r.Path(), r), Bad: f.badAt(r.Path())}
	if name, ok := r.Name.Get(); ok {
		s.Name = name
	}
	f.detail(&s, &r.Zone, "")
	if s.Zone, s.Details = strings.Join(s.Details, ""), nil; s.Zone == "not known: ______" {
		s.Zone = ""
	}
	switch kind {
	case "tube":
		s.Symbol = SymbolTube
	case "filter":
		s.Symbol = SymbolFilter
		f.detail(&s, &r.Filter.Mesh, "")
		return s
	case "fitting":
		s.Symbol = SymbolFitting
		f.detail(&s, &r.Fitting, "")
	case "":
		s.Unknown = true
	}
	f.detail(&s, &r.Bore, "bore")
	if kind == "hose" || kind == "tube" {
		f.detail(&s, &r.Length, "long")
		f.detail(&s, &r.Mark, "")
	}
	return s
}

// detail adds a fact to a stop: what it is called after its value; where nobody stated it, a place to write it.
func (f *fuelPath) detail(s *Stop, fact schema.Reading, called string) {
	switch c := f.fact(fact); {
	case !c.Unknown && called != "":
		s.Details = append(s.Details, c.Text+" "+called)
	case !c.Unknown:
		s.Details = append(s.Details, c.Text)
	case called != "":
		s.Details, s.Unknown = append(s.Details, called+" ______"), true
	default:
		s.Details, s.Unknown = append(s.Details, label(fact.Path())+" ______"), true
	}
}

func (f *fuelPath) pumpDetails(s *Stop) {
	d := f.Design
	flow := f.value(d, derive.FullLoad, "pump_flow")
	if flow.Unknown {
		s.Unknown = true
		for _, fact := range []schema.Reading{&d.Pump.RatedFlow, &d.Pump.RatedPressure} {
			if schema.IsStated(fact) {
				f.detail(s, fact, "printed on it")
			} else {
				f.detail(s, fact, label(fact.Path()))
			}
		}
		return
	}
	s.Details = append(s.Details, flow.Text+" at full load", f.value(d, derive.FullLoad, "pump_voltage").Text)
}

func (f *fuelPath) pump() []Stop {
	s := Stop{Symbol: SymbolPump, Path: "design.pump", Name: "pump", Bad: f.badAt("design.pump"), Zone: f.factText(&f.Design.Pump.Place)}
	f.pumpDetails(&s)
	return []Stop{s}
}

func (f *fuelPath) tankWithPump() Stop {
	s := f.pump()[0]
	s.Name = "pump in the tank"
	if f.Design.Pump.Place.Text() == "in_surge_tank" {
		s.Name = "pump in the surge tank"
	} else if !f.Design.Pump.Place.Known() {
		s.Name, s.Unknown = "pump: in the tank or outside? ______", true
	}
	return s
}

func (f *fuelPath) tank() []Stop {
	s := Stop{Symbol: SymbolTank, Path: "design.tank", Name: "tank", Bad: f.badAt("design.tank")}
	if f.Design.SurgeTank.Presence() == schema.Present {
		s.Name, s.Path, s.Bad = "surge tank", "design.surge_tank", f.badAt("design.surge_tank")
	} else if f.Design.Tank.Strainer.Presence() == schema.Present {
		f.detail(&s, &f.Design.Tank.Strainer.Part.Mesh, "strainer")
	}
	return []Stop{s}
}

func (f *fuelPath) tankAgain() []Stop {
	s := Stop{Symbol: SymbolTank, Path: "design.tank", Name: "tank", Details: []string{"comes in " + f.factText(&f.Design.Tank.ReturnEntry)}}
	if !f.Design.Tank.ReturnEntry.Known() {
		s.Details = []string{"how it comes in is not known: ______"}
	}
	if x := &f.Design.SurgeTank; x.Presence() == schema.Present && x.Part.ReturnTo.Text() == "surge_tank" {
		s.Name, s.Path, s.Details = "surge tank", "design.surge_tank", nil
	}
	return []Stop{s}
}

func (f *fuelPath) body() []Stop {
	s := Stop{Symbol: SymbolBody, Path: "design.throttle_body", Name: "throttle body", Bad: f.badAt("design.throttle_body")}
	if taken := f.value(f.Design, derive.FullLoad, "fuel_demand"); !taken.Unknown {
		s.Details = append(s.Details, "takes "+taken.Text+" at full load")
	}
	return []Stop{s}
}

func (f *fuelPath) regulator() []Stop {
	s := Stop{Symbol: SymbolRegulator, Path: "design.regulator", Name: "regulator", Bad: f.badAt("design.regulator")}
	f.detail(&s, &f.Design.Regulator.Setting, "held")
	if back := f.value(f.Design, derive.Idle, "return_flow"); !back.Unknown {
		s.Details = append(s.Details, back.Text+" go back at idle")
	}
	return []Stop{s}
}

// notes say what the drawing rests on.
func (f *fuelPath) notes() []string {
	out := []string{"The fuel is at its hottest. Where a line climbs nobody stated: its climb is shared out over hose and tube by length."}
	if r := f.Session.On(&f.Design.Fuel, derive.NoPoint, "hot_density"); !r.Known() {
		out[0] += " Pressures are not known while this is not: " + strings.Join(f.namesOf(r.Missing), ", ") + "."
	}
	if f.Design.SecondTank.Presence() == schema.Present {
		out = append(out, "What is read along the lines of the second tank holds with the selector turned to it, and is not worked out here: write down what is read.")
	}
	if r := f.Session.At(derive.Idle, "throttle_body_pressure"); !r.Known() && len(r.Missing) > 0 {
		out = append(out, "No pressure can be told while this is not known: "+listOf(f.namesOf(r.Missing), 5)+".")
	}
	return out
}

// pieces is the cut list of the lines, and what else lies in them.
func (f *fuelPath) pieces() Block {
	t := &Table{Caption: "Every piece, in the order of flow", Heads: []string{"piece", "what", "bore", "outside", "cut", "ends", "bend no tighter", "done"}}
	o := &orderList{maker: f.maker}
	for _, line := range f.lines() {
		for i := range line.Runs.Items {
			r := &line.Runs.Items[i]
			kind := r.Kind.Text()
			cells := []Cell{{Text: NameOf(f.Design, r.Path()), Bad: first(f.badAt(r.Path()))}, {Text: o.listed(o.with("", &r.Kind, ""), o.with("", &r.Mark, ""), o.with("", &r.Material, ""))}, f.fact(&r.Bore), {}, {}, {Text: o.endsOf(r)}, {}, {Tick: true}}
			if kind == "hose" || kind == "tube" {
				cells[3], cells[6] = f.fact(&r.OutsideDiameter), f.fact(&r.BendRadius)
				cells[4] = Cell{Text: unknown, Unknown: true, Blank: true, Fills: []string{r.Length.Path()}}
				if long, ok := r.Length.Get(); ok {
					cells[4] = f.sum([]term{{r.Length.Path(), long.Value}, {allowancePath, f.Allowance}})
				}
				if text := o.with("", &r.Inlet.Held, ""); kind == "hose" && r.Inlet.Kind.Text() == r.Outlet.Kind.Text() && r.Inlet.Held.Text() == r.Outlet.Held.Text() {
					cells[5].Text = "both ends " + text
				}
			}
			if kind == "filter" {
				cells[2] = Cell{}
			}
			t.Rows = append(t.Rows, Row{Cells: cells})
		}
	}
	if len(t.Rows) == 0 {
		return Block{Heading: "Pieces to cut", Paras: []string{"No piece of any line was named."}}
	}
	return Block{Heading: "Pieces to cut", Paras: []string{"The cut has " + f.note(f.Allowance.Format(f.Units), allowancePath) + " for the ends and for truing them up; hose and tube are fitted before they are shortened."}, Table: t}
}

// namesOf are what facts are called, by their paths.
func (m *maker) namesOf(paths []string) []string {
	out := make([]string, len(paths))
	for i, p := range paths {
		out[i] = NameOf(m.Design, p)
	}
	return out
}
