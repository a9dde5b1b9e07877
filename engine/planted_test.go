package engine_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
)

// The clean designs mistakes are planted in.
const (
	six   = "demo/six-return.yaml"
	v8    = "demo/v8-in-tank.yaml"
	frame = "good/four-frame-pump.yaml"
	low   = "good/four-low-pressure.yaml"
	big   = "good/big-v8-surge-tank.yaml"
	e85   = "good/v8-e85.yaml"
	high  = "good/six-high-altitude.yaml"
)

// planted is one mistake planted in a clean design. change is one fact, "path=value", or the facts that one mistake
// moves together, separated by semicolons. finds is the complaint that must follow, as "fail rule" or "warn rule".
// companions are the only others that may: they see the same physical cause.
//
// A mistake in the build is planted in the design as it was before the first start: what was later entered in the
// controller and measured belongs to the car without it.
type planted struct {
	name, design, change, finds string
	companions                  []string
}

func TestPlantedMistakes(t *testing.T) {
	lib := library(t)
	clean := map[string][]string{}
	for _, row := range plantedRows() {
		t.Run(row.name, func(t *testing.T) {
			text := designText(t, row.design)
			if !strings.Contains(row.change, "setup.") && !strings.Contains(row.change, "measured.") {
				text = without(t, text, "setup", "measured")
			}
			if clean[row.design] == nil {
				clean[row.design] = append([]string{}, complaints(judged(t, lib, row.design, text))...)
			}
			after := complaints(judged(t, lib, row.design, changed(t, text, row.change)))
			fresh := slices.DeleteFunc(after, func(c string) bool { return slices.Contains(clean[row.design], c) })
			assert.Contains(t, fresh, row.finds, row.change)
			assert.Subset(t, append(row.companions, row.finds), fresh, row.change)
		})
	}
}

// Every mistake is planted once, and each row names the rule it is there for.
func TestPlantedRowsAreDistinct(t *testing.T) {
	names, changes := map[string]bool{}, map[string]bool{}
	for _, row := range plantedRows() {
		assert.False(t, names[row.name], row.name)
		assert.False(t, changes[row.design+row.change], row.change)
		assert.NotEmpty(t, row.finds, row.name)
		names[row.name], changes[row.design+row.change] = true, true
	}
}

