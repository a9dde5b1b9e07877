package schema_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// Keys and words as people at a counter wrote them, each with what the refusal must name and what it must not.
func TestWhatPeopleWriteLeadsToTheRightFact(t *testing.T) {
	for _, c := range []struct{ text, want, not string }{
		{"pump: {pressure: 43 psi}", "did you mean rated_pressure?", "curve"},
		{"pump: {flow: 255 lph}", "did you mean rated_flow?", "curve"},
		{"pump: {location: in_tank}", "did you mean place?", "surge"},
		{"regulator: {pressure: 43 psi}", "did you mean setting?", "curve"},
		{"hoses: [{}]", "for hoses write suction.runs", "notes"},
		{"lines: [{}]", "for lines write suction.runs", ""},
		{"fuse: 10 A", "fuse belongs under alternator.charge_cable, circuits", "fuel?"},
		{"relay: none", "relay belongs under circuits", ""},
		{"injector_size: 80 lb/h", "for injector_size write throttle_body.injectors.static_flow", ""},
		{"throttle_body: {injector_size: 80 lb/h}", "for injector_size write throttle_body.injectors.static_flow", "did you mean injectors?"},
		{"engine: {size: 390 cu in}", "did you mean displacement?", "circuits"},
		{"size: 390 cu in", "for size write engine.displacement", ""},
		{"year: 1974", "for year write vehicle.model_year", "the keys here"},
		{"vehicle: {year: 1974}", "did you mean model_year?", ""},
		{"hp: 300 hp", "for hp write engine.power", ""},
		{"engine: {hp: 300 hp}", "did you mean power?", ""},
		{"engine: {cyl: 8}", "did you mean cylinders?", ""},
		{"cyl: 8", "for cyl write engine.cylinders", ""},
		{"cca: 650 A", "for cca write battery.cold_cranking", ""},
		{"volts: 12 V", "for volts write battery.system_voltage", ""},
		{"battery: {volts: 12 V}", "did you mean system_voltage?", ""},
		{"amps: 9 A", "circuits.load.current", ""},
		{"wiring: [{}]", "did you mean circuits?", ""},
		{"throttle_body: {injectors: {static_flow: 80 lb/hr}}", "80 lb/hr is a mass flow; a flow is expected, e.g. 600 cc/min; static_mass_flow takes it", ""},
		{"throttle_body: {injectors: {static_mass_flow: 650 cc/min}}", "static_flow takes it", ""},
		{"pump: {place: frame}", "for frame write frame_rail", ""},
		{"pump: {place: on the frame rail}", "for on the frame rail write frame_rail", ""},
		{"regulator: {style: bypass}", "for bypass write return_style", ""},
		{"regulator: {style: return}", "for return write return_style", ""},
		{"engine: {aspiration: NA}", "for NA write natural", ""},
		{"engine: {cylinders: V8}", "for V8 write 8", ""},
		{"fuel: {ethanol: ethanol free}", "for ethanol free write 0 %", ""},
		{"ignition: {kind: electronic}", "for electronic write electronic_inductive", ""},
		{"throttle_body: {injectors: {location: above}}", "for above write above_throttle", ""},
		{"feed: {runs: [{mark: R9}]}", "for R9 write sae_j30_r9", ""},
		{"stage: quote", "for quote write planned", ""},
		{"pump: {rated_flow: unknown}", "leave the line out while it is not known", "unit"},
		{"pump: {place: don't know}", "leave the line out while it is not known", ""},
		// A spelling mistake is still one.
		{"pumpe: {}", "did you mean pump?", ""},
		{"stage: plannd", "did you mean planned?", "for plannd"},
		{"vehicle: {use: Off-Road}", "did you mean off_road?", "for Off-Road"},
	} {
		_, err := schema.Load("f", []byte("plumbline: 1\n"+c.text+"\n"))
		require.Error(t, err, c.text)
		assert.Contains(t, err.Error(), c.want, c.text)
		if c.not != "" {
			assert.NotContains(t, err.Error(), c.not, c.text)
		}
	}
}
