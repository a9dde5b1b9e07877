package sheet

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// distance is how near something lies to what would harm it.
type distance struct {
	name   string
	is     schema.Reading
	rule   string
	shield schema.Reading
	bar    Bar
}

// distances are what lies near the exhaust, and near what moves.
func (h *holes) distances() {
	d := h.Design
	var heat, moves []distance
	for _, l := range h.lines() {
		for i := range l.Runs.Items {
			r := &l.Runs.Items[i]
			if r.Kind.Text() == "fitting" || r.Zone.Text() == "in_tank" {
				continue
			}
			name := NameOf(d, r.Path())
			heat = append(heat, distance{name: name, is: &r.ExhaustClearance, rule: "fuel/routing.clear-of-exhaust", shield: &r.HeatShield})
			moves = append(moves, distance{name: name, is: &r.MovingPartsClearance, rule: "fuel/routing.clear-of-moving-parts"})
		}
	}
	heat = append(heat, distance{name: "tank", is: &d.Tank.ExhaustClearance, rule: "fuel/tank.away-from-exhaust", shield: &d.Tank.HeatShield},
		distance{name: "harness", is: &d.Harness.ExhaustClearance, rule: "body/clearances.exhaust-distance", shield: &d.Harness.HeatShield},
		distance{name: "controller", is: &d.Controller.ExhaustClearance, rule: "body/controller.exhaust-distance"},
		distance{name: "throttle linkage", is: &d.ThrottleControl.ExhaustClearance, rule: "throttle/control.cable-off-exhaust"})
	for i := range d.OxygenSensors.Items {
		x := &d.OxygenSensors.Items[i]
		heat = append(heat, distance{name: "cable of " + h.sensorName(x), is: &x.CableExhaustClearance, rule: "sensors/oxygen-fitting.cable-off-exhaust"})
	}
	moves = append(moves, distance{name: "harness to steering and controls", is: &d.Harness.MovingControlsClearance, rule: "body/clearances.moving-controls"},
		distance{name: "harness to belts and fan", is: &d.Harness.BeltClearance, rule: "body/clearances.belt-distance"},
		distance{name: "harness to plug wires and coil", is: &d.Harness.HighVoltageClearance, rule: "body/clearances.high-voltage-distance"},
		distance{name: "harness to fuel lines", is: &d.Harness.FuelLineClearance, rule: "body/clearances.fuel-line-distance"})
	h.table("Distances to the exhaust", "Measured with the engine rocked to the end of its mounts, nearest place first. Nearer than the wanted distance only behind a metal shield with air on both sides.", heat)
	h.table("Distances to what moves, and to sparks", "Over the whole travel of steering, suspension and engine.", moves)
}

// mostDrawn is how many distances are drawn, the nearest to their limits.
const mostDrawn = 6

// table draws distances on one scale, the nearest to their limit first, and lists them with their limits.
func (h *holes) table(heading, says string, list []distance) {
	t := &Table{Caption: heading, Heads: []string{"what", "is", "wanted", "never under"}}
	shields := slices.ContainsFunc(list, func(x distance) bool { return x.shield != nil })
	if shields {
		t.Heads = append(t.Heads, "shield")
	}
	bars := &Bars{Title: heading, Describes: "Each distance as a bar from the left, the part that is too near hatched", Common: true}
	for i := range list {
		h.measured(&list[i])
	}
	slices.SortStableFunc(list, func(x, y distance) int {
		switch a, b := x.bar.room(), y.bar.room(); {
		case math.IsNaN(a) && math.IsNaN(b):
			return 0
		case math.IsNaN(a):
			return 1
		case math.IsNaN(b):
			return -1
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return 0
	})
	for i := range list {
		x := &list[i]
		is := h.fact(x.is)
		is.Bad = x.bar.Bad
		shield := Cell{}
		if x.shield != nil {
			if f, ok := x.shield.(*schema.Fact[bool]); ok {
				shield = h.done(f)
			}
		}
		cells := []Cell{{Text: x.name}, is, h.length(x.bar.FineLow), h.length(x.bar.StopLow)}
		if shields {
			cells = append(cells, shield)
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
		if !math.IsNaN(x.bar.room()) && len(bars.Rows) < mostDrawn {
			bars.Rows = append(bars.Rows, x.bar)
		}
	}
	b := Block{Heading: heading, Paras: []string{says}, Table: t}
	if len(bars.Rows) > 0 {
		b.Bars = bars
	}
	h.add(b)
}

// length prints a limit.
func (h *holes) length(si float64) Cell {
	q, err := quantity.New(si, quantity.DimLength)
	if err != nil {
		return Cell{}
	}
	return Cell{Text: h.note(q.Format(h.Units), "a limit")}
}

// measured sets the bar of a distance.
func (h *holes) measured(x *distance) {
	nan := math.NaN()
	x.bar = Bar{Name: x.name, Expected: nan, Got: nan, FineLow: h.least(x.rule, true), FineHigh: nan, StopLow: h.least(x.rule, false), StopHigh: nan}
	if got, ok := siOf(x.is); ok {
		x.bar.Got, x.bar.Text = got, h.factText(x.is)
	}
	if f, ok := x.shield.(*schema.Fact[bool]); ok {
		if shielded, known := f.Get(); known && shielded {
			x.bar.FineLow = nan
		}
	}
	f := h.about(x.rule, x.is.Path())
	x.bar.Bad = h.badNumber(f)
	if f != nil && f.Outcome == engine.NotApplicable {
		x.bar.FineLow, x.bar.StopLow = nan, nan
	}
}

// room is how many times its limit a distance is; NaN where one of both is not known.
func (b *Bar) room() float64 {
	if !math.IsNaN(b.FineLow) {
		return b.Got / b.FineLow
	}
	return b.Got / b.StopLow
}

var leastOf = regexp.MustCompile(`clearance >= (limit\.\w+|\w+\([0-9.]+\)|q\('[^']+'\))`)

// least is the least distance that a rule wants, or demands, in SI: its bound, or that in its condition; NaN for none.
func (m *maker) least(name string, should bool) float64 {
	b := m.limits(name)
	if should && !math.IsNaN(b.fineLow) {
		return b.fineLow
	}
	if !should && !math.IsNaN(b.stopLow) {
		return b.stopLow
	}
	r := m.rule(name)
	if r == nil {
		return math.NaN()
	}
	test := map[bool]*pack.Test{true: r.Should, false: r.Must}[should]
	if test == nil || test.Condition == nil {
		return math.NaN()
	}
	x := leastOf.FindStringSubmatch(test.Condition.Text)
	if x == nil {
		return math.NaN()
	}
	in, _, _ := strings.Cut(name, ".")
	return m.figure(in, x[1])
}

// about is the finding of a rule about a fact or what it belongs to; nil for none.
func (m *maker) about(rule, path string) *engine.Finding {
	for i := range m.Report.Findings {
		f := &m.Report.Findings[i]
		if f.Rule == rule && (f.Subject == path || strings.HasPrefix(path, f.Subject+".")) {
			return f
		}
	}
	return nil
}

// badNumber is the number of a finding that is wrong or doubtful; 0 for another.
func (m *maker) badNumber(f *engine.Finding) int {
	if f == nil || m.Number == nil || f.Conceded != nil || f.Outcome != engine.Fail && f.Outcome != engine.Warn {
		return 0
	}
	return m.Number(f)
}
