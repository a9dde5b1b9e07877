package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/fluid"
)

// sagging is a pump whose true curve is known: Q = Q0 (1 - (p/pd)^n), n >= 1,
// which never sags inward.
type sagging struct{ free, deadHead, power float64 }

func (s sagging) flow(p float64) float64 {
	if p >= s.deadHead {
		return 0
	}
	share := p / s.deadHead
	for range int(s.power) - 1 {
		share *= p / s.deadHead
	}
	return s.free * (1 - share)
}

func (s sagging) curve(t require.TestingT, volts float64, at ...float64) fluid.Curve {
	var points []fluid.CurvePoint
	for _, p := range at {
		points = append(points, fluid.CurvePoint{Pressure: p, Flow: s.flow(p), Current: 3 + p/1e5})
	}
	c, err := fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: volts, Points: points})
	require.NoError(t, err)
	return c
}

func flowAt(t require.TestingT, c fluid.Curve, x fluid.Extension, p float64) (least, middle, most float64) {
	read := func(share float64) float64 {
		x.Ends.Flow = share
		q, err := c.Extended(x).Flow(p)
		require.NoError(t, err)
		return q
	}
	return read(0), read(0.5), read(1)
}

// Wherever few points of a curve that sags outward were printed, the bounds hold
// the true flow outside them, and more points only narrow them.
func TestBoundsHoldTheTrueCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		true := sagging{free: 200 * litrePerHour, deadHead: rapid.Float64Range(4e5, 9e5).Draw(t, "dead head"),
			power: float64(rapid.IntRange(1, 4).Draw(t, "power"))}
		a := rapid.Float64Range(0.1, 0.4).Draw(t, "first") * true.deadHead
		b := rapid.Float64Range(0.45, 0.6).Draw(t, "second") * true.deadHead
		z := rapid.Float64Range(0.65, 0.9).Draw(t, "third") * true.deadHead
		few, more := true.curve(t, 13.5, a, b), true.curve(t, 13.5, a, b, z)
		x := fluid.Extension{}
		if rapid.Bool().Draw(t, "dead head stated") {
			x.DeadHead = true.deadHead
		}
		p := rapid.Float64Range(0, 1.2).Draw(t, "pressure") * true.deadHead
		least, middle, most := flowAt(t, few, x, p)
		const slack = 1e-4 * 200 * litrePerHour
		if p < a || p > b {
			assert.LessOrEqual(t, least, true.flow(p)+slack)
			if x.DeadHead != 0 || p < true.deadHead {
				assert.GreaterOrEqual(t, most, true.flow(p)-slack)
			}
		}
		assert.LessOrEqual(t, least, middle+slack)
		assert.LessOrEqual(t, middle, most+slack)
		narrow, _, wide := flowAt(t, more, x, p)
		if p < a || p > b {
			assert.GreaterOrEqual(t, narrow, least-slack)
			assert.LessOrEqual(t, wide, most+slack)
		}
		// The dead head, and one printed point outside the curve, narrow them too.
		stated := x
		stated.DeadHead = true.deadHead
		stated.RatedPressure, stated.RatedFlow = z, true.flow(z)
		narrow, _, wide = flowAt(t, few, stated, p)
		assert.GreaterOrEqual(t, narrow, least-slack)
		assert.LessOrEqual(t, wide, most+slack)
	})
}

