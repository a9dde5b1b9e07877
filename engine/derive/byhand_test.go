package derive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The charge cable of the six: 6 AWG, class 125 degC, 1.2 m at 80 degC, alternator of 70 A. 33 CFR 183.425 Table 5: 125 A;
// its fuse 150 % of that by 33 CFR 183.455(c); by the square-root rule 125 A x sqrt((125 - 80)/(125 - 30)) = 86.03 A.
// 1.296 mohm/m at 20 degC (NBS Handbook 100): 70 A x 1.2 m x 1.296 mohm/m x (1 + 0.00393 x 60) = 134.5 mV.
func TestChargeCable(t *testing.T) {
	s := loaded(t, variant(t))
	cable := &s.design.Alternator.ChargeCable
	assert.InDelta(t, 86.03, in(t, s.On(cable, NoPoint, "ampacity"), "A"), 0.01)
	assert.InDelta(t, 187.5, in(t, s.On(cable, NoPoint, "fuse_ceiling"), "A"), 1e-9)
	assert.InDelta(t, 134.5, in(t, s.On(cable, NoPoint, "drop"), "mV"), 0.2)
}

// Copper-clad aluminium conducts 62.9 % as well (ASTM B566, class 10A), so for the same heat it carries sqrt(0.629) = 0.793 of
// the current: a fuse of 1.5 x 70 A x 0.793 = 83.3 A at most on 10 AWG of class 125 degC (33 CFR 183.425 Table 5 and 183.455).
func TestFuseOnCladAluminium(t *testing.T) {
	s := loaded(t, variant(t, "ambient: 60 degC, bundle_count: 4, conductor: stranded_copper", "ambient: 60 degC, bundle_count: 4, conductor: copper_clad_aluminium"))
	assert.InDelta(t, 83.3, in(t, s.On(&s.design.Circuits.Items[0], NoPoint, "fuse_ceiling"), "A"), 0.5)
}

// A coil of 1.5 ohm and 8 mH with a ballast of 1.5 ohm, by the law of the first-order circuit: 1 - exp(-t x 3 ohm / 8 mH) of
// what it settles at. Spark intervals of the six: 28.571 ms at 700 rpm, 4.7619 at 4200, 4.1667 at 4800.
func TestCoilByHand(t *testing.T) {
	fill := func(ms, ohms float64) float64 { return 1 - math.Exp(-ms*ohms/8) }
	const share = "dwell_fraction: 66.7 %"
	for _, c := range []struct {
		name    string
		replace []string
		idle    float64 // of what it settles at
		full    float64
		dwell   float64 // share of the time at the highest speed
		running float64 // V, mean at the coil and its ballast's joint with 14 V
	}{
		{"share of the interval", nil, fill(0.667*28.571, 3), fill(0.667*4.7619, 3), 0.667, 14 * (1 - 0.667/2)},
		{"4 ms", []string{share, "dwell_time: 4 ms"}, fill(4, 3), fill(4, 3), 4 / 4.16667, 14 * (1 - 4/28.571/2)},
		{"6 ms are more than there is", []string{share, "dwell_time: 6 ms"}, fill(6, 3), fill(4.7619, 3), 6 / 4.16667, 14 * (1 - 6/28.571/2)},
		{"two coils have twice the time", []string{share, "dwell_time: 6 ms", "count: 1", "count: 2"}, fill(6, 3), fill(6, 3), 3 / 4.16667, 14 * (1 - 3/28.571/2)},
		{"hot copper: 1.5 ohm x (1 + 0.00393 x 100)", []string{share, "dwell_time: 4 ms", "body_temperature: 20 degC", "body_temperature: 120 degC"},
			fill(4, 3.5895), fill(4, 3.5895), 4 / 4.16667, 14 * (1 - 4/28.571/2)},
		{"no ballast", []string{share, "dwell_time: 4 ms", "ballast: {resistance: 1.5 ohm, bypassed_in_start: true}", "ballast: none"},
			fill(4, 1.5), fill(4, 1.5), 4 / 4.16667, 14},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := loaded(t, variant(t, c.replace...))
			i := &s.design.Ignition
			assert.InDelta(t, c.idle, in(t, s.On(i, Idle, "coil_fill"), "share"), 1e-4)
			assert.InDelta(t, c.full, in(t, s.On(i, FullLoad, "coil_fill"), "share"), 1e-4)
			assert.InDelta(t, c.dwell, in(t, s.On(i, NoPoint, "dwell_share"), "share"), 1e-4)
			assert.InDelta(t, c.running, in(t, s.On(i, NoPoint, "coil_supply_running"), "V"), 1e-3)
		})
	}
}

