package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// byPath finds the results of a design by their paths.
func byPath(d *schema.Design) map[string]*Result {
	out := map[string]*Result{}
	for _, r := range everything(NewSession(d, Options{})) {
		out[r.Path] = r
	}
	return out
}

// in is a known result in a unit; "" for plain numbers, "share" for the fraction of a share.
func in(t *testing.T, r *Result, unit string) float64 {
	t.Helper()
	require.NotNil(t, r)
	require.True(t, r.Known(), "%s: missing %v, absent %s, %s", r.Path, r.Missing, r.Absent, r.Reason)
	if unit == "" {
		return r.Value().(float64)
	}
	if unit == "share" {
		v, err := r.Value().(quantity.Value).In("%")
		require.NoError(t, err)
		return v / 100
	}
	v, err := r.Value().(quantity.Value).In(unit)
	require.NoError(t, err)
	return v
}

// Hand calculations on the six of testdata, written out.
func TestHandCalculations(t *testing.T) {
	results := byPath(six(t))
	for _, test := range []struct {
		path string
		want float64
		unit string
		tol  float64
		how  string
	}{
		{"at.full_load.fuel_mass_demand", 27, "kg/h", 1e-9, "90 kW x 0.300 kg/kWh"},
		{"at.cruise.fuel_mass_demand", 8.6330, "kg/h", 0.001, "215 g/kWh x (22 kW + 2.2 bar x 4.1 L x 36.667 rev/s / 2 = 16.537 kW) x 43.44/41.69 MJ/kg of E10"},
		{"at.idle.fuel_demand", 2, "L/h", 1e-9, "as stated"},
		{"at.full_load.air_flow", 0.1148, "m3/s", 1e-9, "4.1e-3 m3 x 70 rev/s / 2 x 0.80"},
		{"at.cruise.air_mass_flow", 8.633 * 14.096, "kg/h", 0.02, "8.633 kg/h x (14.7 - 0.1059 x 5.7): w = 0.0794/(0.0794 + 0.6705)"},
		{"at.full_load.throttle_drop", 4.907, "kPa", 0.001, "10.159 kPa x (0.1148/0.16518)^2; 350 cfm = 0.16518 m3/s"},
		{"at.full_load.cleaner_drop", 150.6, "Pa", 0.1, "1.225/2 x (0.1148/(0.61 x 0.012))^2"},
		{"at.full_load.air_mass_flow", 0.1148 * 1.15676, "kg/s", 1e-5, "0.1148 m3/s of 99 kPa at 298.15 K: 99000/(287.053 x 298.15)"},
		{"design.engine.implied_lambda", 0.1148 * 1.15676 * 3600 / (27 * 14.096), "", 1e-3, "air over 14.096 times 27 kg/h: 1.256, as 0.80 is far too much for this engine"},
		{"design.engine.brake_efficiency", 3.6 / (0.3 * 41.688), "", 1e-4, "1/(300 g/kWh x 41.688 MJ/kg): 0.1059 of ethanol at 26.947 and the rest of petrol at 43.440"},
		{"design.engine.relative_efficiency", 0.28785 / 0.57516, "", 2e-4, "over 1 - 8.5^-0.4"},
		{"design.engine.power_at_altitude", 90 * 0.98518 * 1.02498, "kW", 0.03, "90 kW x (97.773/99)^1.2 x (298.15/286.20)^0.6"},
		{"at.idle.manifold_pressure", 101.325 - 60.955, "kPa abs", 0.01, "sea level, where it was read, less 18 inHg of 3.38639 kPa"},
		{"design.engine.idle_vacuum_at_sea_level", 18, "inHg", 1e-3, "read there"},
		{"design.engine.idle_vacuum_at_altitude", 97.773 - 40.37, "kPa", 0.01, "300 m: barometer less the same absolute pressure"},
		{"at.full_load.manifold_pressure", 97.773 - (4.907+0.1506)*1.1901/1.225, "kPa abs", 0.01, "barometer less both losses, in air of 1.1901 kg/m3 at 300 m"},
		{"at.idle.electrical_load", 44.3, "A", 1e-9, "15 + 0.2 + 6.6 + 2 + 1.5 + 16 + 3"},
		{"at.cruise.charging_balance", 26.7, "A", 1e-9, "55 - (44.3 - 16)"},
		{"at.cranking.battery_voltage", 10.98, "V", 1e-9, "12.6 - 180 x (12.6 - 7.2)/600"},
		{"at.idle.battery_voltage", 14, "V", 1e-9, "45 A cover 44.3 A"},
		{"at.idle.vapour_margin", 95.3 - 81.8, "kPa", 0.1, "inlet less vapour pressure"},
		{"design.throttle_body.soak_margin", 97.773 - 94.46, "kPa", 0.1, "300 m less AP-42: A 11.756, B 5315.1 for 9 psi, exp(A - B/581.6) = 13.70 psia at 122 degF"},
		{"at.full_load.injector_flow", 606.9, "cc/min", 0.1, "300 kPa across the nozzle is the test pressure; hot fuel of 728.2 kg/m3 (27 kg/h are 37.08 L/h) passes sqrt(745/728.2) as much"},
		{"at.full_load.injector_duty", 37.08 / (2 * 36.415), "share", 1e-4, "37.08 L/h over two injectors of 606.9 cc/min"},
		{"at.full_load.injector_driven", 0.50913 + 0.084, "share", 1e-4, "0.8 ms in 1.5 x 70 pulses/s on top"},
		{"design.throttle_body.injectors.driven_at_maximum_speed", 0.50913 + 0.096, "share", 1e-4, "0.8 ms in 1.5 x 80 pulses/s on top"},
		{"design.throttle_body.injectors.flow_at_setting", 600, "cc/min", 1e-6, "set to the test pressure"},
		{"at.idle.injector_open_time", 1.5692, "ms", 1e-4, "2 L/h / (2 x 17.5 pulses/s x 36.415 L/h)"},
		{"at.idle.injector_pulse", 2.3692, "ms", 1e-4, "1.5692 + 0.8"},
		{"at.idle.pressure_deviation", 0, "share", 1e-8, "300/300 - 1"},
		{"at.full_load.pressure_deviation", -0.01, "share", 1e-8, "297/300 - 1"},
		{"at.idle.battery_voltage_deviation", -0.1, "V", 1e-9, "13.9 - 14.0"},
		{"design.battery.cranking_voltage_deviation", -0.18, "V", 1e-9, "10.8 - 10.98"},
		{"design.measured.key_on_pressure_deviation", -0.3, "kPa", 1e-9, "97.5 - 97.8"},
		{"design.measured.full_load_restriction", 4.8, "kPa", 1e-9, "97.8 - 93"},
		{"design.circuits[0].steady_current", 8.8, "A", 1e-9, "0.2 + 6.6 + 2: relay, pump and injectors"},
		{"design.circuits[1].smallest_wire", 2.0809, "mm2", 1e-3, "14 AWG"},
		{"design.circuits[0].fuse_ceiling", 105, "A", 1e-9, "1.5 x 70 A of 10 AWG, class 125"},
		{"design.circuits[1].ampacity", 40 * 0.8272 * 0.6, "A", 0.01, "14 AWG class 125: 40 A x sqrt(65/95) x 0.60 for four wires"},
		{"design.circuits[4].fault_current", 12.6 / (0.009 + 0.008911 + 0.000710), "A", 0.5, "12.6 V over 9 mohm of battery, 8.91 of wires and 1.018 || (0.743 + 1.605) of grounds"},
		{"design.circuits[1].short_heating", 90 * 90 * 0.1 / (123.5 * 123.5 * 2.081 * 2.081), "", 1e-4, "15 A blade open in 0.1 s at 6 times its rating: (6 x 15)^2 x 0.1 s over (123.5 x 2.081)^2"},
		{"design.grounds[1].resistance", 0.0008*0.554 + 0.0003, "ohm", 1e-9, "0.8 m of IEC 60228 class 5 35 mm2 at 0.554 mohm/m + 0.3 mohm"},
		{"design.oxygen_sensors[0].elevation", 45, "deg", 1e-9, "90 - 45"},
		{"design.oxygen_sensors[0].open_end_diameters", 49.12, "", 0.01, "2800/57"},
		{"design.ignition.at.full_load.firing_interval", 4.7619, "ms", 1e-4, "1/(70 x 3)"},
		{"design.ignition.at.idle.coil_fill", 0.9992, "share", 1e-4, "1 - exp(-0.667 x 28.57 ms x 3 ohm / 8 mH)"},
		{"design.ignition.at.cranking.coil_current", (10.98 - 0.0489 - 0.1054) / 1.5, "A", 2e-3, "ballast bypassed, settled; 10.98 V less 2.41 A over 20.3 mohm of wire and 182 A over 0.743 || 2.623 mohm of grounds"},
		{"design.ignition.at.cruise.coil_energy", 70.1 * 0.9951 * 0.9951, "mJ", 0.1, "4 mH x (4.187 A x (14 - 0.063 - 0.005)/14)^2: 3.1 A over 20.3 mohm of wire, and grounds"},
		{"design.ignition.rotor_misalignment", 8.75, "deg", 1e-9, "(45 - 10)/4"},
		{"design.ignition.rotor_overlap", 14.897, "deg", 1e-3, "13/50 rad"},
		{"design.ignition.coil_supply_running", 14 * (1 - 0.667/2), "V", 1e-9, "half the supply during dwell"},
		{"design.sensors.manifold_pressure.hose_resonance", 286, "Hz", 0.1, "343.2/(4 x 0.3)"},
		{"design.throttle_control.closing_moment", 0.766, "", 1e-3, "sin 50 deg, less than sin 120 deg"},
		{"design.passages[0].bundle", 11.758, "mm", 1e-3, "1.2 x 2 mm x sqrt 24"},
		{"design.passages[0].connector_diagonal", 44.944, "mm", 1e-3, "sqrt(38^2 + 24^2)"},
		{"design.passages[0].hole_needed", 49.944, "mm", 1e-3, "connector: 44.944 + 1 + 4 of grommet; bundle: 11.758 + 3 + 4"},
		{"design.passages[1].hole_needed", 10, "mm", 1e-9, "7 + 3"},
		{"design.connectors[0].open_cavities", 0, "", 1e-9, "24 - 21 - 3"},
		{"design.harness.bend_needed", 160, "mm", 1e-9, "10 x 16"},
	} {
		t.Run(test.path, func(t *testing.T) {
			assert.InDelta(t, test.want, in(t, results[test.path], test.unit), test.tol, test.how)
		})
	}
}

