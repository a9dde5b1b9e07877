package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By hand: three digits, four when the first is a 1.
func TestTicks(t *testing.T) {
	for _, c := range []struct {
		text, below, above, next string
		s                        System
	}{
		{"172.04 kW", "172 kW", "172.1 kW", "172.1 kW", Metric},
		{"98.76 kW", "98.7 kW", "98.8 kW", "98.8 kW", Metric},
		{"300 kPa", "300 kPa", "300 kPa", "301 kPa", Metric},
		{"12.5 %", "12.5 %", "12.5 %", "12.51 %", Metric},
		{"45.03 degC", "45 degC", "45.1 degC", "45.1 degC", Metric},
		{"4321.4 rpm", "4321 rpm", "4322 rpm", "4322 rpm", Metric},
		{"8.5:1", "8.5:1", "8.5:1", "8.51:1", Metric},
		{"230.04 hp", "230 hp", "231 hp", "231 hp", US},
	} {
		v, err := ParseAny(c.text)
		require.NoError(t, err)
		below, above := v.Ticks(c.s)
		text := func(text string) string {
			v, err := ParseAny(text)
			require.NoError(t, err)
			return v.Format(c.s)
		}
		assert.Equal(t, text(c.below), below.Format(c.s), c.text)
		assert.Equal(t, text(c.above), above.Format(c.s), c.text)
		assert.Equal(t, text(c.next), v.Tick(c.s, true).Format(c.s), c.text)
	}
}

// What is printed of a tick reads back as the tick; the next one lies beyond, and nothing printed lies between.
func TestATickIsWhatIsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]Dimension{DimLength, DimPressure, DimFlow, DimPower, DimVoltage, DimCurrent, DimTemperature, DimShare, DimRatio, DimResistance}).Draw(t, "dimension")
		s := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		si := rapid.Float64Range(1e-3, 1e5).Draw(t, "si")
		if d == DimTemperature {
			si = 200 + math.Mod(si, 300)
		}
		v, err := New(si, d)
		if err != nil {
			t.Skip(err)
		}
		below, above := v.Ticks(s)
		for _, x := range []Value{below, above, v.Tick(s, true), v.Tick(s, false)} {
			back, err := Parse(x.Format(s), d)
			require.NoError(t, err)
			assert.InDelta(t, x.SI(), back.SI(), 1e-9*math.Abs(x.SI())+1e-12, "%s of %v", x.Format(s), v.SI())
		}
		assert.LessOrEqual(t, below.SI(), v.SI()*(1+1e-5)+1e-9)
		assert.GreaterOrEqual(t, above.SI(), v.SI()*(1-1e-5)-1e-9)
		assert.Greater(t, v.Tick(s, true).SI(), v.SI())
		assert.Less(t, v.Tick(s, false).SI(), v.SI())
	})
}