// complaints lists what failed or warns, each rule once, as "fail rule".
func complaints(r *engine.Report) []string {
	var out []string
	for _, f := range having(r, engine.Fail, engine.Warn) {
		if c := string(f.Outcome) + " " + f.Rule; !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// changed edits the text of a design: "path=value; path=value". A path goes down by keys; an item of a list is named
// by its index or by its own name: circuits[fuel pump].fuse.rating.
func changed(t testing.TB, text []byte, change string) []byte {
	t.Helper()
	var document yaml.Node
	require.NoError(t, yaml.Unmarshal(text, &document))
	for one := range strings.SplitSeq(change, "; ") {
		path, value, ok := strings.Cut(one, "=")
		require.True(t, ok, "path=value is expected: %s", one)
		var put yaml.Node
		require.NoError(t, yaml.Unmarshal([]byte(value), &put))
		at := nodeAt(t, document.Content[0], path)
		before, after := flat(t, at), flat(t, put.Content[0])
		require.NotEqual(t, before, after, "%s changes nothing", one)
		*at = *put.Content[0]
	}
	out, err := yaml.Marshal(&document)
	require.NoError(t, err)
	return out
}

// without leaves out whole parts of a design.
func without(t testing.TB, text []byte, parts ...string) []byte {
	t.Helper()
	var document yaml.Node
	require.NoError(t, yaml.Unmarshal(text, &document))
	root := document.Content[0]
	for _, part := range parts {
		for i := 0; i < len(root.Content); i += 2 {
			if root.Content[i].Value == part {
				root.Content = slices.Delete(root.Content, i, i+2)
				break
			}
		}
	}
	out, err := yaml.Marshal(&document)
	require.NoError(t, err)
	return out
}

func flat(t testing.TB, n *yaml.Node) string {
	t.Helper()
	text, err := yaml.Marshal(n)
	require.NoError(t, err)
	return string(text)
}

// nodeAt follows a path to its node.
func nodeAt(t testing.TB, n *yaml.Node, path string) *yaml.Node {
	t.Helper()
	step := regexp.MustCompile(`^([a-z_]+)(?:\[([^\]]+)\])?$`)
	for key := range strings.SplitSeq(path, ".") {
		match := step.FindStringSubmatch(key)
		require.NotNil(t, match, "%s is not a step of a path", key)
		next := valueOf(n, match[1])
		require.NotNil(t, next, "%s: the design does not state %s", path, match[1])
		n = next
		if match[2] != "" {
			n = itemOf(n, match[2])
			require.NotNil(t, n, "%s: there is no item %s", path, match[2])
		}
	}
	return n
}

func valueOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func itemOf(n *yaml.Node, which string) *yaml.Node {
	if i, err := strconv.Atoi(which); err == nil && i < len(n.Content) {
		return n.Content[i]
	}
	for _, item := range n.Content {
		if name := valueOf(item, "name"); name != nil && name.Value == which {
			return item
		}
	}
	return nil
}

func TestChangedDesign(t *testing.T) {
	text := []byte("pump: {place: in_tank}\ncircuits:\n  - {name: fuel pump, size: 1}\n  - {name: fan, size: 2}\n")
	for change, want := range map[string]string{
		"pump.place=frame_rail":                       "pump: {place: frame_rail}\ncircuits:\n    - {name: fuel pump, size: 1}\n    - {name: fan, size: 2}\n",
		"circuits[fan].size=3; circuits[0].size=none": "pump: {place: in_tank}\ncircuits:\n    - {name: fuel pump, size: none}\n    - {name: fan, size: 3}\n",
		"pump={place: boot, lights: [a, b]}":          "pump: {place: boot, lights: [a, b]}\ncircuits:\n    - {name: fuel pump, size: 1}\n    - {name: fan, size: 2}\n",
	} {
		assert.Equal(t, want, string(changed(t, text, change)), fmt.Sprint(change))
	}
}

func plantedRows() []planted {
	return []planted{
		{"vent blocked", six, "tank.vent=blocked", "fail fuel/tank.breathes", nil},
		{"tank open to the cabin", six, "tank.location=in_boot_open", "warn fuel/tank.outside-cabin", nil},
		{"no rollover valve", six, "tank.rollover_valve=false", "warn fuel/tank.rollover-valve", nil},
		{"vented cap beside a canister", low, "tank.cap=vented", "warn fuel/tank.cap-suits-vent", nil},
		{"no baffle", six, "tank.baffle=nothing", "warn fuel/tank.pickup-stays-covered", nil},
		{"return churns at pickup", six, "tank.return_entry=at_pickup", "warn fuel/return.entry-away-from-pickup", nil},
		{"tank plate seal reused", six, "tank.plate_seal=reused", "warn fuel/tank.plate-seal", nil},
		{"tank near exhaust", six, "tank.exhaust_clearance=20 mm", "fail fuel/tank.away-from-exhaust", nil},
		{"tank not bonded", six, "tank.bonded=false", "warn fuel/tank.bonded", nil},
		{"rusty tank", six, "tank.inside=rust", "fail fuel/tank.clean-inside", nil},
		{"strainer too fine", frame, "suction.runs[1].filter.mesh=10 um", "warn fuel/filters.suction-filter-mesh", nil},
		{"pump on always", six, "pump.stop_control=always_on", "fail fuel/delivery.stops-with-engine", nil},
		{"no inertia switch", six, "pump.inertia_switch=none", "warn fuel/delivery.inertia-switch", nil},
		{"inertia switch not resettable", six, "pump.inertia_switch.manual_reset=false", "warn fuel/delivery.inertia-switch-reset", nil},
		{"pump in the cabin", frame, "pump.place=in_cabin", "fail fuel/delivery.pump-outside-cabin", nil},
		{"pump in tank not submersible", six, "pump.rated_submersible=false", "fail fuel/delivery.pump-submersible", nil},
		{"no check valve", six, "pump.check_valve=false", "warn fuel/delivery.line-stays-full", nil},
		{"no isolation", frame, "pump.isolated=false", "warn fuel/delivery.pump-isolated", nil},
		{"pump ethanol", v8, "pump.ethanol_rating=5 %", "fail fuel/delivery.pump-ethanol", nil},
		{"pump above tank", frame, "pump.inlet_above_tank_bottom=400 mm", "fail fuel/vapour.inlet-below-fuel", nil},
		{"pump slightly above tank bottom", frame, "pump.inlet_above_tank_bottom=150 mm", "warn fuel/vapour.inlet-below-fuel", nil},
		{"prime long", six, "pump.prime_time=30 s", "warn fuel/delivery.prime-time", nil},
		{"pump max pressure low", six, "pump.maximum_pressure=250 kPa", "fail fuel/pressure.pump-allowed-pressure", nil},
		{"pump dead head low", six, "pump.dead_head_pressure=310 kPa", "warn fuel/pressure.pump-reaches-setting", nil},
		{"hose R7", six, "feed.runs[engine hose].mark=sae_j30_r7", "fail fuel/hose.injection-grade", nil},
		{"hose unmarked", six, "feed.runs[engine hose].mark=unmarked", "fail fuel/hose.feed-hose-marked", nil},
		{"injection hose in tank", six, "feed.runs[hose in the tank].mark=sae_j30_r9; feed.runs[hose in the tank].rated_submersible=false", "fail fuel/hose.submerged-hose", nil},
		{"copper tube", six, "feed.runs[frame tube].material=copper", "warn fuel/routing.no-copper-pipe", nil},
		{"worm clamps", six, "feed.runs[engine hose].ends=perforated_worm_clamp", "fail fuel/hose.feed-clamps", nil},
		{"spring clips", six, "feed.runs[engine hose].ends=spring_clip", "fail fuel/hose.feed-clamps", nil},
		{"no bead", six, "feed.runs[engine hose].beaded=false", "fail fuel/hose.feed-spigots-beaded", nil},
		{"soldered tube", six, "feed.runs[frame tube].ends=soldered", "fail fuel/hose.no-soldered-joints", nil},
		{"fuel line near exhaust", six, "feed.runs[engine hose].exhaust_clearance=20 mm", "fail fuel/routing.clear-of-exhaust", nil},
		{"line near moving parts", six, "feed.runs[engine hose].moving_parts_clearance=10 mm", "fail fuel/routing.clear-of-moving-parts", nil},
		{"tube clips far apart", six, "feed.runs[frame tube].clip_spacing=1.5 m", "warn fuel/routing.clips", nil},
		{"line hangs low", six, "feed.runs[frame tube].below_frame=90 mm", "fail fuel/routing.below-frame", nil},
		{"sharp bend", six, "feed.runs[engine hose].bend_radius=20 mm", "warn fuel/routing.hose-bends", nil},
		{"old hose", six, "feed.runs[tank hose].age=15 years", "warn fuel/hose.feed-hose-age", nil},
		{"old hose kept", six, "condition.old_hose_kept=true", "fail fuel/hose.no-old-hose-kept", nil},
		{"hose ethanol", e85, "feed.runs[engine hose].ethanol_rating=15 %", "fail fuel/routing.feed-ethanol", nil},
		{"hose temperature", six, "feed.runs[engine hose].temperature_rating=70 degC", "fail fuel/routing.hot-place", nil},
		{"line in cabin", six, "feed.runs[engine hose].zone=cabin", "fail fuel/routing.outside-cabin", nil},
		{"suction bore small", frame, "suction.runs[tank hose].bore=5 mm", "warn fuel/vapour.suction-speed", nil},
		{"feed tube too small", v8, "feed.runs[frame tube].bore=4 mm", "fail fuel/pressure.full-load-pressure", nil},
		{"return tube small", six, "return_line.runs[return tube].bore=3.5 mm", "fail fuel/return.keeps-control", nil},
		{"return missing", six, "return_line=none", "fail fuel/return.fitted-for-style", nil},
		{"return check valve", six, "return_line.runs[0]={name: check valve, kind: fitting, fitting: check_valve, count: 1, bore: 7.5 mm, material: steel, zone: engine_bay, pressure_rating: 3000 kPa, temperature_rating: 150 degC, ethanol_rating: 100 %, exhaust_clearance: 300 mm, heat_shield: false, moving_parts_clearance: 120 mm, below_frame: 0 mm, ends: threaded}", "warn fuel/return.no-check-valve", nil},
		{"setting above body", six, "regulator.setting=450 kPa", "fail fuel/pressure.setting-suits-body", nil},
		{"setting low", six, "regulator.setting=200 kPa", "fail fuel/pressure.setting-suits-body", []string{"fail fuel/injectors.duty-at-full-load"}},
		{"vacuum reference", six, "regulator.reference=manifold_vacuum", "fail fuel/regulator.no-vacuum-above-throttle", nil},
		{"ported reference", six, "regulator.reference=ported_vacuum", "fail fuel/regulator.reference-port", nil},
		{"crankcase valve reference", six, "regulator.reference=crankcase_ventilation", "fail fuel/regulator.reference-port", nil},
		{"two regulators", six, "regulator.active_count=2", "fail fuel/regulator.one-active", nil},
		{"old regulator", six, "regulator.old_regulator_in_line=true", "fail fuel/regulator.old-one-removed", nil},
		{"no gauge port", six, "regulator.gauge_port=false", "warn fuel/regulator.gauge-port", nil},
		{"regulator flow small", six, "regulator.maximum_flow=60 L/h", "fail fuel/pressure.regulator-passes-idle-flow", nil},
		{"old pump in series", six, "engine.old_mechanical_pump=in_series", "fail fuel/delivery.old-mechanical-pump", nil},
		{"old pump unconnected", six, "engine.old_mechanical_pump=left_unconnected", "warn fuel/delivery.old-mechanical-pump", nil},
		{"injectors small", six, "throttle_body.injectors.static_flow=300 cc/min", "fail fuel/injectors.duty-at-full-load", nil},
		{"injectors huge", six, "throttle_body.injectors.static_flow=2400 cc/min", "warn fuel/injectors.pulse-at-idle", nil},
		{"injector ethanol", e85, "throttle_body.injectors.ethanol_rating=10 %", "fail fuel/injectors.injector-ethanol", nil},
		{"air rating small", six, "throttle_body.air_rating=170 cfm", "fail throttle/body.throttle-drop", nil},
		{"idle air unfiltered", six, "throttle_body.idle_air_filtered=false", "warn throttle/body.idle-air-filtered", nil},
		{"idle valve no room", six, "throttle_body.idle_valve_position=70 %", "warn throttle/body.idle-valve-position", nil},
		{"hot soak fuel", six, "throttle_body.hot_soak_fuel=95 degC", "warn fuel/vapour.hot-soak-at-body", nil},
		{"cleaner mismatch", six, "intake.cleaner_seat=118 mm", "warn throttle/body.cleaner-seals", nil},
		{"cleaner small", six, "intake.cleaner_area=20 cm2", "warn throttle/body.cleaner-drop", nil},
		{"adapter jams plate", six, "intake.adapter.plate_clearance=0.5 mm", "fail throttle/body.plate-clearance", nil},
		{"adapter bore small", six, "intake.adapter.bore=40 mm", "warn throttle/body.adapter-bore", nil},
		{"adapter step", six, "intake.adapter.largest_step=4 mm", "warn throttle/body.no-step", nil},
		{"gasket land", six, "intake.gasket_land=1 mm", "warn throttle/body.gasket-land", nil},
		{"flange warped", six, "intake.flange_flatness=0.6 mm", "warn throttle/body.flange-flat", nil},
		{"ports open", six, "intake.ports_capped=false", "fail throttle/body.ports-capped", nil},
		{"bonnet hits", six, "intake.bonnet_clearance=5 mm", "fail throttle/body.bonnet-clearance", nil},
		{"crankcase valve removed", six, "intake.crankcase_ventilation=removed", "fail air/vacuum.crankcase-ventilation", nil},
		{"crankcase valve above throttle", six, "intake.crankcase_ventilation=valve_above_throttle", "warn air/vacuum.crankcase-ventilation", nil},
		{"manifold heat blocked", six, "intake.manifold_heat=blocked", "warn air/vacuum.manifold-heat", nil},
		{"one spring", six, "throttle_control.return_springs=1", "fail throttle/control.two-springs", nil},
		{"spring cannot close", six, "throttle_control.each_spring_closes=false", "fail throttle/control.each-spring-closes", nil},
		{"sensor spring counted", six, "throttle_control.sensor_spring_counted=true", "fail throttle/control.two-springs", nil},
		{"slow return", six, "throttle_control.return_time=2.5 s", "fail throttle/control.return-time", nil},
		{"slow return one spring", six, "throttle_control.return_time_one_spring=4 s", "fail throttle/control.return-one-spring", nil},
		{"over centre", six, "throttle_control.largest_lever_angle=172 deg", "fail throttle/control.off-centre", nil},
		{"not wide open", six, "throttle_control.opening_at_floor=80 %", "warn throttle/control.full-opening", nil},
		{"no pedal stop", six, "throttle_control.pedal_stop=false", "warn throttle/control.pedal-stop", nil},
		{"cable taut", six, "throttle_control.cable_slack=0 mm", "fail throttle/control.cable-slack", nil},
		{"cable near exhaust", six, "throttle_control.exhaust_clearance=20 mm", "fail throttle/control.cable-off-exhaust", nil},
		{"harness in linkage", six, "throttle_control.harness_clearance=3 mm", "fail throttle/control.harness-off-linkage", nil},
		{"kickdown short", v8, "vehicle.automatic_transmission.new_travel=40 mm", "fail air/transmission.throttle-valve-travel", nil},
		{"kickdown early", v8, "vehicle.automatic_transmission.full_at_wide_open=false", "fail air/transmission.full-at-wide-open", nil},
		{"booster shared", v8, "vehicle.brake_booster.own_port=false", "fail air/vacuum.booster-port", nil},
		{"booster no check valve", v8, "vehicle.brake_booster.check_valve=false", "fail air/vacuum.booster-check-valve", nil},
		{"booster weak vacuum", v8, "engine.idle_vacuum=9 inHg", "fail air/vacuum.booster-vacuum", nil},
		{"exhaust leak", six, "exhaust.leaks=leaking", "fail sensors/oxygen.exhaust-tight", nil},
		{"cabin leak", six, "exhaust.cabin_leak=leaking", "fail start/workshop.cabin-sealed", nil},
		{"air injection", six, "exhaust.air_injection={entry: ports, flow: 1.5 g/s}", "warn sensors/oxygen.air-injection", nil},
		{"sensor hangs", six, "oxygen_sensors[0].angle_from_top=110 deg", "fail sensors/oxygen.not-hanging", nil},
		{"sensor near end", six, "oxygen_sensors[0].distance_to_open_end=0.2 m", "fail sensors/oxygen.far-from-open-end", nil},
		{"sensor far", six, "oxygen_sensors[0].distance_from_port=3.5 m", "warn sensors/oxygen.gas-arrives-in-time", nil},
		{"sensor too near", six, "oxygen_sensors[0].distance_from_port=0.1 m", "warn sensors/oxygen.far-enough-from-port", nil},
		{"sensor before merge", six, "oxygen_sensors[0].distance_after_merge=-0.1 m", "warn sensors/oxygen.after-merge", nil},
		{"sensor one cylinder", six, "oxygen_sensors[0].sees=one_cylinder", "fail sensors/oxygen.sees-its-bank", []string{"fail sensors/oxygen.gas-arrives-in-time"}},
		{"sensor after catalyst", six, "exhaust.catalyst={distance: 0.4 m}; oxygen_sensors[0].catalyst_side=after", "fail sensors/oxygen.before-catalyst", nil},
		{"sensor too hot", six, "oxygen_sensors[0].gas_temperature=950 degC", "fail sensors/oxygen-fitting.gas-temperature", nil},
		{"hexagon too hot", six, "oxygen_sensors[0].hexagon_temperature=650 degC", "fail sensors/oxygen-fitting.hexagon-temperature", nil},
		{"sensor clamp leaks", six, "oxygen_sensors[0].fixing_tight=false", "fail sensors/oxygen-fitting.fixing-tight", nil},
		{"sensor cable on exhaust", six, "oxygen_sensors[0].cable_exhaust_clearance=5 mm", "warn sensors/oxygen-fitting.cable-off-exhaust", nil},
		{"sensor unpowered", six, "oxygen_sensors[0].left_unpowered=true", "fail sensors/oxygen-fitting.never-unpowered", nil},
		{"wrong sealant", six, "oxygen_sensors[0].sealants_safe=false", "warn sensors/oxygen-fitting.sealants", nil},
		{"leaded fuel", six, "fuel.lead=0.5 g/L", "warn sensors/oxygen.unleaded-fuel", nil},
		{"coolant sensor radiator side", six, "sensors.coolant.place=radiator_side", "fail sensors/temperature.coolant-place", nil},
		{"coolant sensor dead water", six, "sensors.coolant.in_flow=false", "warn sensors/temperature.coolant-moves", nil},
		{"coolant shared", six, "sensors.coolant.shared_with_gauge=true", "fail sensors/temperature.own-sensor", nil},
		{"coolant taped", six, "sensors.coolant.wires=1; sensors.coolant.body_ground_taped=true", "fail sensors/temperature.body-ground", nil},
		{"coolant resistance", six, "sensors.coolant.series_resistance=200 ohm", "fail sensors/temperature.series-resistance", nil},
		{"air sensor under bonnet", six, "sensors.intake_air.place=under_bonnet", "fail sensors/temperature.air-place", nil},
		{"air sensor manifold floor", six, "sensors.intake_air.place=manifold_floor", "warn sensors/temperature.air-place", nil},
		{"pressure sensor ported", six, "sensors.manifold_pressure.port=ported_above_throttle", "fail air/vacuum.pressure-port", nil},
		{"pressure sensor shared booster", six, "sensors.manifold_pressure.shared_with=[brake_booster]", "fail air/vacuum.pressure-hose-alone", nil},
		{"pressure sensor hose long", six, "sensors.manifold_pressure.hose_length=2.5 m", "warn air/vacuum.pressure-hose-length", nil},
		{"pressure sensor hose thin", six, "sensors.manifold_pressure.hose_bore=1.5 mm", "warn air/vacuum.pressure-hose-bore", nil},
		{"pressure sensor below port", six, "sensors.manifold_pressure.height_above_port=-200 mm", "warn air/vacuum.pressure-sensor-height", nil},
		{"throttle sensor closed high", six, "sensors.throttle_position.closed_voltage=1.1 V", "warn sensors/reference.closed-voltage", nil},
		{"throttle sensor open low", six, "sensors.throttle_position.open_voltage=2.5 V", "warn sensors/reference.span", nil},
		{"sensor supply off", six, "sensors.reference_voltage=4.6 V", "fail sensors/reference.reference-voltage", nil},
		{"loads share the sensor ground", six, "sensors.sensor_ground_shared=true", "fail electrical/grounds.sensor-ground-alone", nil},
		{"sensor ground chassis", six, "sensors.sensor_ground=chassis", "warn electrical/grounds.sensor-ground", nil},
		{"speed signal from a discharge coil", high, "sensors.speed_signal.source=capacitive_discharge_coil", "fail sensors/speed.no-discharge-coil", nil},
		{"coil positive", six, "sensors.speed_signal.source=coil_positive", "fail sensors/speed.no-coil-positive", nil},
		{"points unfiltered", frame, "sensors.speed_signal.filtered=false", "warn sensors/speed.points-filtered", nil},
		{"input mismatch", six, "sensors.speed_signal.input_rating=square_wave_5v", "fail sensors/speed.input-takes-signal", nil},
		{"cylinders wrong", six, "sensors.speed_signal.configured_cylinders=8", "fail sensors/speed.cylinders-told", nil},
		{"crank gap", v8, "sensors.speed_signal.gap=3 mm", "warn sensors/speed.crank-gap", nil},
		{"crank single wire", v8, "sensors.speed_signal.cable=single_wire", "warn sensors/speed.reluctance-pair", nil},
		{"crank polarity", v8, "sensors.speed_signal.polarity_checked=false", "warn sensors/speed.reluctance-polarity", nil},
		{"shield grounded at both ends", v8, "sensors.speed_signal.shield_grounded_ends=2", "warn sensors/speed.shield-one-end", nil},
		{"signal near plug wires", v8, "sensors.speed_signal.high_voltage_clearance=10 mm; sensors.speed_signal.cable=twisted_pair", "fail sensors/speed.cable-off-plug-wires", nil},
		{"distributor unlocked", v8, "ignition.mechanical_advance=working", "fail ignition/modes.advance-locked", nil},
		{"vacuum unlocked", v8, "ignition.vacuum_advance=working", "fail ignition/modes.vacuum-advance-locked", nil},
		{"distributor seized", six, "ignition.mechanical_advance=locked", "fail ignition/modes.advance-works", nil},
		{"vacuum advance on the other port", six, "ignition.new_advance_port=manifold", "warn ignition/modes.advance-port", nil},
		{"rotor phase", v8, "ignition.rotor_phase_set=false", "fail ignition/modes.rotor-phase-set", nil},
		{"advance range beyond the rotor", v8, "ignition.most_advance=75 deg", "fail ignition/modes.rotor-reaches", []string{"warn ignition/modes.most-advance"}},
		{"solid wires", six, "ignition.plug_wires=solid_core", "fail ignition/interference.suppressed-wires", nil},
		{"secondary high", six, "ignition.secondary_resistance=60 kohm", "warn ignition/interference.secondary-resistance", nil},
		{"points scatter", frame, "ignition.dwell_variation=5 deg", "warn ignition/coil.dwell-steady", nil},
		{"unused leads bare", v8, "ignition.unused_leads=cut_bare", "fail ignition/modes.unused-leads", nil},
		{"coil hot", six, "ignition.coil.body_temperature=115 degC", "warn ignition/coil.coil-temperature", nil},
		{"coil starved", v8, "ignition.coil.inductance=30 mH", "warn ignition/coil.coil-energy", nil},
		{"ballast not bypassed", frame, "ignition.ballast.bypassed_in_start=false", "warn ignition/coil.ballast-bypassed", nil},
		{"six volt", six, "battery.system_voltage=6 V", "fail electrical/power.twelve-volts", nil},
		{"positive ground", six, "battery.grounded_pole=positive", "fail electrical/power.negative-ground", nil},
		{"battery weak", six, "battery.cold_cranking=200 A", "warn electrical/power.battery-holds-cranking", nil},
		{"battery flat", six, "battery.rest_voltage=11.8 V", "warn electrical/power.battery-charged", nil},
		{"alternator small", six, "alternator.idle_output=12 A", "warn electrical/charging.balance-at-idle", nil},
		{"regulator high", six, "alternator.regulated_voltage=15.6 V", "warn electrical/charging.regulated-voltage", nil},
		{"generator", six, "alternator.kind=generator", "warn electrical/charging.no-generator", nil},
		{"controller hot", six, "controller.place_temperature=100 degC", "fail body/controller.stands-the-heat", nil},
		{"controller on engine", six, "controller.place=on_engine", "fail body/controller.rated-for-engine", []string{"warn body/controller.kept-dry"}},
		{"controller connectors up", six, "controller.connectors_face=up", "warn body/controller.connectors-not-up", nil},
		{"no drip loop", low, "controller.drip_loop=0 mm", "warn body/controller.drip-loop", nil},
		{"controller by exhaust", low, "controller.exhaust_clearance=60 mm", "warn body/controller.exhaust-distance", nil},
		{"controller needs much", six, "controller.lowest_supply=11 V", "fail electrical/power.controller-supply-cranking", nil},
		{"power from coil", six, "controller.power_from=coil_positive", "fail electrical/power.controller-feed", nil},
		{"power from alternator", six, "controller.power_from=alternator", "warn electrical/power.controller-feed", nil},
		{"controller grounded twice", six, "controller.ground_to=engine_and_chassis", "fail electrical/grounds.controller-one-ground", nil},
		{"key feed from accessory", six, "controller.switched_feed.source=accessory; controller.switched_feed.crank_voltage=0 V", "fail electrical/power.key-feed-source", nil},
		{"key feed behind the ballast", frame, "controller.switched_feed.source=ballasted_wire; controller.switched_feed.run_voltage=8.6 V", "fail electrical/power.key-feed-source", nil},
		{"key feed dips in START", six, "controller.switched_feed.crank_voltage=4.5 V", "fail electrical/power.key-feed-cranking", nil},
		{"fuse larger than the wire", six, "circuits[fuel pump].fuse.rating=40 A", "fail electrical/fusing.fuse-within-wire", nil},
		{"fuse smaller than the load", six, "circuits[fuel pump].fuse.rating=5 A", "fail electrical/fusing.fuse-carries-load", nil},
		{"no fuse", six, "circuits[fuel pump].fuse=none", "fail electrical/fusing.branch-protected", nil},
		{"fuse far from the battery, bare wire", six, "circuits[controller power].fuse.distance_from_source=30 in; circuits[controller power].fuse.unfused_wire_sheathed=false", "fail electrical/fusing.fuse-near-source", nil},
		{"fuse box in the wet", six, "circuits[fuel pump].fuse.place=engine_bay_open", "warn electrical/fusing.fuse-dry", nil},
		{"heater shares", six, "circuits[oxygen heater].shares_fuse_with=[horn]", "warn electrical/fusing.heater-fuse-own", nil},
		{"pump shares", six, "circuits[fuel pump].shares_fuse_with=[radio]", "warn electrical/fusing.vital-fuse-own", nil},
		{"relay small", six, "circuits[fuel pump].relay.contact_rating=8 A", "warn electrical/relays.contact-rating", nil},
		{"pump relay coil on the accessory wire", six, "circuits[fuel pump].relay.coil_feed=accessory", "fail electrical/relays.coil-feed", nil},
		{"relay unsuppressed", six, "circuits[main relay].relay.suppression=nothing", "warn electrical/relays.coil-suppressed", nil},
		{"pump wire too thin", six, "circuits[fuel pump].feed_wires[1].size=18 AWG", "fail electrical/wires.pump-drop", nil},
		{"house wire in the engine bay", six, "circuits[injectors].feed_wires[0].insulation_rating=105 degC", "warn electrical/wires.class-in-engine-bay", nil},
		{"wire hotter than its class", six, "circuits[injectors].feed_wires[0].ambient=128 degC", "fail electrical/wires.class-over-ambient", nil},
		{"aluminium wire", six, "circuits[fuel pump].feed_wires[1].conductor=copper_clad_aluminium", "fail electrical/wires.stranded-copper", nil},
		{"solid wire", six, "circuits[injectors].feed_wires[0].conductor=solid_copper", "fail electrical/wires.stranded-copper", nil},
		{"wire near exhaust", six, "circuits[oxygen heater].feed_wires[0].exhaust_clearance=100 mm; circuits[oxygen heater].feed_wires[0].heat_shield=false", "warn electrical/wires.class-near-exhaust", nil},
		{"twisted joint", six, "circuits[fuel pump].feed_wires[0].joints[1].kind=twisted_and_taped", "fail electrical/joints.no-taped-joints", nil},
		{"piercing tap", six, "circuits[fuel pump].feed_wires[0].joints[1].kind=insulation_piercing_tap", "fail electrical/joints.no-taped-joints", nil},
		{"solder splice", six, "circuits[fuel pump].feed_wires[0].joints[1].kind=solder_splice", "warn electrical/joints.solder-supported", nil},
		{"plier crimp", six, "circuits[fuel pump].feed_wires[0].joints[1].tool=plier", "warn electrical/joints.crimp-tool", nil},
		{"tinned crimp", six, "circuits[fuel pump].feed_wires[0].joints[1].tinned_before_crimp=true", "fail electrical/joints.not-tinned", nil},
		{"controller in the splash zone", low, "controller.ingress_code=IP20", "fail body/controller.kept-dry", nil},
		{"crimp without insulation grip", six, "circuits[injectors].feed_wires[0].joints[0].insulation_gripped=false", "warn electrical/joints.insulation-gripped", nil},
		{"crimps not pull-tested", six, "circuits[injectors].feed_wires[0].joints[0].pull_tested=false", "warn electrical/joints.pull-tested", nil},
		{"pump fed from the alternator", v8, "circuits[fuel pump].source=alternator", "warn electrical/relays.alternator-feed", nil},
		{"fan through the ignition switch", v8, "circuits[cooling fan].source=ignition_switch", "warn electrical/relays.switch-spared", nil},
		{"relay in the wet", six, "circuits[main relay].relay.place=engine_bay_open", "warn electrical/relays.relay-dry", nil},
		{"joint at connector", six, "circuits[fuel pump].feed_wires[0].joints[1].distance_from_connector=10 mm", "warn electrical/joints.splice-place", nil},
		{"ground painted", six, "grounds[1].surface=painted", "fail electrical/grounds.bare-metal", nil},
		{"ground tapping screw", six, "grounds[1].surface=self_tapping_screw", "fail electrical/grounds.bare-metal", nil},
		{"ground crowded", six, "grounds[1].terminals_on_stud=7", "warn electrical/grounds.terminals-on-stud", nil},
		{"ground thin", six, "grounds[0].size=16 AWG", "fail electrical/grounds.starter-path", nil},
		{"ground joint bad", six, "grounds[1].joint_resistance=60 mohm", "warn electrical/grounds.path-resistance", nil},
		{"harness supports far apart", six, "harness.support_spacing=900 mm", "warn body/routing.support-spacing", nil},
		{"harness slack", six, "harness.slack=60 mm", "warn body/routing.slack-between-supports", nil},
		{"harness near fuel", six, "harness.fuel_line_clearance=30 mm", "fail body/clearances.fuel-line-distance", nil},
		{"harness near fuel, unclamped", six, "harness.fuel_line_clearance=90 mm; harness.fuel_line_clamped=false", "fail body/clearances.fuel-line-clamped", nil},
		{"clipped to fuel line", six, "harness.clipped_to_fuel_line=true", "fail body/clearances.not-on-fuel-line", nil},
		{"below fuel line", six, "harness.relative_to_fuel_line=below", "fail body/clearances.above-fuel-line", nil},
		{"harness near plug wires", six, "harness.high_voltage_clearance=20 mm", "fail body/clearances.high-voltage-distance", nil},
		{"harness near exhaust", six, "harness.exhaust_clearance=30 mm; harness.heat_shield=false", "fail body/clearances.exhaust-distance", nil},
		{"harness near steering", six, "harness.moving_controls_clearance=4 mm", "fail body/clearances.moving-controls", nil},
		{"harness near belt", six, "harness.belt_clearance=8 mm", "fail body/clearances.belt-distance", nil},
		{"no engine slack", six, "harness.engine_movement_slack=10 mm", "fail body/routing.engine-movement", nil},
		{"live wires left bare", six, "harness.unused_live_wires=bare", "fail body/routing.unused-wires", nil},
		{"harness bent tight", six, "harness.bend_radius=30 mm", "fail body/routing.bend-radius", nil},
		{"harness covered with vinyl tape", six, "harness.covering=vinyl_tape", "warn body/routing.covered", nil},
		{"excess wire by the belts", six, "harness.excess_wire=coiled_near_belts", "fail body/routing.excess-wire", nil},
		{"pump feed detour", six, "harness.pump_feed_direct=false", "warn body/routing.pump-feed-direct", nil},
		{"cavities open", six, "connectors[pump at the tank].wired=1", "fail electrical/connectors.cavities-plugged", nil},
		{"connector not sealed", six, "connectors[pump at the tank].sealed=false", "warn electrical/connectors.sealed-outside", nil},
		{"connector lock missing", six, "connectors[controller].secondary_lock=missing", "fail electrical/connectors.secondary-lock", nil},
		{"terminals not tugged", six, "connectors[controller].tug_tested=false", "warn electrical/connectors.tug-tested", nil},
		{"first clamp far", six, "connectors[controller].first_clamp=500 mm", "warn electrical/connectors.first-clamp", nil},
		{"terminal overloaded", six, "connectors[pump at the tank].terminal_rating=5 A", "fail electrical/connectors.terminal-rating", nil},
		{"hole smaller than the connector", six, "passages[0].hole=36 mm; passages[0].grommet_bore=31 mm", "fail body/passages.hole-large-enough", nil},
		{"no grommet", six, "passages[1].lining=nothing; passages[1].edge_clearance=3 mm", "fail body/passages.edge-lined", nil},
		{"hole edge rough", six, "passages[0].edge_finished=false", "warn body/passages.edge-finished", nil},
		{"pilot drill large", six, "passages[0].pilot_drill=40 mm", "warn body/passages.pilot-for-punch", nil},
		{"gauge ground", six, "gauges[0].own_ground=false", "warn body/gauges.sender-ground", nil},
		{"gauge wire", six, "gauges[0].old_wire_used=false", "warn body/gauges.old-wire", nil},
		{"gauge range", six, "gauges[0].range_matches=false", "fail body/gauges.range", nil},
		{"fuel old", six, "condition.fuel_age=2 years", "warn condition/old-vehicle.fuel-fresh", nil},
		{"tyres old", six, "condition.tyre_age=18 years", "fail condition/old-vehicle.tyres", nil},
		{"brake fluid old", six, "condition.brake_fluid_age=9 years", "warn condition/old-vehicle.brake-fluid", nil},
		{"engine not turned by hand after long standing", six, "condition.standing=12 years; condition.turned_by_hand=false", "warn condition/old-vehicle.turned-by-hand", nil},
		{"engine misfires", six, "engine.misfire=true", "fail condition/old-vehicle.no-misfire", nil},
		{"fluids bad", six, "condition.fluids_good=false", "warn condition/old-vehicle.fluids-good", nil},
		{"tank welded", six, "procedure.tank_hot_work=not_purged", "fail start/workshop.tank-hot-work", nil},
		{"no leak test", six, "procedure.leak_test_before_spark=false", "fail start/workshop.leak-test-before-spark", nil},
		{"fuel pressure does not hold", six, "procedure.held_pressure=30 %", "warn start/workshop.pressure-holds", nil},
		{"no extinguisher", six, "procedure.extinguisher_at_hand=false", "fail start/workshop.extinguisher", nil},
		{"exhaust indoors", six, "procedure.exhaust_led_outside=false", "fail start/workshop.exhaust-outside", nil},
		{"learning with a leak", six, "procedure.learning_on=true; exhaust.leaks=not_tested", "fail condition/old-vehicle.learning-on-sound-engine", []string{"warn sensors/oxygen.exhaust-tight"}},
		{"learning with misfire", six, "procedure.learning_on=true; engine.misfire=true", "fail condition/old-vehicle.no-misfire", nil},
		{"base timing set without fixed mode", v8, "procedure.fixed_timing_mode=false", "fail start/setup.fixed-timing", nil},
		{"cold start untuned", six, "procedure.cold_start_tuned=false", "warn start/setup.cold-start-tuned", nil},
		{"wrong displacement", six, "setup.displacement=5.0 L", "fail start/setup.displacement-entered", nil},
		{"wrong cylinders", six, "setup.cylinders=8", "fail start/setup.cylinders-entered", nil},
		{"wrong injector", six, "setup.injector_flow=700 cc/min", "fail start/setup.injector-flow-entered", nil},
		{"wrong pressure", six, "setup.fuel_pressure=400 kPa", "fail start/setup.pressure-entered", nil},
		{"wrong ethanol", e85, "setup.ethanol=10 %", "fail start/setup.ethanol-entered", nil},
		{"measured pressure low", six, "measured.idle_pressure=240 kPa", "fail start/measured.idle-pressure", nil},
		{"measured full load low", six, "measured.full_load_pressure=230 kPa", "fail start/measured.full-load-pressure", nil},
		{"measured pump voltage", six, "measured.pump_voltage=11.8 V", "fail start/measured.pump-voltage", nil},
		{"measured pump current", six, "measured.pump_current=11 A", "warn start/measured.pump-current", nil},
		{"measured ground", six, "measured.controller_ground_drop=250 mV", "fail start/measured.controller-ground", nil},
		{"measured battery", six, "measured.idle_battery_voltage=12.4 V", "warn start/measured.battery-at-idle", nil},
		{"measured map", six, "measured.key_on_manifold_pressure=90 kPa abs", "fail start/measured.key-on-pressure", nil},
		{"measured restriction", six, "measured.full_load_manifold_pressure=85 kPa abs", "warn start/measured.full-load-restriction", nil},
		{"measured coolant", six, "measured.cold_coolant_reading=31 degC", "fail start/measured.cold-sensors-agree", nil},
		{"measured timing", v8, "measured.timing_error=6 deg", "fail start/measured.timing-seen", nil},
		{"measured correction", six, "measured.cruise_correction=22 %", "fail start/measured.cruise-correction", nil},
		{"measured monoxide", six, "measured.cabin_carbon_monoxide=120", "fail start/workshop.cabin-carbon-monoxide", nil},
		{"hot volatile fuel", frame, "fuel.reid_vapour_pressure=13.5 psi", "fail fuel/vapour.inlet-stays-liquid", nil},
		{"hot fuel at altitude", frame, "climate.altitude=3500 m; climate.hot_fuel=52 degC", "fail fuel/vapour.inlet-stays-liquid", nil},
		{"surge tank small", big, "surge_tank.volume=0.3 L", "warn fuel/surge-tank.bridges-a-corner", nil},
		{"lift flow small", big, "surge_tank.lift_flow=60 L/h", "fail fuel/surge-tank.lift-keeps-it-full", nil},
		{"surge in cabin", big, "surge_tank.location=in_boot_open", "fail fuel/surge-tank.outside-cabin", nil},
		{"surge not vented", big, "surge_tank.vented_to_tank=false", "fail fuel/surge-tank.vented-to-tank", nil},
		{"race camshaft with weak vacuum", six, "engine.camshaft=race; engine.idle_vacuum=10 inHg", "fail air/vacuum.booster-vacuum", nil},
	}
}