// Published figures reached through a design.
func TestPublishedFigures(t *testing.T) {
	wire := func(size, class, ambient string) string {
		return "circuits: [{name: a, feed_wires: [{size: " + size + ", length: 4 m, insulation_rating: " + class + ", ambient: " + ambient +
			", bundle_count: 1, conductor: stranded_copper, joints: none}], return_wires: [{size: " + size + ", length: 4 m, ambient: " + ambient + ", conductor: stranded_copper, joints: none}]," +
			" fuse: none, relay: none, source: battery_post, returns_to: battery_negative, load: {kind: constant_current, current: 10 A, rated_voltage: 12 V, runs_at: [cruise]}}]\n" +
			"battery: {system_voltage: 12 V}\nclimate: {under_bonnet: 80 degC}\nalternator: {rated_output: 90 A, cruise_output: 50 A, other_load: 0 A, regulated_voltage: 14 V}\n"
	}
	for _, test := range []struct {
		name, design, path string
		want               float64
		unit               string
		tol                float64
	}{
		{"Rajput, Internal Combustion Engines, example 7.2: fuel of 86 kW at 0.38 kg/kWh",
			"engine: {power: 86 kW, power_as: net, specific_consumption: 380 g/kWh, consumption_ethanol: 0 %}\nfuel: {ethanol: 0 %}\n", "at.full_load.fuel_mass_demand", 32.68, "kg/h", 0.01},
		{"Rajput, Internal Combustion Engines, example 7.2: air at volumetric efficiency 0.850, 14 times the fuel, from its 1.013 bar and 288 K to ours",
			"engine: {cycle: four_stroke, displacement: 4066 cc, power_speed: 3600 rpm, volumetric_efficiency: 0.850, aspiration: natural}\n",
			"at.full_load.air_mass_flow", 14 * 32.68 * (99 / 298.15) / (101.3 / 288), "kg/h", 1.5},
		{"250 cu in at 6000 rpm and 100 percent: 434 cfm, common practice (CID x rpm / 3456)",
			"engine: {cycle: four_stroke, displacement: 250 cu in, power_speed: 6000 rpm, volumetric_efficiency: 1, aspiration: natural}\n", "at.full_load.air_flow", 434, "cfm", 0.1},
		{"two rotors of 654 cc at 7000 rpm and 100 percent: 323 cfm, as a four-stroke engine of twice the volume (CID x rpm / 3456), common practice",
			"engine: {cycle: rotary, displacement: 1308 cc, power_speed: 7000 rpm, volumetric_efficiency: 1, aspiration: natural}\n", "at.full_load.air_flow", 2 * 79.82 * 7000 / 3456.0, "cfm", 0.1},
		{"US Standard Atmosphere 1976, 2000 m", "climate: {altitude: 2000 m}\n", "at.cruise.barometer", 79.501, "kPa abs", 0.005},
		{"EPA AP-42 table 7.1-2, Reid 10 psi at 60 degF: 5.2 psi",
			"fuel: {reid_vapour_pressure: 10 psi}\nclimate: {hot_fuel: 60 degF}\n", "at.idle.vapour_pressure", 5.2, "psia", 0.1},
		{"EPA AP-42 table 7.1-2, Reid 7 psi at 100 degF: 7.4 psi",
			"fuel: {reid_vapour_pressure: 7 psi}\nclimate: {hot_fuel: 100 degF}\n", "at.idle.vapour_pressure", 7.4, "psia", 0.1},
		{"Alternative Fuels Data Center: gasoline 14.7", "fuel: {ethanol: 0 %}\n", "design.fuel.stoichiometric_ratio", 14.7, "", 1e-9},
		{"Alternative Fuels Data Center: ethanol 9.0", "fuel: {ethanol: 100 %}\n", "design.fuel.stoichiometric_ratio", 9.0, "", 1e-9},
		{"33 CFR 183.425 Table 5: 16 AWG, 105 degC: 25 A", wire("16 AWG", "105 degC", "30 degC"), "design.circuits[0].ampacity", 25, "A", 1e-9},
		{"33 CFR 183.425 note 1: engine space, 105 degC: factor 0.85", wire("16 AWG", "105 degC", "50 degC"), "design.circuits[0].ampacity", 25 * 0.85, "A", 0.25},
		{"33 CFR 183.455(c): 150 percent of 25 A", wire("16 AWG", "105 degC", "50 degC"), "design.circuits[0].fuse_ceiling", 37.5, "A", 1e-9},
		{"IEC 60228 class 5, 2.5 mm2: 7.98 ohm/km; 10 A over 8 m", wire("2.5 mm2", "105 degC", "20 degC"), "design.circuits[0].at.cruise.voltage_drop", 0.6384, "V", 1e-6},
		{"ASTM B258, 14 AWG: 8.285 mohm/m at 20 degC; 10 A over 8 m", wire("14 AWG", "105 degC", "20 degC"), "design.circuits[0].at.cruise.voltage_drop", 0.6628, "V", 1e-3},
	} {
		t.Run(test.name, func(t *testing.T) {
			assert.InDelta(t, test.want, in(t, byPath(load(t, test.design))[test.path], test.unit), test.tol)
		})
	}
}

