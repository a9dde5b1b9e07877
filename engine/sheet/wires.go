package sheet

import (
	"slices"
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// wiresPaper is the cut list: every wire once, from where to where, how long to cut it, what stands at its ends.
func wiresPaper(m *maker) {
	w := &wireList{maker: m, marks: wireMarks(m.Design), totals: map[wireKind][]term{}}
	m.paper.Use = "Every wire once. Cut it as long as it says, mark both ends with its number, tick it when both ends are made and pulled. Its ends stand in the order of from and to. " +
		"The cut is the length along the way and " + m.note(m.Allowance.Format(m.Units), allowancePath) + " to make both ends."
	switched := false
	t := &Table{Caption: "Wires to cut", Heads: []string{"wire", "from", "to", "size", "cut", "ends", "insulation", "lies in", "colour", "done"}}
	for i := range m.Design.Circuits.Items {
		w.circuit(t, &m.Design.Circuits.Items[i])
		switched = switched || w.switchedBy(&m.Design.Circuits.Items[i]) != "" && len(m.Design.Circuits.Items[i].ReturnWires.Items) > 0
	}
	w.listed(&m.Design.Circuits, m.Design.Circuits.Known(), "circuits", t)
	t.once("insulation", "Wires to cut, all with insulation for ")
	wires := Block{Heading: "Wires", Table: t}
	if switched {
		wires.Paras = []string{"Injectors and coil are switched on their minus side: that wire ends at the output that switches them, never straight at ground, or the injectors stand open and flood the engine and the coil burns. Its cut is the whole way to ground; measure both pieces along the loom."}
	}
	m.add(wires)
	if grounds := w.grounds(); len(grounds.Rows) > 0 {
		m.add(Block{Heading: "Ground straps and the charge cable", Table: grounds})
	}
	m.add(Block{Heading: "Fuses and relays", Table: w.fuses()})
	m.add(Block{Heading: "Signals and relay coils", Paras: []string{"The design does not name these wires by size and length: measure them along the loom, and write the place in the plug from the controller's own pin list."}, Table: w.signals()})
	m.paper.Use += " How much of each to buy stands on the order list."
}

// once takes a column away whose cells all say the same, and says it in the caption.
func (t *Table) once(head, caption string) {
	at := slices.Index(t.Heads, head)
	text := ""
	for _, r := range t.Rows {
		if r.Over != "" || r.Cells[at].Text == "" && !r.Cells[at].Blank {
			continue
		}
		if c := r.Cells[at]; c.Blank || c.Text == "" || text != "" && c.Text != text {
			return
		}
		text = r.Cells[at].Text
	}
	if text == "" {
		return
	}
	t.Caption = caption + text
	t.Heads = slices.Delete(t.Heads, at, at+1)
	for i := range t.Rows {
		if r := &t.Rows[i]; r.Over == "" {
			r.Cells = slices.Delete(r.Cells, at, at+1)
		}
	}
}

// allowancePath stands for the shop's allowance among the paths of figures.
const allowancePath = "allowance"

type wireList struct {
	*maker
	// marks are the numbers of wires by their paths.
	marks map[string]string
	// totals are the cuts of each kind of wire, kinds these in the order they are met.
	totals map[wireKind][]term
	kinds  []wireKind
}

// wireKind is what is bought from one reel.
type wireKind struct{ size, kind string }

// circuit adds the wires of a circuit.
func (w *wireList) circuit(t *Table, c *schema.Circuit) {
	name := w.circuitName(c)
	over := name
	if amps := w.value(c, derive.NoPoint, "steady_current"); !amps.Unknown {
		over += ", " + amps.Text
	}
	if c.Fuse.Presence() == schema.Present {
		over += ", fuse " + w.fact(&c.Fuse.Part.Rating).Text
	} else if c.Fuse.Presence() == schema.Absent {
		over += ", no fuse"
	}
	if f := &c.Fuse; f.Presence() == schema.Present {
		if at := w.factText(&f.Part.DistanceFromSource); at != "" {
			over += ", " + at + " from where it begins"
		}
	}
	t.Rows = append(t.Rows, Row{Over: over})
	feed := c.FeedWires.Items
	from := w.source(c)
	for i := range feed {
		to := name + " +"
		if i+1 < len(feed) {
			to = w.between(&feed[i], &feed[i+1])
		}
		t.Rows = append(t.Rows, w.wire(&feed[i], from, to))
		from = to
	}
	w.listed(&c.FeedWires, c.FeedWires.Known(), "wires to "+name, t)
	back := c.ReturnWires.Items
	from = name + " −"
	for i := range back {
		to := w.ground(c)
		if by := w.switchedBy(c); by != "" {
			to = by + ", and from there to " + to
		}
		if i+1 < len(back) {
			to = w.between(&back[i], &back[i+1])
		}
		if other := servedBy(w.Design, c, &back[i]); other != nil {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: w.marks[back[i].Path()]}, {Text: from}, {Text: to}, {Text: "one wire serves both: it is cut once"}, {}, {}, {}, {}, {}, {}}})
		} else {
			t.Rows = append(t.Rows, w.wire(&back[i], from, to))
		}
		from = to
	}
	w.listed(&c.ReturnWires, c.ReturnWires.Known(), "wires from "+name+" to ground", t)
}

