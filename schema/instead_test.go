package schema_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

func TestInstead(t *testing.T) {
	d, err := schema.Load("d.yaml", []byte(`plumbline: 1
engine: {power: 66 kW, cylinders: 4}
tank: {strainer: {mesh: 80 um}}
pump: {curve: [{pressure: 200 kPa, flow: 108 L/h}, {pressure: 300 kPa, flow: 90 L/h}]}
`))
	require.NoError(t, err)
	for path, text := range map[string]string{"design.engine.power": "66 hp", "design.pump.curve[1].flow": "90 gal/h", "design.tank.strainer.mesh": "8 thou"} {
		other, err := d.Instead(path, text)
		require.NoError(t, err, path)
		texts := func(d *schema.Design) map[string]string {
			out := map[string]string{}
			schema.Walk(d, func(v schema.Visit) {
				if v.Reading.Known() {
					out[v.Path] = v.Reading.Text()
				}
			})
			return out
		}
		was, is := texts(d), texts(other)
		assert.Equal(t, text, is[path])
		assert.NotEqual(t, text, was[path], "the design itself stays")
		is[path] = was[path]
		assert.Equal(t, was, is, "nothing else differs")
		assert.Equal(t, d.PlaceOf(path), other.PlaceOf(path))
	}
	other, err := d.Instead("design.engine.power", "100 kW")
	require.NoError(t, err)
	power, _ := other.Engine.Power.Get()
	assert.InDelta(t, 100e3, power.SI(), 1e-6)
	for path, text := range map[string]string{
		"design.engine.power": "6600 kW", "design.engine.cylinders": "8", "design.engine.boost": "50 kPa", "design.engine": "1 kW",
		"design.pump.curve[2].flow": "90 L/h", "design.pump.curve": "90 L/h", "design.nothing": "1", "design.engine.power.more": "1 kW",
	} {
		_, err := d.Instead(path, text)
		assert.Error(t, err, path)
	}
}
