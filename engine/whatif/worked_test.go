package whatif_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Each answer was worked out by hand before the program was asked; the source of its numbers stands beside it. Ratings of fuses
// are those of ISO 8820-3, from memory.
func TestLeastWorkedByHand(t *testing.T) {
	const engine = "engine: {displacement: 5.7 L, cylinders: 8, aspiration: natural, power: 250 hp, specific_consumption: 0.50 lb/(hp h), consumption_ethanol: 10 %}\nfuel: {ethanol: 10 %}\n"
	for name, c := range map[string]struct {
		design       string
		of           string
		least, below string // below is the size next to it, "" where none is smaller
		rule         string // that one breaks
	}{
		// practice: a fuse carries four fifths of its rating for ever. 11 A / 0.8 = 13.75 A, so 15 A.
		"a fuse for 11 A": {`circuits: [{name: heater, purpose: oxygen_heater, source: battery_post, fuse: {rating: 10 A, kind: blade}, relay: none, feed_wires: [{size: 10 AWG, length: 1 m}], load: {kind: resistive, current: 11 A, rated_voltage: 13.5 V}}]`,
			"circuits[0].fuse", "15 A", "10 A", "electrical/fusing.fuse-carries-load"},
		// The same of glass fuses (from memory): 13.75 A, of which there is one of 14 A.
		"a glass fuse for 11 A": {`circuits: [{name: heater, purpose: oxygen_heater, source: battery_post, fuse: {rating: 10 A, kind: glass}, relay: none, feed_wires: [{size: 10 AWG, length: 1 m}], load: {kind: resistive, current: 11 A, rated_voltage: 13.5 V}}]`,
			"circuits[0].fuse", "14 A", "10 A", "electrical/fusing.fuse-carries-load"},
		// FAA AC 43.13-1B, Table 11-4: at 12 V a motor counts twice. 2 x 8 A = 16 A, so 20 A.
		"a relay for a pump of 8 A": {`circuits: [{name: fuel pump, purpose: fuel_pump, source: battery_post, fuse: {rating: 15 A}, relay: {contact_rating: 15 A}, feed_wires: [{size: 10 AWG, length: 1 m}], load: {kind: fuel_pump, current: 8 A, rated_voltage: 13.5 V}}]`,
			"circuits[0].relay", "20 A", "15 A", "electrical/relays.contact-rating"},
		// The same table: a resistive load counts once. 24 A, so 25 A.
		"a relay for a heater of 24 A": {`circuits: [{name: heater, purpose: oxygen_heater, source: battery_post, fuse: {rating: 30 A}, relay: {contact_rating: 20 A}, feed_wires: [{size: 8 AWG, length: 1 m}], load: {kind: resistive, current: 24 A, rated_voltage: 13.5 V}}]`,
			"circuits[0].relay", "25 A", "20 A", "electrical/relays.contact-rating"},
		// Pythagoras: a face of 38 x 24 mm has a diagonal of 44.9 mm; with 1 mm beside it (practice) 45.9 mm, so 51 mm.
		"a hole for a connector": {`{complete: [connectors], connectors: [{name: A, width: 38 mm, height: 24 mm}], passages: [{name: firewall, lining: edge_trim, hole: 44 mm, bundle_diameter: 16 mm, largest_connector: A}]}`,
			"passages[0]", "51 mm", "44 mm", "body/passages.hole-large-enough"},
		// practice: 3 mm beside the bundle. 16 + 3 = 19 mm, a hole saw there is.
		"a hole for a bundle": {`passages: [{name: firewall, lining: edge_trim, hole: 16 mm, bundle_diameter: 16 mm, largest_connector: nothing}]`,
			"passages[0]", "19 mm", "16 mm", "body/passages.hole-large-enough"},
		// practice: a strainer before an injection pump has 70 to 150 micron.
		"a strainer": {`{pump: {place: in_tank}, tank: {strainer: {mesh: 40 um}}}`,
			"tank.strainer", "70 um", "40 um", "fuel/filters.strainer-mesh"},
		// 250 hp at 0.50 lb/(hp h) take 125 lb/h; 31.25 lb/h through each of four, at 80 % of the time 39.1 lb/h. At 58 psi an
		// injector measured at 43.5 psi passes 1.155 times as much (Bernoulli: the root of the pressures): 33.8 lb/h, so 36.
		"injectors at a higher pressure": {engine + `pump: {place: in_tank, rated_flow: 255 lph, rated_pressure: 58 psi}
regulator: {style: return_style, setting: 58 psi}
throttle_body: {injectors: {count: 4, static_mass_flow: 30 lb/h, test_pressure: 43.5 psi, location: above_throttle}}`,
			"throttle_body.injectors", "36 lb/h", "30 lb/h", "fuel/injectors.duty-at-full-load"},
		// The same through eight at the pressure they are measured at: 15.6 lb/h each, at 80 % 19.5 lb/h, so 24.
		"eight injectors": {engine + `pump: {place: in_tank, rated_flow: 255 lph, rated_pressure: 43.5 psi}
regulator: {style: return_style, setting: 43.5 psi}
throttle_body: {injectors: {count: 8, static_mass_flow: 19 lb/h, test_pressure: 43.5 psi, location: above_throttle}}`,
			"throttle_body.injectors", "24 lb/h", "19 lb/h", "fuel/injectors.duty-at-full-load"},
		// 33 CFR 183.425, Table 5: at 125 degC insulation 10 AWG carries 60 A and 8 AWG 90 A in air of 30 degC; in 80 degC air the
		// root of 45/95 of it, 41 and 62 A. 60 A ask for 8 AWG.
		"a charge cable for 60 A": {`alternator: {kind: alternator, rated_output: 60 A, charge_cable: {size: 10 AWG, length: 1.2 m, insulation_rating: 125 degC, ambient: 80 degC, fuse: none}}`,
			"alternator.charge_cable", "8 AWG", "10 AWG", "electrical/charging.cable-carries-output"},
		// ASTM B258: 20 AWG has 0.52 mm2, 18 AWG 0.82 mm2; practice: nothing thinner than 0.75 mm2 in a vehicle.
		"a wire for 1 A by gauge": {`circuits: [{name: heater, purpose: oxygen_heater, source: battery_post, fuse: none, relay: none, feed_wires: [{size: 20 AWG, length: 0.5 m}], load: {kind: resistive, current: 1 A, rated_voltage: 13.5 V}}]`,
			"circuits[0].feed_wires", "18 AWG", "20 AWG", "electrical/wires.smallest-size"},
		// The same by area: 0.75 mm2 is just enough.
		"a wire for 1 A by area": {`circuits: [{name: heater, purpose: oxygen_heater, source: battery_post, fuse: none, relay: none, feed_wires: [{size: 0.5 mm2, length: 0.5 m}], load: {kind: resistive, current: 1 A, rated_voltage: 13.5 V}}]`,
			"circuits[0].feed_wires", "0.75 mm2", "0.5 mm2", "electrical/wires.smallest-size"},
	} {
		design := "plumbline: 1\nbattery: {system_voltage: 12 V}\n" + c.design + "\n"
		if c.design[0] == '{' {
			design = "{plumbline: 1, battery: {system_voltage: 12 V}, " + c.design[1:]
		}
		got, ok := sizes(t, design)[c.of]
		if !assert.True(t, ok, name) {
			continue
		}
		assert.Equal(t, c.least, got.Least, name)
		if assert.NotNil(t, got.Below, name) {
			assert.Equal(t, c.below, got.Below.Size, name)
			assert.Equal(t, c.rule, got.Below.Rule, name)
		}
	}
}
