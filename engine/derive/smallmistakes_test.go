package derive

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Small mistakes in the code that no test noticed: each is held to a sum by hand, the SI or what a vehicle is.

// By hand, Ohm's law: 14.0 V over 12 ohm is 1.167 A; four injectors on two outputs are two for each, 2.333 A, and five are
// three, 3.5 A; behind a ballast of 2 ohm the four draw 2 x 14/14 = 2 A for an output.
func TestCurrentOfAnInjectorOutput(t *testing.T) {
	for count, amps := range map[string]float64{"2": 14.0 / 12, "4": 28.0 / 12, "5": 42.0 / 12} {
		s := loaded(t, variant(t, "    count: 2\n    static_flow", "    count: "+count+"\n    static_flow"))
		assert.InDelta(t, amps, in(t, s.On(&s.Design().ThrottleBody.Injectors, NoPoint, "output_current"), "A"), 1e-9, count)
	}
	s := loaded(t, variant(t, "    count: 2\n    static_flow", "    count: 4\n    static_flow", "series_resistance: 0 ohm", "series_resistance: 2 ohm"))
	assert.InDelta(t, 2, in(t, s.On(&s.Design().ThrottleBody.Injectors, NoPoint, "output_current"), "A"), 1e-9)
}

// The units of range errors are those of the SI (BIPM brochure, 9th edition); a revolution is 2 pi rad.
func TestUnitsOfReasonsAreThoseOfTheSI(t *testing.T) {
	for name, unit := range siUnits {
		q, err := quantity.New(unit.factor, unit.of)
		require.NoError(t, err, name)
		written, err := quantity.New(1, unit.of)
		require.NoError(t, err)
		if name == "rev/s" {
			rpm, err := q.In("rpm")
			require.NoError(t, err)
			assert.InDelta(t, 60, rpm, 1e-9)
			continue
		}
		assert.Equal(t, written, q, "%s is the unit itself", name)
	}
}

// The fuel goes from the tank by its side and the frame to the engine; cabin and boot may lie anywhere on the way.
func TestZonesAreInTheOrderOfTheWay(t *testing.T) {
	last := -1
	for _, zone := range []string{"in_tank", "tank_side", "frame", "engine_bay"} {
		rank, ok := zoneOrder(zone)
		require.True(t, ok, zone)
		assert.Greater(t, rank, last, zone)
		last = rank
	}
	for _, zone := range []string{"cabin", "boot"} {
		_, ok := zoneOrder(zone)
		assert.False(t, ok, zone)
	}
}

// A tank that a balance line joins runs into the first; the pump draws from it through no line of its own.
func TestWhichTanksAreDrawnFrom(t *testing.T) {
	for joined, drawn := range map[string]bool{"by_selector": true, "by_balance_line": false, "not_joined": false} {
		d, err := schema.Load("d.yaml", []byte("plumbline: 1\nsecond_tank: {capacity: 60 L}\nsecond_tank_joined: "+joined+"\nsurge_tank: none\ntank_selector: {side: suction}\n"))
		require.NoError(t, err)
		s := NewSession(d, Options{})
		assert.Equal(t, drawn, s.On(&d.SecondTank.Part, NoPoint, "drawn_from").Value(), joined)
		assert.Equal(t, drawn, s.On(&d.SecondTank.Part, NoPoint, "own_lines").Value(), joined)
		assert.Equal(t, true, s.On(&d.Tank, NoPoint, "drawn_from").Value())
	}
	// Nobody said whether there is a second tank: it is asked, and not taken as none.
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nsecond_tank_joined: by_selector\n"))
	require.NoError(t, err)
	r := NewSession(d, Options{}).On(&d.SecondTank.Part, NoPoint, "drawn_from")
	assert.Equal(t, []string{"design.second_tank"}, r.Missing)
	assert.Empty(t, r.Absent)
}

