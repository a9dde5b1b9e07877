package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
	"plumbline/engine/physics/fluid"
)

// inventedPump is a demo curve: 255 L/h free, falling to zero at 7 bar.
func inventedPump(t require.TestingT, kind fluid.PumpKind, resistance float64) fluid.Curve {
	curve, err := fluid.NewCurve(fluid.CurveData{Kind: kind, Voltage: 13.5, Resistance: resistance, Points: []fluid.CurvePoint{
		{Pressure: 3e5, Flow: 220 * litrePerHour, Current: 6.5},
		{Pressure: 0, Flow: 255 * litrePerHour, Current: 3},
		{Pressure: 5e5, Flow: 150 * litrePerHour, Current: 9},
		{Pressure: 7e5, Flow: 0, Current: 11},
	}})
	require.NoError(t, err)
	return curve
}

func TestCurveReadsBetweenItsPointsOnly(t *testing.T) {
	curve := inventedPump(t, fluid.Turbine, 0)
	flow, err := curve.Flow(4e5)
	require.NoError(t, err)
	assert.InEpsilon(t, 185*litrePerHour, flow, 1e-12)
	current, err := curve.Current(4e5)
	require.NoError(t, err)
	assert.InEpsilon(t, 7.75, current, 1e-12)
	pressure, err := curve.PressureAt(185 * litrePerHour)
	require.NoError(t, err)
	assert.InEpsilon(t, 4e5, pressure, 1e-12)
	pressure, err = curve.PressureAt(0)
	require.NoError(t, err)
	assert.Equal(t, 7e5, pressure)
	pressure, err = curve.PressureAt(255 * litrePerHour)
	require.NoError(t, err)
	assert.Zero(t, pressure)

	var outside *domain.RangeError
	_, err = curve.Flow(7.01e5)
	require.ErrorAs(t, err, &outside)
	assert.Equal(t, 7e5, outside.High)
	_, err = curve.PressureAt(256 * litrePerHour)
	require.ErrorAs(t, err, &outside)
}

func TestCurveRefusesImpossibleData(t *testing.T) {
	good := []fluid.CurvePoint{{Pressure: 0, Flow: 2e-5}, {Pressure: 1e5, Flow: 1e-5}}
	cases := []struct {
		name string
		data fluid.CurveData
		want string
	}{
		{"one point", fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: good[:1]}, "two are the least"},
		{"no kind", fluid.CurveData{Voltage: 12, Points: good}, "pump kinds"},
		{"no voltage", fluid.CurveData{Kind: fluid.Turbine, Points: good}, "curve voltage"},
		{"flow rises", fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: []fluid.CurvePoint{{0, 1e-5, 0}, {1e5, 2e-5, 0}}}, "must not rise"},
		{"same pressure twice", fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: []fluid.CurvePoint{{1e5, 2e-5, 0}, {1e5, 1e-5, 0}}}, "keep one"},
		{"current on one point", fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: []fluid.CurvePoint{{0, 2e-5, 3}, {1e5, 1e-5, 0}}}, "every point or on none"},
		{"no flow at all", fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: []fluid.CurvePoint{{0, 0, 0}, {1e5, 0, 0}}}, "flow is zero"},
		{"ideal flow too small", fluid.CurveData{Kind: fluid.PositiveDisplacement, Voltage: 12, IdealFlow: 1e-6, Points: good}, "largest flow"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := fluid.NewCurve(c.data)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// The laws themselves are those of Crane TP-410, example 7.33; the figures are
// arithmetic on them.
func TestCurveAtAnotherVoltage(t *testing.T) {
	ratio := 12.0 / 13.5
	turbine, err := inventedPump(t, fluid.Turbine, 0).AtVoltage(12)
	require.NoError(t, err)
	_, high := turbine.PressureRange()
	assert.InEpsilon(t, 7e5*ratio*ratio, high, 1e-12)
	flow, err := turbine.Flow(3e5 * ratio * ratio)
	require.NoError(t, err)
	assert.InEpsilon(t, 220*litrePerHour*ratio, flow, 1e-12)

	displacement, err := inventedPump(t, fluid.PositiveDisplacement, 0).AtVoltage(12)
	require.NoError(t, err)
	flow, err = displacement.Flow(3e5)
	require.NoError(t, err)
	assert.InEpsilon(t, (220-255*(1-ratio))*litrePerHour, flow, 1e-12)
	_, high = displacement.PressureRange()
	assert.Less(t, high, 7e5)
	last := displacement.Points()[len(displacement.Points())-1]
	assert.Zero(t, last.Flow)
}

func TestResistanceSlowsALoadedMotorMore(t *testing.T) {
	free, err := fluid.SpeedRatio(12, 8, 13.5, 8, 0)
	require.NoError(t, err)
	assert.InEpsilon(t, 12/13.5, free, 1e-12)
	loaded, err := fluid.SpeedRatio(12, 8, 13.5, 8, 0.4)
	require.NoError(t, err)
	assert.InEpsilon(t, (12-3.2)/(13.5-3.2), loaded, 1e-12)
	_, err = fluid.SpeedRatio(3, 8, 13.5, 8, 0.4)
	assert.ErrorContains(t, err, "back-EMF")

	// The turbine's point satisfies s = (V - I s^2 R)/(V0 - I R) above its voltage; below
	// it, friction leaves it no faster than V/V0.
	slow, err := inventedPump(t, fluid.Turbine, 0.4).AtVoltage(12)
	require.NoError(t, err)
	assert.InEpsilon(t, inventedPump(t, fluid.Turbine, 0.4).Points()[0].Flow*12/13.5, slow.Points()[0].Flow, 1e-12)
	const volts = 14.5
	curve, err := inventedPump(t, fluid.Turbine, 0.4).AtVoltage(volts)
	require.NoError(t, err)
	for i, p := range inventedPump(t, fluid.Turbine, 0.4).Points() {
		got := curve.Points()[i]
		if p.Flow == 0 {
			continue
		}
		s := got.Flow / p.Flow
		assert.InDelta(t, s*(13.5-p.Current*0.4), volts-p.Current*s*s*0.4, 1e-9)
		assert.InEpsilon(t, p.Current*s*s, got.Current, 1e-12)
	}

	_, err = inventedPump(t, fluid.Turbine, 0).AtVoltage(6)
	assert.ErrorContains(t, err, "pump speed ratio")
}

func TestMoreVoltageNeverMeansLessFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]fluid.PumpKind{fluid.Turbine, fluid.PositiveDisplacement}).Draw(t, "kind")
		curve := inventedPump(t, kind, rapid.SampledFrom([]float64{0, 0.2}).Draw(t, "resistance"))
		less := rapid.Float64Range(10.5, 14).Draw(t, "less")
		a, err := curve.AtVoltage(less)
		require.NoError(t, err)
		b, err := curve.AtVoltage(less + rapid.Float64Range(0, 1).Draw(t, "step"))
		require.NoError(t, err)
		_, high := a.PressureRange()
		pressure := rapid.Float64Range(0, high).Draw(t, "pressure")
		slow, err := a.Flow(pressure)
		require.NoError(t, err)
		fast, err := b.Flow(pressure)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, fast, slow*(1-1e-9))
	})
}
