package whatif_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

func sizes(t *testing.T, text string) map[string]whatif.Size {
	t.Helper()
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	series, err := whatif.ReadSeries("series.yaml", designs.Series())
	require.NoError(t, err)
	d, err := schema.Load("d.yaml", []byte(text))
	require.NoError(t, err)
	out := map[string]whatif.Size{}
	for _, s := range whatif.Sizes(lib, d, engine.Options{Patterns: patterns}, series, "") {
		out[strings.TrimPrefix(s.Of, "design.")] = s
	}
	return out
}

// Worked by hand: copper at 50 degC has 1.118 times its resistance at 20 degC (0.393 %/K); 4.88 m of 18, 14 and 12 AWG have
// 102, 40 and 25.5 mohm at 20 degC (ASTM B258 areas 0.823, 2.08 and 3.31 mm2, 0.01724 ohm mm2/m), so at 9 A they lose 1.03, 0.41
// and 0.26 V; with ground, joints and contacts some 0.1 to 0.2 V more, 12 AWG is the least that keeps half a volt. The next made
// fuse that carries 9 A at no more than four fifths is 15 A.
func TestLeastWireAndFuseOfAPump(t *testing.T) {
	got := sizes(t, `plumbline: 1
engine: {displacement: 5.0 L, cylinders: 8, power: 200 hp}
pump: {place: in_tank, rated_flow: 255 lph, rated_pressure: 58 psi}
regulator: {style: in_tank, setting: 58 psi}
battery: {system_voltage: 12 V}
circuits: [{name: fuel pump, purpose: fuel_pump, source: fuse_panel, fuse: {rating: 10 A}, relay: none,
            feed_wires: [{size: 18 AWG, length: 16 ft}], load: {kind: fuel_pump, current: 9 A, rated_voltage: 13.5 V}}]
`)
	wire := got["circuits[0].feed_wires"]
	assert.Equal(t, "12 AWG", wire.Least)
	require.NotNil(t, wire.Below)
	assert.Equal(t, "14 AWG", wire.Below.Size)
	assert.Equal(t, "electrical/wires.pump-drop", wire.Below.Rule)
	assert.True(t, wire.Usual)
	assert.Equal(t, "15 A", got["circuits[0].fuse"].Least)
}

// By hand: 250 hp at 0.50 lb/(hp h) take 125 lb/h; through four injectors at 85 % of the time that is 36.8 lb/h each, so of
// 30, 36 and 42 lb/h the last is the least.
func TestLeastInjector(t *testing.T) {
	got := sizes(t, `plumbline: 1
engine: {displacement: 5.7 L, cylinders: 8, aspiration: natural, power: 250 hp, specific_consumption: 0.50 lb/(hp h), consumption_ethanol: 10 %}
fuel: {ethanol: 10 %}
pump: {place: in_tank, rated_flow: 255 lph, rated_pressure: 43.5 psi}
regulator: {style: return_style, setting: 43.5 psi}
throttle_body: {injectors: {count: 4, static_mass_flow: 30 lb/h, test_pressure: 43.5 psi, location: above_throttle}}
`)
	injectors := got["throttle_body.injectors"]
	assert.Equal(t, "42 lb/h", injectors.Least)
	require.NotNil(t, injectors.Below)
	assert.Equal(t, "36 lb/h", injectors.Below.Size)
	assert.Equal(t, "fuel/injectors.duty-at-full-load", injectors.Below.Rule)
}

// No blade fuse carries 60 A: what is wrong with every size is told, not dropped.
func TestNoSizeDoes(t *testing.T) {
	got := sizes(t, `plumbline: 1
battery: {system_voltage: 12 V}
circuits: [{name: injectors, purpose: injectors, source: battery_post, fuse: {rating: 40 A}, relay: none, feed_wires: [{size: 8 AWG, length: 2 m}], load: {kind: resistive, current: 60 A, rated_voltage: 13.5 V}}]
`)
	fuse := got["circuits[0].fuse"]
	assert.Empty(t, fuse.Least)
	require.NotNil(t, fuse.Never)
	assert.Equal(t, "electrical/fusing.fuse-carries-load", fuse.Never.Rule)
}

// A pump with a chart is not sized by its label.
func TestAPumpWithAChartIsNotSizedByItsLabel(t *testing.T) {
	got := sizes(t, `plumbline: 1
pump: {rated_flow: 160 L/h, curve: [{pressure: 200 kPa, flow: 176 L/h, current: 5 A}, {pressure: 400 kPa, flow: 140 L/h, current: 7 A}]}
`)
	assert.NotContains(t, got, "pump")
}

func TestSeriesRefusesWhatIsNoFact(t *testing.T) {
	_, err := whatif.ReadSeries("s.yaml", []byte("series:\n  - {name: x, facts: [Wire.gauge], sizes: [1 mm], called: \"a {size}\", because: [{practice: y}]}\n"))
	assert.ErrorContains(t, err, "there is no fact Wire.gauge")
}