// A driver holds the coil at its limit, points do not, and takes its own drop off the supply. At 3 A 8 mH hold 8 mH x 9 A2 / 2 = 36 mJ.
func TestCoilDriver(t *testing.T) {
	points := loaded(t, variant(t, "driver_drop: 0 V", "driver_drop: 0 V, current_limit: 3 A"))
	assert.Greater(t, in(t, points.On(&points.design.Ignition, Idle, "coil_current"), "A"), 4.0)
	s := loaded(t, variant(t, "kind: points", "kind: electronic_inductive", "driver_drop: 0 V", "driver_drop: 0 V, current_limit: 3 A"))
	i := &s.design.Ignition
	assert.InDelta(t, 3, in(t, s.On(i, Idle, "coil_current"), "A"), 1e-12)
	assert.InDelta(t, 1, in(t, s.On(i, Idle, "coil_fill"), "share"), 1e-12)
	assert.InDelta(t, 36, in(t, s.On(i, Idle, "coil_energy"), "mJ"), 1e-9)

	// 5 A are out of reach: (V - 1.4)/3 ohm is where it settles.
	s = loaded(t, variant(t, "kind: points", "kind: electronic_inductive", "driver_drop: 0 V", "driver_drop: 1.4 V, current_limit: 5 A"))
	i = &s.design.Ignition
	settled := (in(t, s.On(i, Idle, "coil_supply"), "V") - 1.4) / 3
	assert.InDelta(t, settled*(1-math.Exp(-0.667*28.571*3/8)), in(t, s.On(i, Idle, "coil_current"), "A"), 1e-4)
	assert.InDelta(t, 1-math.Exp(-0.667*28.571*3/8), in(t, s.On(i, Idle, "coil_fill"), "share"), 1e-4)
}

// What keeps the coil from a value is told, each by its own reason.
func TestWhatKeepsTheCoilFromAValue(t *testing.T) {
	for want, replace := range map[string][]string{
		"does not store its energy in the coil":    {"kind: points", "kind: capacitive_discharge", "driver_drop: 0 V", "driver_drop: 0 V, current_limit: 5 A"},
		"no circuit has the purpose ignition_coil": {"purpose: ignition_coil", "purpose: other"},
	} {
		s := loaded(t, variant(t, replace...))
		r := s.On(&s.design.Ignition, Idle, "coil_fill")
		require.False(t, r.Known())
		assert.Contains(t, r.Reason, want)
	}
	s := loaded(t, variant(t, "dwell_fraction: 66.7 %, ", ""))
	assert.Equal(t, []string{"design.ignition.coil.dwell_fraction"}, s.On(&s.design.Ignition, NoPoint, "dwell_share").Missing)
}

