package whatif_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/whatif"
	"plumbline/rules"
	"plumbline/schema"
)

// halfKnown is a list of the counter with six things that come in series.
const halfKnown = `plumbline: 1
vehicle: {model_year: 1978, class: truck_or_van}
engine: {displacement: 3.0 L, cylinders: 6, power: 138 hp}
fuel: {ethanol: E10}
pump: {place: frame_rail, rated_flow: 120 L/h, rated_pressure: 3 bar}
feed:
  runs:
    - {kind: hose, bore: 8 mm, mark: sae_j30_r9}
    - {kind: filter, filter: {mesh: 10 micron}}
return_line: {runs: [{kind: hose, bore: 6 mm, mark: sae_j30_r7}]}
regulator: {style: return_style, setting: 2.5 bar}
throttle_body: {bore_diameter: 40 mm, injectors: {count: 2, static_flow: 480 cc/min, test_pressure: 3 bar}}
sensors: {speed_signal: {source: coil_negative}}
ignition: {kind: electronic_inductive}
battery: {system_voltage: 12 V, grounded_pole: negative}
alternator: {kind: alternator, rated_output: 45 A}
circuits:
  - {name: fuel pump, purpose: fuel_pump, source: battery_post, fuse: {rating: 15 A}, relay: {}, feed_wires: [{size: 2.5 mm2, length: 5 m}]}
gauges: [{kind: tachometer}]
`

// BenchmarkSizes finds all sizes of a half-known design.
func BenchmarkSizes(b *testing.B) {
	lib, err := engine.OpenImage(rules.Files(), rules.Image())
	require.NoError(b, err)
	patterns, err := pattern.Read(designs.Patterns())
	require.NoError(b, err)
	series, err := whatif.ReadSeries("series.yaml", designs.Series())
	require.NoError(b, err)
	d, err := schema.Load("d.yaml", []byte(halfKnown))
	require.NoError(b, err)
	o := engine.Options{Patterns: patterns}
	lib.Judge(d, o)
	b.ReportAllocs()
	for b.Loop() {
		whatif.Sizes(lib, d, o, series, "")
	}
}
