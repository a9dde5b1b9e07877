package sheet

import (
	"cmp"
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

// placed is something on the vehicle with how near it lies to the exhaust and to what moves, and what holds it.
type placed struct {
	name        string
	zone        schema.Reading
	heat, moves *distance
	clips       schema.Reading
	clipsMost   string // the rule that says how far apart
}

// distances are what lies near the exhaust, near what moves and near sparks: drawn in plan, and in one table with what holds it.
func (h *holes) distances() {
	d := h.Design
	var list []placed
	for _, l := range h.lines() {
		for i := range l.Runs.Items {
			r := &l.Runs.Items[i]
			kind := r.Kind.Text()
			if kind == "fitting" || r.Zone.Text() == "in_tank" {
				continue
			}
			p := placed{name: NameOf(d, r.Path()), zone: &r.Zone, heat: &distance{is: &r.ExhaustClearance, rule: "fuel/routing.clear-of-exhaust", shield: &r.HeatShield},
				moves: &distance{is: &r.MovingPartsClearance, rule: "fuel/routing.clear-of-moving-parts"}}
			if kind == "hose" || kind == "tube" {
				p.clips, p.clipsMost = &r.ClipSpacing, "fuel/routing.clips"
			}
			list = append(list, p)
		}
	}
	list = append(list, placed{name: "tank", heat: &distance{is: &d.Tank.ExhaustClearance, rule: "fuel/tank.away-from-exhaust", shield: &d.Tank.HeatShield}},
		placed{name: "harness", heat: &distance{is: &d.Harness.ExhaustClearance, rule: "body/clearances.exhaust-distance", shield: &d.Harness.HeatShield},
			moves: &distance{is: &d.Harness.MovingControlsClearance, rule: "body/clearances.moving-controls"}, clips: &d.Harness.SupportSpacing, clipsMost: "body/routing.support-spacing"},
		placed{name: "harness to belts and fan", moves: &distance{is: &d.Harness.BeltClearance, rule: "body/clearances.belt-distance"}},
		placed{name: "harness to plug wires and coil", moves: &distance{is: &d.Harness.HighVoltageClearance, rule: "body/clearances.high-voltage-distance"}},
		placed{name: "harness to fuel lines", moves: &distance{is: &d.Harness.FuelLineClearance, rule: "body/clearances.fuel-line-distance"}},
		placed{name: "controller", zone: &d.Controller.Place, heat: &distance{is: &d.Controller.ExhaustClearance, rule: "body/controller.exhaust-distance"}},
		placed{name: "throttle linkage", heat: &distance{is: &d.ThrottleControl.ExhaustClearance, rule: "throttle/control.cable-off-exhaust"}})
	for i := range d.OxygenSensors.Items {
		x := &d.OxygenSensors.Items[i]
		list = append(list, placed{name: "cable of " + h.sensorName(x), heat: &distance{is: &x.CableExhaustClearance, rule: "sensors/oxygen-fitting.cable-off-exhaust"}})
	}
	for i := range list {
		for _, x := range []*distance{list[i].heat, list[i].moves} {
			if x != nil {
				x.name = list[i].name
				h.measured(x)
			}
		}
	}
	h.add(Block{Heading: "How far from the exhaust", Paras: []string{"Measured with the engine rocked to the end of its mounts, at the nearest place. Nearer than the wanted distance only behind a metal shield with air on both sides."}, Plan: h.plan(list)})
	h.add(Block{Heading: "Distances and what holds it", Paras: []string{"To what moves: over the whole travel of steering, suspension and engine. Nearer than least nothing may be, shield or not; clips no farther apart than most."}, Table: h.placedTable(list)})
}

// alongVehicle is the order of places from the engine to the tail.
var alongVehicle = []string{"on_engine", "on_throttle_body", "engine_bay", "engine_bay_body", "cabin", "frame", "boot", "tank_side"}

// zoneRank orders a place by how far behind the engine it lies.
func zoneRank(zone string) int {
	if i := slices.Index(alongVehicle, zone); i >= 0 {
		return i
	}
	return len(alongVehicle)
}

// plan draws what lies near the exhaust.
func (h *holes) plan(list []placed) *Plan {
	p := &Plan{Title: "How far from the exhaust", Describes: "The exhaust along the foot, the engine at the left; above it each thing as far away as it is, what is too near hatched"}
	var things []placed
	for _, x := range list {
		if x.heat != nil {
			things = append(things, x)
		}
	}
	rank := func(x placed) int {
		switch {
		case x.zone != nil && x.zone.Known():
			return zoneRank(x.zone.Text())
		case x.name == "tank":
			return zoneRank("tank_side")
		case x.zone == nil:
			return -1 // at the engine, or along all of it
		}
		return len(alongVehicle) + 1
	}
	slices.SortStableFunc(things, func(a, b placed) int { return rank(a) - rank(b) })
	for _, x := range things {
		b := &x.heat.bar
		t := Thing{Name: x.name, Text: b.Text, At: b.Got, Fine: b.FineLow, Stop: b.StopLow, Bad: b.Bad}
		switch {
		case x.zone != nil:
			t.Zone = h.factText(x.zone)
		case x.name == "tank":
			t.Zone = wordLabel("design.feed.runs[0].zone", "tank_side")
		default:
			t.Zone = "engine, or along it"
		}
		if t.Text == "" {
			t.Text = "not measured: ______"
		}
		if f, ok := x.heat.shield.(*schema.Fact[bool]); ok {
			t.Shield, _ = f.Get()
		}
		p.Things = append(p.Things, t)
	}
	return p
}

// placedTable lists the distances with their limits, the nearest to a limit first, and how far apart clips are.
func (h *holes) placedTable(list []placed) *Table {
	t := &Table{Caption: "Distances and what holds it", Heads: []string{"what", "lies in", "to the exhaust", "wanted", "shield", "to what moves, or sparks", "wanted there", "clips every", "done"}}
	slices.SortStableFunc(list, func(x, y placed) int { return cmp.Compare(x.nearest(), y.nearest()) })
	for _, x := range list {
		cells := make([]Cell, len(t.Heads))
		cells[0] = Cell{Text: x.name}
		if x.zone != nil {
			cells[1] = h.fact(x.zone)
		}
		for k, of := range []*distance{x.heat, x.moves} {
			if of == nil {
				continue
			}
			at := 2 + 3*k
			cells[at], cells[at+1] = h.fact(of.is), h.wanted(&of.bar)
			cells[at].Bad = of.bar.Bad
			if f, ok := of.shield.(*schema.Fact[bool]); ok && of.shield != nil {
				cells[at+2] = h.done(f)
			}
		}
		if x.clips != nil {
			cells[7] = h.fact(x.clips)
			if most := h.length(h.limits(x.clipsMost).fineHigh).Text; most != "" {
				cells[7].Text += ", most " + most
			}
		}
		cells[8] = Cell{Tick: true}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	return t
}

// wanted says how far something should be, and must.
func (h *holes) wanted(b *Bar) Cell {
	fine, stop := h.length(b.FineLow).Text, h.length(b.StopLow).Text
	switch {
	case fine == "" && stop == "":
		return Cell{}
	case stop == "":
		return Cell{Text: fine}
	case fine == "":
		return Cell{Text: "least " + stop}
	}
	return Cell{Text: fine + ", least " + stop}
}

// nearest is how many times its limit the nearest of a thing's distances is; infinite where none is known.
func (p *placed) nearest() float64 {
	out := math.Inf(1)
	for _, x := range []*distance{p.heat, p.moves} {
		if x != nil {
			if room := x.bar.room(); !math.IsNaN(room) {
				out = math.Min(out, room)
			}
		}
	}
	return out
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