// Holes by hand. A split grommet is put round the bundle: its wall of (50 - 46)/2 mm counts for the bundle, 11.758 + 3 + 4,
// and not for the connector, 44.944 + 1, which decides; a bundle of 40 mm needs 40 + 3 + 4. Without a connector the bundle
// decides in a whole grommet too.
func TestHolesByHand(t *testing.T) {
	for want, replace := range map[float64][]string{
		45.944: {"lining: grommet, wires", "lining: split_grommet, wires"},
		47:     {"lining: grommet, wires: [{count: 24, outside_diameter: 2.0 mm}]", "lining: split_grommet, bundle_diameter: 40 mm"},
		18.758: {"lining: grommet, wires", "lining: grommet, wires", "largest_connector: controller A", "largest_connector: nothing"},
	} {
		s := loaded(t, variant(t, replace...))
		assert.InDelta(t, want, in(t, s.On(&s.design.Passages.Items[0], NoPoint, "hole_needed"), "mm"), 1e-3)
	}
	s := loaded(t, variant(t, "lining: grommet, wires: [{count: 24, outside_diameter: 2.0 mm}]", "lining: grommet"))
	assert.Equal(t, []string{"design.passages[0].bundle_diameter"}, s.On(&s.design.Passages.Items[0], NoPoint, "bundle").Missing)
	s = loaded(t, variant(t, "largest_connector: controller A", "largest_connector: controller B"))
	assert.Contains(t, s.On(&s.design.Passages.Items[0], NoPoint, "connector_diagonal").Reason, `the connector "controller B", which is not among the connectors`)
}

// What is measured at idle says nothing of another point, and the reason says where it is measured.
func TestDeviationsOnlyWhereTheyAreMeasured(t *testing.T) {
	s := loaded(t, variant(t))
	for _, name := range []string{"pump_voltage_deviation", "pump_current_deviation", "controller_ground_deviation", "battery_voltage_deviation"} {
		assert.True(t, s.At(Idle, name).Known(), name)
		for _, p := range []Point{Cranking, Cruise, FullLoad} {
			assert.Contains(t, s.At(p, name).Reason, "is measured at idle, not at", "%s at %s", name, p)
		}
	}
	for _, p := range []Point{Cranking, Cruise} {
		assert.Contains(t, s.At(p, "pressure_deviation").Reason, "is measured at idle and full load, not at", p.String())
	}
	// By definition measured less computed.
	assert.InDelta(t, 13.1-in(t, s.At(Idle, "pump_voltage"), "V"), in(t, s.At(Idle, "pump_voltage_deviation"), "V"), 1e-12)
	assert.InDelta(t, 6.8-in(t, s.At(Idle, "pump_current"), "A"), in(t, s.At(Idle, "pump_current_deviation"), "A"), 1e-12)
	assert.InDelta(t, 45-in(t, s.At(Idle, "controller_ground_offset"), "mV"), in(t, s.At(Idle, "controller_ground_deviation"), "mV"), 1e-9)
}

// A dead short by hand in a circuit that branches: 12.6 V over the battery's (12.6 - 7.2)/600 = 9 mohm, the main relay's
// 0.8 m of 10 AWG (3.277 mohm/m at 20 degC, NBS Handbook 100) at 60 degC, its own 1.5 + 1.5 m of 16 AWG (13.17 mohm/m) at
// 80 degC, straight back to the battery: 9 + 3.03 + 48.8 = 60.9 mohm, 207 A. A fuse of a kind without an opening-time band
// has no heat of a short, and the reason names the kind.
func TestShortInABranch(t *testing.T) {
	s := loaded(t, variant(t))
	d := s.design
	ohms := 0.009 + 0.8*0.003277*(1+0.00393*40) + 3*0.01317*(1+0.00393*60)
	assert.InDelta(t, 12.6/ohms, in(t, s.On(&d.Circuits.Items[2], NoPoint, "fault_current"), "A"), 2)
	assert.Contains(t, s.On(&d.Circuits.Items[4], NoPoint, "short_heating").Reason, "no opening-time band is at hand for a fuse of the kind bolt_down")
	assert.NotEmpty(t, s.On(&d.Circuits.Items[5], NoPoint, "short_heating").Absent, "it has no fuse")
	round := loaded(t, variant(t, "branch_of: main relay\n    fuse: {rating: 10 A", "branch_of: injectors\n    fuse: {rating: 10 A"))
	assert.Contains(t, round.On(&round.design.Circuits.Items[2], NoPoint, "fault_current").Reason, "branches from itself")
}
