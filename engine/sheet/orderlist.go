package sheet

import (
	"math"
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// partsPaper is what is bought: each part by what it must be at least, and what follows from it: clamps from hose ends, clips from
// lengths, seals from plugs, adapters from joints that do not go together.
func partsPaper(m *maker) {
	m.paper.Use = "Each part by what it must be, not by who makes it. What is in hand goes into the last column but one; where it is less than what stands here, ask before fitting it. " +
		"Lengths have " + m.note(m.Allowance.Format(m.Units), allowancePath) + " added to each piece that is cut."
	o := &orderList{maker: m}
	o.fuelParts()
	o.lineParts()
	o.otherParts()
	o.electricParts()
	o.bodyParts()
}

// orderList numbers the parts as they are added.
type orderList struct {
	*maker
	table  *Table
	number int
}

func (o *orderList) begin(heading, caption string) {
	o.table = &Table{Caption: caption, Heads: []string{"no.", "part", "must be", "why", "how many", "in hand", "fitted"}}
	o.add(Block{Heading: heading, Table: o.table})
}

// buy adds a part; path is where findings about it lie.
func (o *orderList) buy(path, part, must, why, many string) {
	o.number++
	bad := 0
	if path != "" {
		bad = first(o.badAt(path))
	}
	mustBe := Cell{Text: must}
	if must == "" {
		mustBe = Cell{Text: "nothing of it was stated", Unknown: true, Blank: true}
	}
	o.table.Rows = append(o.table.Rows, Row{Cells: []Cell{{Text: strconv.Itoa(o.number), Bad: bad}, {Text: part}, mustBe, {Text: why}, {Text: many}, {Blank: true}, {Tick: true}}})
}

// listed joins what is known of a part.
func (o *orderList) listed(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

// with prints a fact between words; "" while it is not stated.
func (o *orderList) with(before string, f schema.Reading, after string) string {
	if c := o.fact(f); !c.Unknown {
		return before + c.Text + after
	}
	return ""
}

// worth prints a derived value between words; "" while it is not known.
func (o *orderList) worth(before string, part any, p derive.Point, name, after string) string {
	if c := o.value(part, p, name); !c.Unknown {
		return before + c.Text + after
	}
	return ""
}

// worthOrBlank is worth with a place to write what is not known.
func (o *orderList) worthOrBlank(before string, part any, p derive.Point, name, after string) string {
	if text := o.worth(before, part, p, name, after); text != "" {
		return text
	}
	return before + "______" + after
}

// many counts things that follow from others.
func (o *orderList) many(n int, of string) string { return o.note(strconv.Itoa(n), "how many "+of) }

// fuelParts are pump, regulator, throttle body, injectors.
func (o *orderList) fuelParts() {
	d := o.Design
	o.begin("Pump, regulator, throttle body", "What makes and holds the pressure")
	least := o.reserve()
	why := o.worth("the engine takes ", d, derive.FullLoad, "fuel_demand", " at full load")
	o.buy("design.pump", "fuel pump", o.listed(o.with("", &d.Pump.Place, ""), least, o.worthOrBlank("at ", d, derive.FullLoad, "pump_pressure", " over it"),
		o.worth("at ", d, derive.FullLoad, "pump_voltage", ""), o.with("good for ethanol up to ", &d.Fuel.Ethanol, "")), why, "1")
	o.buy("design.regulator", "pressure regulator", o.listed(o.with("", &d.Regulator.Style, ""), o.with("holds ", &d.Regulator.Setting, ""), o.with("chamber open to ", &d.Regulator.Reference, ""),
		o.worthOrBlank("passes at least ", d, derive.Idle, "return_flow", "")), "at idle nearly all comes back", "1")
	inj := &d.ThrottleBody.Injectors
	o.buy("design.throttle_body", "throttle body", o.listed(o.with("", &d.ThrottleBody.Bores, " bores"), o.with("stands ", &d.ThrottleBody.HighestPressure, "")), o.worth("sees ", d, derive.Idle, "throttle_body_pressure", ""), "1")
	flow := o.with("", &inj.StaticFlow, " each")
	if flow == "" {
		flow = o.with("", &inj.StaticMassFlow, " each")
	}
	o.buy("design.throttle_body.injectors", "injectors", o.listed(flow, o.with("at ", &inj.TestPressure, "")), o.worth("open ", d, derive.FullLoad, "injector_duty", " of the time at full load"), o.with("", &inj.Count, ""))
}

// reserve is the least a pump must give: what is taken with the reserve that the library asks for.
func (o *orderList) reserve() string {
	need, ok := o.Session.At(derive.FullLoad, "fuel_demand").Value().(quantity.Value)
	share := o.figure("fuel/delivery", "limit.flow_reserve")
	if !ok || math.IsNaN(share) {
		return ""
	}
	q, err := quantity.New(need.SI()*share, quantity.DimFlow)
	if err != nil {
		return ""
	}
	return "gives at least " + o.note(q.Format(o.Units), "at.full_load.fuel_demand", "fuel/delivery.flow_reserve")
}

// electricParts are wire, fuses, relays, terminals, seals.
func (o *orderList) electricParts() {
	o.begin("Wire, fuses, relays", "All circuits together; the cut list says which wire is which")
	w := &wireList{maker: o.maker, marks: wireMarks(o.Design), totals: map[wireKind][]term{}}
	scratch := &Table{Heads: make([]string, 10)}
	kept := len(o.paper.Figures)
	for i := range o.Design.Circuits.Items {
		w.circuit(scratch, &o.Design.Circuits.Items[i])
	}
	w.grounds()
	o.paper.Figures = o.paper.Figures[:kept] // they stand on another paper
	for _, k := range w.kinds {
		o.buy("", "wire", o.note(k.size, "size")+", "+o.note(k.kind, "kind"), "cut list", w.sum(w.totals[k]).Text)
	}
	o.buy("", "wire for sensors and relay coils", "size ______", "sheet of the wires, signals", "length ______")
	fuses, relays, ends := newTally(), newTally(), newTally()
	for i := range o.Design.Circuits.Items {
		c := &o.Design.Circuits.Items[i]
		if c.Fuse.Presence() == schema.Present {
			fuses.add(o.listed(o.with("", &c.Fuse.Part.Rating, ""), o.with("", &c.Fuse.Part.Kind, "")), o.circuitName(c))
		}
		if c.Relay.Presence() == schema.Present {
			relays.add(o.listed(o.with("contact ", &c.Relay.Part.ContactRating, " or more"), o.with("coil with ", &c.Relay.Part.Suppression, "")), o.circuitName(c))
		}
		for k := range c.FeedWires.Items {
			o.ends(ends, &c.FeedWires.Items[k], k > 0)
		}
		for k := range c.ReturnWires.Items {
			if servedBy(o.Design, c, &c.ReturnWires.Items[k]) == nil {
				o.ends(ends, &c.ReturnWires.Items[k], k > 0)
			}
		}
	}
	if f := &o.Design.Alternator.ChargeCable.Fuse; f.Presence() == schema.Present {
		fuses.add(o.with("", &f.Part.Rating, ""), "charge cable")
	}
	for i := range o.Design.Grounds.Items {
		for range 2 {
			ends.add("ring terminal"+o.with(" for ", &o.Design.Grounds.Items[i].Size, ""), "")
		}
	}
	o.tallied("fuse", fuses)
	o.tallied("holder, a place for each fuse", o.holders())
	o.tallied("relay with base", relays)
	o.tallied("", ends)
	for i := range o.Design.Connectors.Items {
		x := &o.Design.Connectors.Items[i]
		sealed, why := "", ""
		if x.Sealed.Text() == "true" {
			sealed, why = o.listed(o.with("sealed, seals for ", &x.Wired, " wires"), o.with("closing plugs for ", &x.Plugged, " empty places")), "an open place lets water in"
		}
		o.buy(x.Path(), "plug, both halves: "+o.with("", &x.Name, ""), o.listed(o.with("", &x.Cavities, " places"), o.with("each good for ", &x.TerminalCurrent, " or more"), sealed), why, o.many(1, "plugs"))
	}
}

// holders counts the places for fuses by where they sit.
func (o *orderList) holders() *tally {
	t := newTally()
	for i := range o.Design.Circuits.Items {
		if c := &o.Design.Circuits.Items[i]; c.Fuse.Presence() == schema.Present {
			t.add(o.listed(o.with("", &c.Fuse.Part.Place, ""), o.with("", &c.Fuse.Part.Kind, "")), "")
		}
	}
	return t
}

// ends counts the terminals and splices of a wire; a splice with the wire before it was counted there.
func (o *orderList) ends(t *tally, x *schema.Wire, goesOn bool) {
	for i := range x.Joints.Items {
		kind := x.Joints.Items[i].Kind.Text()
		if strings.Contains(kind, "splice") && i == 0 && goesOn {
			continue
		}
		if what := o.with("", &x.Joints.Items[i].Kind, ""); what != "" {
			t.add(what+o.with(" for ", &x.Size, ""), "")
		}
	}
}

// tallied adds the parts of a tally.
func (o *orderList) tallied(part string, t *tally) {
	for _, what := range t.order {
		name, must := part, what
		if part == "" {
			name, must, _ = strings.Cut(what, " for ")
			must = "for " + must
		}
		o.buy("", name, must, listOf(t.why[what], 3), o.many(t.count[what], name))
	}
}

// tally counts alike things in the order they are met.
type tally struct {
	order []string
	count map[string]int
	why   map[string][]string
}

func newTally() *tally { return &tally{count: map[string]int{}, why: map[string][]string{}} }

func (t *tally) add(what, why string) {
	if what == "" {
		what = "not stated: ______"
	}
	if t.count[what] == 0 {
		t.order = append(t.order, what)
	}
	t.count[what]++
	if why != "" {
		t.why[what] = append(t.why[what], why)
	}
}