// listed adds a row for what nobody named of a list.
func (w *wireList) listed(list interface{ Open() bool }, all bool, what string, t *Table) {
	if all {
		return
	}
	text := "more " + what + "? nobody said that these are all"
	if !list.Open() {
		text = what + ": none was named"
	}
	t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: "?", Unknown: true}, {Text: text, Unknown: true}, {Blank: true}, {Blank: true}, {Blank: true}, {Blank: true}, {Blank: true}, {Blank: true}, {Blank: true}, {Tick: true}}})
}

// wire is the row of one wire.
func (w *wireList) wire(x *schema.Wire, from, to string) Row {
	kind := "insulation " + w.fact(&x.InsulationRating).Text
	if fuelProof, ok := x.RatedSubmersible.Get(); ok && fuelProof {
		kind += ", may lie in fuel"
	}
	return w.cut(w.marks[x.Path()], x.Path(), kind, &x.Size, &x.Length, []Cell{{Text: from}, {Text: to}}, []Cell{w.ends(x), w.fact(&x.InsulationRating), w.fact(&x.Zone)})
}

// cut is the row of anything that is cut to length.
func (w *wireList) cut(mark, path, kind string, size *schema.Fact[quantity.WireSize], length *schema.Fact[quantity.Length], where, rest []Cell) Row {
	cells := append([]Cell{{Text: mark, Bad: first(w.badAt(path))}}, where...)
	of := w.fact(size)
	cut := Cell{Text: unknown, Blank: true, Unknown: true}
	if long, ok := length.Get(); ok {
		terms := []term{{length.Path(), long.Value}, {allowancePath, w.Allowance}}
		cut = w.sum(terms)
		reel := wireKind{of.Text, kind}
		if w.totals[reel] == nil {
			w.kinds = append(w.kinds, reel)
		}
		w.totals[reel] = append(w.totals[reel], terms...)
	}
	cells = append(append(cells, of, cut), rest...)
	return Row{Cells: append(cells, Cell{Blank: true}, Cell{Tick: true})}
}

// ends says what stands at both ends of a wire.
func (w *wireList) ends(x *schema.Wire) Cell {
	if len(x.Joints.Items) == 0 {
		return Cell{Text: unknown, Unknown: true}
	}
	var out []string
	for i := range x.Joints.Items {
		out = append(out, w.fact(&x.Joints.Items[i].Kind).Text)
	}
	if len(out) == 2 && out[0] == out[1] {
		return Cell{Text: out[0] + ", both"}
	}
	return Cell{Text: strings.Join(out, "; ")}
}

// between names the place where two wires of a circuit meet: a splice, or a plug.
func (w *wireList) between(before, after *schema.Wire) string {
	kind := ""
	if n := len(before.Joints.Items); n > 0 {
		kind = before.Joints.Items[n-1].Kind.Text()
	}
	what := "joint"
	switch {
	case strings.Contains(kind, "splice"):
		what = "splice"
	case kind == "crimp_terminal":
		what = "plug"
	case kind == "ring_terminal":
		what = "stud"
	}
	if zone := w.factText(&after.Zone); zone != "" && zone != w.factText(&before.Zone) {
		return what + ", " + w.factText(&before.Zone) + " to " + zone
	}
	return what
}