// Two points of a 300 to 500 kPa curve, 220 and 150 L/h, dead head 700 kPa: at 200 kPa
// the flow is at least 220 and at most 220 + 100 x 70/200 = 255 L/h; at 600 kPa at least
// half of 150 and at most 150 - 35 = 115 L/h; at 700 kPa and above nothing. (arithmetic)
func TestBoundsByHand(t *testing.T) {
	c, err := fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: 13.5, Points: []fluid.CurvePoint{
		{Pressure: 3e5, Flow: 220 * litrePerHour, Current: 6.5}, {Pressure: 5e5, Flow: 150 * litrePerHour, Current: 9}}})
	require.NoError(t, err)
	for _, test := range []struct{ kilopascal, deadHead, least, most float64 }{
		{200, 700, 220, 255}, {400, 700, 185, 185}, {600, 700, 75, 115}, {700, 700, 0, 0}, {750, 700, 0, 0},
		{600, 0, 0, 115}, {900, 0, 0, 10}, {1000, 0, 0, 0},
		{600, 450, 0, 0}, {400, 450, 185, 185},
		// A dead head the straight line does not reach: 150 L/h fall to nothing at 929 kPa, yet 1000 is stated.
		{600, 1000, 115, 120},
	} {
		least, _, most := flowAt(t, c, fluid.Extension{DeadHead: test.deadHead * 1e3}, test.kilopascal*1e3)
		assert.InDelta(t, test.least, least/litrePerHour, 0.01, "%+v", test)
		assert.InDelta(t, test.most, most/litrePerHour, 0.01, "%+v", test)
	}
	for _, test := range []struct{ kilopascal, least, most float64 }{{200, 5.25, 6.5}, {600, 9, 10.25}, {300, 6.5, 6.5}} {
		for share, want := range map[float64]float64{0: test.least, 1: test.most} {
			i, err := c.Extended(fluid.Extension{DeadHead: 7e5, Ends: fluid.Ends{Current: share}}).Current(test.kilopascal * 1e3)
			require.NoError(t, err)
			assert.InDelta(t, want, i, 1e-3, "%+v", test)
		}
	}
	// A rating printed at an end of the curve tells nothing that the curve does not: 220 to 255 L/h at 200 kPa, 75 to 115 at 600.
	for _, rated := range []fluid.Extension{{RatedPressure: 3e5, RatedFlow: 240 * litrePerHour}, {RatedPressure: 5e5, RatedFlow: 160 * litrePerHour}} {
		rated.DeadHead = 7e5
		for kilopascal, want := range map[float64][2]float64{200: {220, 255}, 600: {75, 115}} {
			least, _, most := flowAt(t, c, rated, kilopascal*1e3)
			assert.InDelta(t, want[0], least/litrePerHour, 0.01, "%+v", rated)
			assert.InDelta(t, want[1], most/litrePerHour, 0.01, "%+v", rated)
		}
	}
	flow, current, speed := c.Extended(fluid.Extension{DeadHead: 7e5}).Outside(2e5)
	assert.Equal(t, []bool{true, true, false}, []bool{flow, current, speed})
	flow, current, speed = c.Extended(fluid.Extension{RatedPressure: 1e5, RatedFlow: 230 * litrePerHour}).Outside(2e5)
	assert.Equal(t, []bool{false, true, false}, []bool{flow, current, speed}, "the rated point has no current")
}

// At voltages the affinity laws do not reach the speed has bounds, and no voltage is refused.
func TestBoundsOfTheSpeed(t *testing.T) {
	for _, kind := range []fluid.PumpKind{fluid.Turbine, fluid.PositiveDisplacement} {
		base := inventedPump(t, kind, 0.35)
		last := 0.0
		for volts := 0.25; volts < 25; volts += 0.25 {
			at := func(share float64) float64 {
				c, err := base.Extended(fluid.Extension{DeadHead: 7e5, Ends: fluid.Ends{Speed: share}}).AtVoltage(volts)
				require.NoError(t, err)
				_, _, open := c.Outside(1e5)
				assert.Equal(t, open, c.Stopped() || open)
				q, err := c.Flow(1e5)
				require.NoError(t, err)
				return q
			}
			least, most := at(0), at(1)
			assert.LessOrEqual(t, least, most+1e-12, "%s %g V", kind, volts)
			assert.GreaterOrEqual(t, least, last-1e-12, "%s %g V", kind, volts)
			if volts > 9 && volts < 15 {
				assert.InDelta(t, least, most, 1e-12)
			}
			last = least
		}
		assert.Positive(t, last)
	}
}
