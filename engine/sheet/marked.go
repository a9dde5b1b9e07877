package sheet

import "slices"

// marked tells the findings whose numbers stand on a paper: whoever works by it has no job sheet at hand.
func (m *maker) marked() {
	numbers := m.paper.marks()
	slices.Sort(numbers)
	t := &Table{Caption: "What the numbers of findings mean", Heads: []string{"finding", "what is", "do"}}
	for _, n := range slices.Compact(numbers) {
		for i := range m.Report.Findings {
			if f := &m.Report.Findings[i]; m.badNumber(f) == n {
				m.noteNumbers(f.Text, f.Remedy)
				t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: itoa(n)}, {Text: f.Text}, {Text: f.Remedy}}})
				break // those of one number say the same of several parts
			}
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	m.add(Block{Heading: "What the numbers of findings mean", Table: t})
}

// marks are the numbers of the findings that stand on a paper.
func (p *Paper) marks() (out []int) {
	add := func(n int) {
		if n > 0 {
			out = append(out, n)
		}
	}
	for i := range p.Blocks {
		b := &p.Blocks[i]
		if b.Table != nil {
			for _, r := range b.Table.Rows {
				for _, c := range r.Cells {
					add(c.Bad)
				}
			}
		}
		if b.Way != nil {
			for _, leg := range b.Way.Legs {
				for _, s := range leg.Stops {
					out = append(out, s.Bad...)
				}
			}
		}
		if b.Bars != nil {
			for _, r := range b.Bars.Rows {
				add(r.Bad)
			}
		}
		if b.Plan != nil {
			for _, t := range b.Plan.Things {
				add(t.Bad)
			}
		}
		if b.Net != nil {
			for _, x := range b.Net.Branches {
				add(x.Bad)
			}
			for _, x := range b.Net.Straps {
				add(x.Bad)
			}
		}
		if b.Clock != nil {
			add(b.Clock.Bad)
		}
	}
	return out
}