// A regulator with the wrong reference: flow follows the square root of the
// pressure across the nozzle. 61 kPa of vacuum (18 inHg) at 300 kPa.
func TestRegulatorReferenceError(t *testing.T) {
	design := func(location, reference string) *schema.Design {
		return load(t, "climate: {altitude: 0 m}\nengine: {idle_vacuum: 18 inHg, vacuum_altitude: 0 m, aspiration: natural}\nregulator: {setting: 300 kPa, construction: diaphragm, reference: "+reference+
			"}\nthrottle_body: {injectors: {location: "+location+"}}\n")
	}
	for _, test := range []struct {
		location, reference string
		want                float64
	}{
		{"above_throttle", "atmosphere", 0},
		{"above_throttle", "manifold_vacuum", -0.1074}, // sqrt((300 - 60.955)/300) - 1
		{"below_throttle", "manifold_vacuum", 0},
		{"below_throttle", "atmosphere", 0.0968}, // sqrt((300 + 60.955)/300) - 1
	} {
		r := NewSession(design(test.location, test.reference), Options{}).At(Idle, "regulator_flow_error")
		assert.InDelta(t, test.want, in(t, r, "share"), 1e-3, "%s, %s", test.location, test.reference)
	}
	r := NewSession(design("below_throttle", "crankcase_ventilation"), Options{}).At(Idle, "regulator_flow_error")
	assert.Contains(t, r.Reason, "crankcase_ventilation")
}
