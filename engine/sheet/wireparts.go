package sheet

import (
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// grounds lists the straps between ground points, and the charge cable.
func (w *wireList) grounds() *Table {
	t := &Table{Caption: "Straps and cables to make", Heads: []string{"cable", "from", "to", "size", "cut", "surface", "insulation", "fuse", "done"}}
	row := func(mark, path string, cells ...Cell) {
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{{Text: mark, Bad: first(w.badAt(path))}}, cells...)})
	}
	for i := range w.Design.Grounds.Items {
		g := &w.Design.Grounds.Items[i]
		long := w.cut("", g.Path(), "ground cable", &g.Size, &g.Length, nil, nil)
		row("G"+strconv.Itoa(i+1), g.Path(), w.named(&g.Name), w.named(&g.To), long.Cells[1], long.Cells[2], w.fact(&g.Surface), Cell{Text: "—"}, Cell{Text: "—"}, Cell{Tick: true})
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
		row("C1", c.Path(), Cell{Text: "alternator"}, Cell{Text: "battery +"}, long.Cells[1], long.Cells[2], Cell{Text: "—"}, w.fact(&c.InsulationRating), fuse, Cell{Tick: true})
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

// bought sums the wire of each size.
func (w *wireList) bought() *Table {
	t := &Table{Caption: "All cuts of a size together", Heads: []string{"size", "kind", "all cuts together", "in hand"}}
	for _, k := range w.kinds {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: k.size}, {Text: k.kind}, w.sum(w.totals[k]), {Blank: true}}})
	}
	return t
}
