package sheet

import (
	"slices"
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// currentPaper is the way of the current of each circuit: the ladder of voltages that a meter walks along.
func currentPaper(m *maker) {
	m.paper.Use = "Meter: black lead on the battery's negative post, red lead on one rung after the other, everything running that runs then. " +
		"Where the first rung is right and one further on is more than a tenth of a volt under its figure, the fault lies in the piece just before it."
	l := &ladder{maker: m, marks: wireMarks(m.Design), points: []derive.Point{derive.Cranking, derive.Idle, derive.FullLoad}}
	if n := m.net(); n != nil && !m.Brief {
		m.add(Block{Heading: "Power and grounds, the whole net", Net: n})
	}
	left := 0
	for i := range m.Design.Circuits.Items {
		c := &m.Design.Circuits.Items[i]
		if m.Brief && c.Purpose.Text() != "fuel_pump" && len(m.badAt(c.Path())) == 0 {
			left++
			continue
		}
		l.circuit(c)
	}
	if left > 0 {
		m.add(Block{Heading: "The other circuits", Paras: []string{m.counted(left, "circuit more", "circuits more") + ", of which nothing is known to be wrong: drawn on the sheet of the current."}})
	}
	if len(m.Design.Circuits.Items) == 0 {
		m.add(Block{Heading: "Circuits", Paras: []string{"No circuit was named, so there is no voltage to expect. State the circuits first: source, fuse, relay, wires, load."}})
	}
	if bars, t := m.charging(); bars != nil {
		m.add(Block{Heading: "Charging", Paras: []string{"Every load of the vehicle on. What is left charges the battery; below nothing it is emptied."}, Bars: bars, Table: t, Half: true})
	}
	if c, name := m.fuseChart(); c != nil && !m.Brief {
		m.add(Block{Heading: "Fuse against wire, where there is least room: " + name, Paras: []string{"Wherever both stand over one current, the line of the fuse must lie below that of the wire: then it has opened before the wire is spoilt. A larger fuse moves its line to the right, towards that of the wire."}, Chart: c, Half: true})
	}
	if len(l.assumed) > 0 {
		slices.Sort(l.assumed)
		l.assumed = slices.Compact(l.assumed)
		m.add(Block{Heading: "What the figures rest on", Paras: []string{"Nobody stated these; the figures take them as the library assumes them: " + listOf(l.assumed, 8) + "."}, Half: true})
	}
}

// ladder goes along circuits and numbers the rungs.
type ladder struct {
	*maker
	marks   map[string]string
	points  []derive.Point
	rungs   int
	assumed []string
}

// circuit draws one circuit: the way to its load, and the way back.
func (l *ladder) circuit(c *schema.Circuit) {
	name := l.circuitName(c)
	w := &Way{Title: "The way of the current: " + name, Describes: "From the battery through fuse, relay and wires to the load and back, with the voltage at every joint", Blank: true}
	for _, p := range l.points {
		w.Points = append(w.Points, pointWords(p))
	}
	w.Legs = []Leg{l.there(c, name), l.back(c, name)}
	w.together()
	l.add(Block{Heading: strings.ToUpper(name[:1]) + name[1:], Way: w, Half: true})
	l.add(Block{Heading: name + ": rung by rung", Table: l.table(w), Again: true, Half: true})
}

// there is the way from the source to the load.
func (l *ladder) there(c *schema.Circuit, name string) Leg {
	out := Leg{Name: "Battery to " + name, Note: l.says(c), Lost: true}
	var at []int
	var read [][]*derive.Result
	rung := func(where string, of func(derive.Point) *derive.Result) {
		at, read = append(at, len(out.Stops)), append(read, l.read(of))
		out.Stops = append(out.Stops, l.rung(where))
	}
	switch {
	case c.Source.Text() == "other_circuit":
		parent := l.hangsOn(c)
		out.Stops = append(out.Stops, Stop{Symbol: SymbolWire, Path: c.Path(), Name: "from the " + l.factText(&c.BranchOf)})
		if parent != nil && len(parent.FeedWires.Items) > 0 {
			last := &parent.FeedWires.Items[len(parent.FeedWires.Items)-1]
			rung("where it branches off", func(p derive.Point) *derive.Result { return l.Session.On(last, p, "voltage") })
		}
	default:
		source := Stop{Symbol: SymbolBattery, Path: c.Path(), Name: l.factText(&c.Source)}
		if source.Name == "" {
			source.Name, source.Unknown = "source: ______", true
		}
		out.Stops = append(out.Stops, source)
		where := "battery +"
		if c.Source.Text() != "battery_post" {
			where = "where it begins: " + source.Name
		}
		rung(where, func(p derive.Point) *derive.Result { return l.Session.At(p, "supply_voltage") })
	}
	l.protection(&out, c)
	feed := c.FeedWires.Items
	for i := range feed {
		out.Stops = append(out.Stops, l.wire(&feed[i]))
		where := name + " +"
		if i+1 < len(feed) {
			where = "joint of " + l.marks[feed[i].Path()] + " and " + l.marks[feed[i+1].Path()]
		}
		rung(where, func(p derive.Point) *derive.Result { return l.Session.On(&feed[i], p, "voltage") })
	}
	if !c.FeedWires.Known() {
		out.Stops = append(out.Stops, Stop{Symbol: SymbolGap, Path: c.Path(), Name: "more wires? nobody said that these are all", Unknown: true})
	}
	out.Stops = append(out.Stops, l.load(c, name))
	l.put(&out, at, read)
	return out
}

// back is the way from the load to battery negative.
func (l *ladder) back(c *schema.Circuit, name string) Leg {
	out := Leg{Name: "Back from " + name, Note: "at most this to battery negative"}
	var at []int
	var read [][]*derive.Result
	wires := c.ReturnWires.Items
	for i := range wires {
		where := name + " −"
		if i > 0 {
			where = "joint of " + l.marks[wires[i-1].Path()] + " and " + l.marks[wires[i].Path()]
		}
		at, read = append(at, len(out.Stops)), append(read, l.read(func(p derive.Point) *derive.Result { return l.Session.On(&wires[i], p, "voltage") }))
		out.Stops = append(out.Stops, l.rung(where), l.wire(&wires[i]))
	}
	if !c.ReturnWires.Known() {
		out.Stops = append(out.Stops, Stop{Symbol: SymbolGap, Path: c.Path(), Name: "more wires? nobody said that these are all", Unknown: true})
	}
	ground := Stop{Symbol: SymbolGround, Path: c.Path(), Name: "place of ground: ______", Unknown: true}
	if to, ok := c.ReturnsTo.Get(); ok {
		ground = Stop{Symbol: SymbolGround, Path: c.Path(), Name: strings.ReplaceAll(to, "_", " ")}
	}
	out.Stops = append(out.Stops, ground)
	l.put(&out, at, read)
	return out
}

// says what holds of the whole circuit.
func (l *ladder) says(c *schema.Circuit) string {
	var out []string
	if drop := l.value(c, derive.Idle, "voltage_drop"); !drop.Unknown {
		out = append(out, "loses "+drop.Text+" there and back at idle")
	}
	if most := l.factText(&c.AllowedDrop); most != "" {
		out = append(out, "allowed are "+most)
	}
	if len(out) == 0 {
		return "what it loses cannot be worked out yet"
	}
	return strings.Join(out, ", ")
}

// protection adds fuse and relay.
func (l *ladder) protection(out *Leg, c *schema.Circuit) {
	switch c.Fuse.Presence() {
	case schema.Present:
		s := Stop{Symbol: SymbolFuse, Path: c.Fuse.Path(), Name: "fuse " + l.fact(&c.Fuse.Part.Rating).Text, Bad: l.badAt(c.Fuse.Path())}
		if drop := l.value(c, derive.NoPoint, "fuse_drop"); !drop.Unknown {
			s.Details = append(s.Details, "takes "+drop.Text)
		}
		out.Stops = append(out.Stops, s)
	case schema.NotStated:
		out.Stops = append(out.Stops, Stop{Symbol: SymbolFuse, Path: c.Fuse.Path(), Name: "fuse: ______", Unknown: true})
	}
	switch c.Relay.Presence() {
	case schema.Present:
		s := Stop{Symbol: SymbolRelay, Path: c.Relay.Path(), Name: "relay contact", Bad: l.badAt(c.Relay.Path())}
		if drop := l.value(c, derive.NoPoint, "contact_drop"); !drop.Unknown {
			s.Details = append(s.Details, "takes "+drop.Text)
		}
		out.Stops = append(out.Stops, s)
	case schema.NotStated:
		out.Stops = append(out.Stops, Stop{Symbol: SymbolRelay, Path: c.Relay.Path(), Name: "relay: ______", Unknown: true})
	}
}

// wire is one wire on the way.
func (l *ladder) wire(x *schema.Wire) Stop {
	s := Stop{Symbol: SymbolWire, Path: x.Path(), Name: l.marks[x.Path()], Zone: l.factText(&x.Zone), Bad: l.badAt(x.Path())}
	for _, f := range []schema.Reading{&x.Size, &x.Length} {
		c := l.fact(f)
		if c.Unknown {
			c.Text, s.Unknown = label(f.Path())+" ______", true
		}
		s.Details = append(s.Details, c.Text)
	}
	return s
}

func (l *ladder) load(c *schema.Circuit, name string) Stop {
	s := Stop{Symbol: SymbolLoad, Path: c.Path(), Name: name, Bad: l.badAt(c.Load.Path())}
	if amps := l.value(c, derive.Idle, "load_current"); !amps.Unknown {
		s.Details = append(s.Details, amps.Text+" at idle")
	}
	if least := l.factText(&c.Load.LowestVoltage); least != "" {
		s.Details = append(s.Details, "works down to "+least)
	}
	return s
}

// rung is a place where the meter is held.
func (l *ladder) rung(where string) Stop {
	l.rungs++
	return Stop{Symbol: SymbolJoint, Mark: strconv.Itoa(l.rungs), Name: where, Details: []string{where}}
}

// read evaluates a reading at each point and notes what it assumes.
func (l *ladder) read(of func(derive.Point) *derive.Result) []*derive.Result {
	var out []*derive.Result
	for _, p := range l.points {
		r := of(p)
		for _, path := range r.Assumed {
			l.assumed = append(l.assumed, NameOf(l.Design, path))
		}
		out = append(out, r)
	}
	return out
}

// put sets the readings of a leg in one unit.
func (l *ladder) put(out *Leg, at []int, read [][]*derive.Result) {
	for i, list := range l.readings(read) {
		out.Stops[at[i]].Readings = list
	}
}

// table lists the rungs of a circuit.
func (l *ladder) table(w *Way) *Table {
	t := &Table{Caption: w.Title, Heads: append(append([]string{"rung", "red lead on"}, w.Points...), "read")}
	for _, leg := range w.Legs {
		for _, s := range leg.Stops {
			if s.Symbol != SymbolJoint {
				continue
			}
			cells := []Cell{{Text: s.Mark}, {Text: s.Name}}
			for _, r := range s.Readings {
				cells = append(cells, Cell{Text: r.Text, Unknown: !r.Known})
			}
			t.Rows = append(t.Rows, Row{Cells: append(cells, Cell{Blank: true})})
		}
	}
	return t
}

// listOf joins words, at most some of them.
func listOf(words []string, most int) string {
	if more := len(words) - most; more > 0 {
		return strings.Join(words[:most], "; ") + " and " + strconv.Itoa(more) + " more"
	}
	return strings.Join(words, "; ")
}