// The second tank's own pieces end where the drawing has them end: its supply at the selector's second inlet, its return at
// the tank's return port.
func TestPortsOfASecondTanksLines(t *testing.T) {
	for name, begins := range map[string]func(d *schema.Design) *schema.LineEnd{
		"good/motorhome-two-tanks": func(d *schema.Design) *schema.LineEnd { return &d.SecondTank.Part.Outlet },
		"good/truck-six-two-pumps": func(d *schema.Design) *schema.LineEnd { return &d.Pump.Outlet },
	} {
		d := vehicle(t, name)
		c := NewSession(d, Options{}).begin(nil, d, NoPoint)
		for _, l := range linesOf(d) {
			if !l.second || l.absent() {
				continue
			}
			first, last := l.joint(c, 0), l.joint(c, len(l.line.Runs.Items))
			if l.name == returnLine {
				assert.Same(t, &d.TankSelector.Part.SecondOutlet, first.Before.End, name)
				assert.Same(t, &d.SecondTank.Part.ReturnPort, last.After.End, name)
				continue
			}
			assert.Same(t, begins(d), first.Before.End, name)
			assert.Same(t, &d.TankSelector.Part.SecondInlet, last.After.End, name)
		}
	}
}

// A view of one way holds the pieces of that way alone, in order, those of the second tank behind them.
func TestViewsOfOneWay(t *testing.T) {
	d := vehicle(t, "good/truck-six-two-pumps")
	for view, lines := range map[string][]*schema.Line{
		"design.feed_runs":    {&d.Feed, &d.SecondFeed.Part},
		"design.return_runs":  {&d.ReturnLine.Part, &d.SecondReturn.Part},
		"design.suction_runs": nil,
	} {
		var want, have []any
		for _, l := range lines {
			for i := range l.Runs.Items {
				want = append(want, &l.Runs.Items[i])
			}
		}
		for _, shown := range ViewAt(view).Gather(d) {
			require.Empty(t, shown.Missing, view)
			have = append(have, shown.Part)
		}
		assert.True(t, slices.Equal(want, have), view)
	}
}

// The order in which a shop lists its circuits changes no voltage.
func TestOrderOfTheCircuitsDoesNotMatter(t *testing.T) {
	d, other := vehicle(t, "demo/six-return"), vehicle(t, "demo/six-return")
	at := slices.IndexFunc(other.Circuits.Items, func(ct schema.Circuit) bool { return ct.Load.Kind.Text() == "fuel_pump" })
	require.Positive(t, at, "the pump is not the first")
	items := other.Circuits.Items
	items[0], items[at] = items[at], items[0]
	s, turned := NewSession(d, Options{}), NewSession(other, Options{})
	for _, p := range []Point{Cranking, Idle, FullLoad} {
		assert.InDelta(t, number(t, s.At(p, "pump_voltage")), number(t, turned.At(p, "pump_voltage")), 1e-9)
		assert.InDelta(t, number(t, s.On(&d.Circuits.Items[at], p, "load_voltage")), number(t, turned.On(&items[0], p, "load_voltage")), 1e-9, "%s", p)
	}
}

// By hand, copper as IEC 60028 has it (0.00393 for each kelvin from 20 degC): warmed by 50 K a coil has 1.1965 times its
// resistance, and the working shows that before 1.5 ohm of ballast is added.
func TestWorkingOfTheCoilsResistance(t *testing.T) {
	s := loaded(t, variant(t, "body_temperature: 20 degC", "body_temperature: 70 degC"))
	i := &s.Design().Ignition
	cool, _ := i.Coil.Resistance.Get()
	for _, l := range s.Working(All().Find("Ignition", "coil_current"), i, Idle, quantity.Metric).Lines {
		if l.Of == "resistance" {
			assert.InEpsilon(t, cool.SI()*1.1965+1.5, l.Value, 1e-4)
			return
		}
	}
	t.Fatal("no line for the resistance")
}
