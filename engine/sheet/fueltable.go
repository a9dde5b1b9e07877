package sheet

import "plumbline/engine/derive"

// table lists the joints of the way with what is read there.
func (f *fuelPath) table(w *Way) Block {
	t := &Table{Caption: "Every joint, in the order of flow", Heads: append(append([]string{"joint", "between", "how it goes together"}, w.Points...), "read")}
	for _, leg := range w.Legs {
		t.Rows = append(t.Rows, Row{Over: leg.Name + ": " + leg.Note})
		for _, s := range leg.Stops {
			if s.Symbol != SymbolJoint {
				continue
			}
			cells := []Cell{{Text: s.Mark, Bad: first(s.Bad)}, {Text: s.Name}, {Text: joinedDetails(s.Details), Unknown: s.Unknown}}
			for _, r := range s.Readings {
				cells = append(cells, Cell{Text: r.Text, Unknown: !r.Known})
			}
			t.Rows = append(t.Rows, Row{Cells: append(cells, Cell{Blank: true})})
		}
	}
	return Block{Heading: "Joint by joint", Table: t, Again: true}
}

func first(numbers []int) int {
	if len(numbers) == 0 {
		return 0
	}
	return numbers[0]
}

func joinedDetails(list []string) string {
	text := ""
	for i, x := range list {
		if i > 0 {
			text += ", "
		}
		text += x
	}
	return text
}

// states lists what the whole system does at each operating point.
func (f *fuelPath) states() Block {
	known := false
	t := &Table{Caption: "The whole system at each operating point", Heads: []string{"value"}}
	for _, p := range f.points {
		t.Heads = append(t.Heads, pointWords(p))
	}
	for _, v := range []struct{ name, called string }{
		{"pump_flow", "pump gives"}, {"engine_flow", "engine takes"}, {"return_flow", "goes back"},
		{"pump_pressure", "pressure over the pump"}, {"throttle_body_pressure", "pressure at the throttle body"}, {"return_back_pressure", "pressure behind the regulator"},
		{"pump_voltage", "voltage at the pump"}, {"pump_current", "current of the pump"},
	} {
		var results []*derive.Result
		for _, p := range f.points {
			results = append(results, f.Session.At(p, v.name))
			known = known || results[len(results)-1].Known()
		}
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{{Text: v.called}}, f.row(results)...)})
	}
	if !known {
		return Block{Heading: "What it does as a whole", Paras: []string{"Nothing of it can be worked out yet."}}
	}
	return Block{Heading: "What it does as a whole", Table: t}
}
