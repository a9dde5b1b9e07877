package sheet

import (
	"math"
	"slices"
	"strings"

	"plumbline/engine/diagnose"
	"plumbline/schema"
)

// measuredPaper is what was measured beside what was computed, judged, and what all readings together point to.
func measuredPaper(m *maker) {
	m.paper.Use = "What the gauge and the meter showed, beside what was worked out for this vehicle. One reading out of its band is a place to look; what all of them together point to stands below."
	scratch := &maker{Job: m.Job, paper: &Paper{}}
	all := newStartUp(scratch)
	m.paper.Figures = append(m.paper.Figures, scratch.paper.Figures...)
	var done, blank []taken
	for _, t := range all.readings {
		if t.got == nil {
			continue
		}
		if t.got.Known() {
			done = append(done, t)
		} else {
			blank = append(blank, t)
		}
	}
	slices.SortStableFunc(done, func(x, y taken) int { return verdictRank(x.judged()) - verdictRank(y.judged()) })
	if bars := m.readingBars(done); len(bars.Rows) > 0 {
		m.add(Block{Heading: "The readings", Bars: bars})
	}
	t := &Table{Caption: "Measured against computed", Heads: []string{"what", "expect", "fine", "stop", "measured", "judged"}}
	for _, x := range append(done, blank...) {
		t.Rows = append(t.Rows, m.readingRow(all, x))
	}
	m.add(Block{Heading: "Measured against computed", Table: t})
	m.points()
	d := &m.Design.Measured
	m.add(Block{Heading: "Taken with", Half: true, Table: m.factTable("Taken with", [][2]any{{"day", &d.TakenOn}, {"gauge: full scale", &d.Instruments.GaugeFullScale}, {"gauge: class", &d.Instruments.GaugeClass},
		{"meter: off by at most", &d.Instruments.MeterError}, {"clamp: off by at most", &d.Instruments.AmmeterError}, {"fuel at the pump", &d.FuelTemperature}}), Sign: "Measured by:"})
}

// judged is what the band makes of a reading: fine, find out why, STOP, or nothing where there is no band.
func (t *taken) judged() string {
	if t.band.none() {
		return ""
	}
	v, ok := siOf(t.got)
	if !ok {
		return ""
	}
	if word := t.band.says(v); word != "" {
		return word
	}
	return "fine"
}

func verdictRank(word string) int {
	return slices.Index([]string{"STOP", "find out why", "fine", ""}, word)
}

// readingRow is a row of the table: what was expected, the band, what was measured.
func (m *maker) readingRow(s *startUp, t taken) Row {
	cells := []Cell{{Text: t.do}, t.expected, {}, {}, m.fact(t.got), {}}
	if t.got.Known() {
		cells[5].Text = t.judged()
	}
	if !t.band.none() {
		_, fine, stop := m.words(nil, t.dimension, t.band)
		cells[2].Text, cells[3].Text = fine, stop
	}
	return Row{Cells: cells}
}

// readingBars draws the readings that have a band, those that are farthest out first.
func (m *maker) readingBars(list []taken) *Bars {
	out := &Bars{Title: "The readings against their bands", Describes: "Each reading as a mark on a bar of its own: empty where it is fine, shaded where the cause must be found, hatched where work stops; a line where it was expected"}
	for _, t := range list {
		v, ok := siOf(t.got)
		if !ok || t.band.none() {
			continue
		}
		b := Bar{Name: t.do, Text: m.factText(t.got), Got: v, Expected: t.expect, FineLow: t.band.fineLow, FineHigh: t.band.fineHigh, StopLow: t.band.stopLow, StopHigh: t.band.stopHigh}
		if below := strings.HasPrefix(schema.Describe(t.got.Path()).Field.Low, "-"); below && math.IsNaN(b.FineLow) && math.IsNaN(b.StopLow) {
			b.FineLow, b.StopLow = -b.FineHigh, -b.StopHigh // as far below nought counts the same
		}
		if word := t.judged(); word != "fine" {
			b.Text += ": " + word
		}
		out.Rows = append(out.Rows, b)
	}
	return out
}

// mostPointed is how many candidates are told, and how many measurements.
const mostPointed = 3

// points says what the readings point to.
func (m *maker) points() {
	if m.Diagnose == nil {
		return
	}
	found := m.Diagnose()
	b := Block{Heading: "What they point to", Paras: []string{found.Verdict()}}
	if len(found.Held) > 0 {
		t := &Table{Caption: "What explains it", Heads: []string{"what", "signs", "to make sure", "then"}}
		for i := range min(found.Apart, len(found.Candidates), mostPointed) {
			for _, x := range found.Candidates[i].Troubles {
				m.noteNumbers(x.Say, x.Signs, x.Confirm, x.Mend)
				t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: x.Title}, {Text: x.Signs}, {Text: x.Confirm}, {Text: x.Mend}}})
			}
		}
		m.noteNumbers(found.Verdict())
		if len(t.Rows) > 0 {
			b.Table = t
		}
	}
	m.add(b)
	m.measureNext(found)
}

// measureNext are the measurements that would tell most.
func (m *maker) measureNext(found *diagnose.Diagnosis) {
	t := &Table{Caption: "Measure next", Heads: []string{"what", "how", "read"}}
	for _, x := range found.Next[:min(len(found.Next), mostPointed)] {
		m.noteNumbers(x.How)
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: x.Title}, {Text: x.How}, {Blank: true, Fills: []string{schemaPath(x.Fact)}}}})
	}
	if len(t.Rows) > 0 {
		m.add(Block{Heading: "Measure next", Table: t})
	}
}

// schemaPath is the path of a reading's fact.
func schemaPath(fact string) string {
	if strings.HasPrefix(fact, "design.") {
		return fact
	}
	return "design." + fact
}

// noteNumbers keeps the numbers of a text that a pack or the diagnosis wrote.
func (m *maker) noteNumbers(texts ...string) {
	for _, text := range texts {
		m.note(text, "the packs' own words")
	}
}