// source says where a circuit's first wire comes from, with what stands in it.
func (w *wireList) source(c *schema.Circuit) string {
	text := w.factText(&c.Source)
	switch c.Source.Text() {
	case "other_circuit":
		text = "behind the " + w.factText(&c.BranchOf)
	case "":
		text = "source not known: ______"
	}
	if f := &c.Fuse; f.Presence() == schema.Present {
		text += ", fuse"
	}
	if c.Relay.Presence() == schema.Present {
		text += ", relay"
	}
	return text
}

// switchedBy names what stands in the way from a load to ground and switches it; "" for nothing, or where that is not known.
func (w *wireList) switchedBy(c *schema.Circuit) string {
	switch c.Purpose.Text() {
	case "injectors":
		return "the controller's injector output"
	case "ignition_coil":
		switch w.Design.Ignition.Kind.Text() {
		case "points":
			return "the points"
		case "electronic_inductive", "capacitive_discharge":
			return "the ignition module"
		case "controller_driver":
			return "the controller's coil output"
		}
		return "what switches the coil"
	}
	return ""
}

// ground says where a circuit's last wire ends.
func (w *wireList) ground(c *schema.Circuit) string {
	if to, ok := c.ReturnsTo.Get(); ok {
		return strings.ReplaceAll(to, "_", " ")
	}
	return "place of ground not known: ______"
}

// wireMarks number the wires of all circuits, W1 and on, by their paths. A wire that serves two circuits has one number.
func wireMarks(d *schema.Design) map[string]string {
	out, n := map[string]string{}, 0
	for i := range d.Circuits.Items {
		c := &d.Circuits.Items[i]
		for k := range c.FeedWires.Items {
			n++
			out[c.FeedWires.Items[k].Path()] = "W" + strconv.Itoa(n)
		}
		for k := range c.ReturnWires.Items {
			x := &c.ReturnWires.Items[k]
			if other := servedBy(d, c, x); other != nil {
				out[x.Path()] = out[other.Path()]
				continue
			}
			n++
			out[x.Path()] = "W" + strconv.Itoa(n)
		}
	}
	return out
}

// servedBy is the wire of an earlier circuit that serves this one too: the controller's own ground, stated again for its key
// feed. It is nil for a wire of its own.
func servedBy(d *schema.Design, c *schema.Circuit, x *schema.Wire) *schema.Wire {
	ofController := func(c *schema.Circuit) bool {
		return c.Purpose.Text() == "controller_switched" || c.Purpose.Text() == "controller_power"
	}
	if !ofController(c) {
		return nil
	}
	for i := range d.Circuits.Items {
		other := &d.Circuits.Items[i]
		if other.Path() == c.Path() {
			return nil
		}
		if !ofController(other) || other.Purpose.Text() == c.Purpose.Text() || other.ReturnsTo.Text() != c.ReturnsTo.Text() {
			continue
		}
		for k := range other.ReturnWires.Items {
			if alike(&other.ReturnWires.Items[k], x) {
				return &other.ReturnWires.Items[k]
			}
		}
	}
	return nil
}

// alike says that two wires are stated the same.
func alike(a, b *schema.Wire) bool {
	for _, pair := range [][2]schema.Reading{{&a.Size, &b.Size}, {&a.Length, &b.Length}, {&a.Zone, &b.Zone}, {&a.InsulationRating, &b.InsulationRating}} {
		if !pair[0].Known() || pair[0].Text() != pair[1].Text() {
			return false
		}
	}
	return true
}

// circuitName is what a circuit is called: by its name, or what it feeds.
func (m *maker) circuitName(c *schema.Circuit) string {
	if name, ok := c.Name.Get(); ok {
		return name
	}
	if c.Purpose.Known() {
		return m.factText(&c.Purpose)
	}
	return "circuit No. " + strconv.Itoa(slices.IndexFunc(m.Design.Circuits.Items, func(x schema.Circuit) bool { return x.Path() == c.Path() })+1)
}
