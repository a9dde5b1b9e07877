package mechanics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine/physics/domain"
)

func value(t *testing.T) func(v float64, err error) float64 {
	return func(v float64, err error) float64 {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

func refused(t *testing.T, err error) {
	t.Helper()
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

// Bundle of 1.2 sqrt(sum n d^2): common practice. Sleeve 25 percent larger: FAA AC 43.13-1B 11-249.
func TestBundle(t *testing.T) {
	bundle := value(t)(BundleDiameter(Wires{24, 2e-3}))
	assert.InEpsilon(t, 11.76e-3, bundle, 1e-3)
	assert.InDelta(t, 15.8e-3, value(t)(BundleDiameter(Wires{30, 2.4e-3})), 0.05e-3)
	assert.InEpsilon(t, 14.7e-3, value(t)(SleeveBore(bundle)), 1e-3)
	assert.Equal(t, 2e-3, value(t)(BundleDiameter(Wires{1, 2e-3})))
	assert.InEpsilon(t, 1.2*5e-3, value(t)(BundleDiameter(Wires{1, 3e-3}, Wires{1, 4e-3})), 1e-12)
	assert.InDelta(t, bundle+2*2e-3+3e-3, value(t)(BundleHole(bundle, 2e-3, 3e-3)), 1e-12)
	_, err := BundleDiameter()
	assert.ErrorContains(t, err, "no wires")
	_, err = BundleDiameter(Wires{3, 2}) // mm for m
	refused(t, err)
}

// Equal circles in a circle, known best packings: 2 in 2 d, 3 in 2.1547 d, 7 in 3 d, 19 in 4.8637 d. None is under the
// bound from hexagonal density 0.9069, 1.05 d sqrt(N).
func TestBundleLowerBound(t *testing.T) {
	for n, best := range map[int]float64{2: 2, 3: 1 + 2/math.Sqrt(3), 7: 3, 19: 1 + math.Sqrt2 + math.Sqrt(6)} {
		bound := value(t)(BundleLowerBound(Wires{n, 1e-3}))
		assert.Less(t, bound, best*1e-3)
		assert.InEpsilon(t, 1.05e-3*math.Sqrt(float64(n)), bound, 1e-3)
	}
	assert.Equal(t, 1e-3, value(t)(BundleLowerBound(Wires{1, 1e-3})))
	assert.InEpsilon(t, 5e-3, value(t)(BundleLowerBound(Wires{1, 3e-3}, Wires{1, 4e-3})), 1e-12)
	rapid.Check(t, func(r *rapid.T) {
		a := Wires{rapid.IntRange(1, 50).Draw(r, "wires"), rapid.Float64Range(1e-3, 8e-3).Draw(r, "diameter")}
		b := Wires{rapid.IntRange(0, 50).Draw(r, "more wires"), rapid.Float64Range(1e-3, 8e-3).Draw(r, "other diameter")}
		assert.LessOrEqual(r, value(t)(BundleLowerBound(a, b)), value(t)(BundleDiameter(a, b))+1e-15)
	})
}

// Pythagoras: a 38 x 24 mm face has a diagonal of 44.94 mm; with 1 mm (a judgement) a 45 mm hole fails and 46 mm passes.
func TestConnector(t *testing.T) {
	assert.InDelta(t, 44.94e-3, value(t)(ConnectorDiagonal(38e-3, 24e-3)), 0.05e-3)
	hole := value(t)(ConnectorHole(38e-3, 24e-3, 1e-3))
	assert.Greater(t, hole, 45e-3)
	assert.LessOrEqual(t, hole, 46e-3)
	_, err := ConnectorDiagonal(0, 24e-3)
	refused(t, err)
}

// Army TM 1-1500-204-23-4: ten times the outside diameter.
func TestBendRadius(t *testing.T) {
	assert.InDelta(t, 120e-3, value(t)(BendRadius(12e-3, BendMultiple)), 1e-12)
	_, err := BendRadius(12e-3, 0)
	refused(t, err)
}

// Geometry of the circle: a 38 mm lever through 75 degrees takes 49.74 mm of cable on a cam, 46.27 mm on a pin.
func TestLeverTravel(t *testing.T) {
	assert.InDelta(t, 49.74e-3, value(t)(CamTravel(38e-3, degrees(75))), 0.05e-3)
	assert.InDelta(t, 46.27e-3, value(t)(PinTravel(38e-3, degrees(75))), 0.05e-3)
	assert.InDelta(t, 76e-3, value(t)(PinTravel(38e-3, math.Pi)), 1e-12)
	_, err := CamTravel(38e-3, 75) // degrees for radians
	refused(t, err)
}

func TestMoments(t *testing.T) {
	// Moment of a force (statics): half at 30 and 150 degrees, nothing on centre.
	assert.InEpsilon(t, 1.0, value(t)(PinMoment(50, 40e-3, degrees(30))), 1e-12)
	assert.InEpsilon(t, 1.0, value(t)(PinMoment(50, 40e-3, degrees(150))), 1e-12)
	assert.InEpsilon(t, 2.0, value(t)(PinMoment(50, 40e-3, degrees(90))), 1e-12)
	assert.InDelta(t, 0, value(t)(PinMoment(50, 40e-3, math.Pi)), 1e-12)
	// Hooke's law.
	assert.InEpsilon(t, 0.5, value(t)(SpringTorque(0.2, 0.2, 1.5)), 1e-12)
	// 49 CFR 571.124 S5.1: with one of two springs lost the other closes the throttle.
	assert.InDelta(t, 0.3, value(t)(TorqueWithOneLost(0.5, 0.3)), 1e-12)
	assert.InDelta(t, 0.7, value(t)(TorqueWithOneLost(0.5, 0.3, 0.4)), 1e-12)
	_, err := TorqueWithOneLost(0.5)
	assert.ErrorContains(t, err, "at least 2")
	_, err = TorqueWithOneLost(0.5, -0.1)
	refused(t, err)
}

// Geometry: a plate of D stands D/2 below its shaft fully open: 22.5 mm for 45 mm, 25 mm for 50 mm.
func TestPlateProjection(t *testing.T) {
	assert.InDelta(t, 22.5e-3, value(t)(PlateProjection(45e-3, math.Pi/2)), 1e-12)
	assert.InDelta(t, 25e-3, value(t)(PlateProjection(50e-3, math.Pi/2)), 1e-12)
	assert.Equal(t, 0.0, value(t)(PlateProjection(50e-3, 0)))
	_, err := PlateProjection(50, math.Pi/2)
	refused(t, err)
}

func TestStackHeight(t *testing.T) {
	assert.InDelta(t, 0.131, value(t)(StackHeight(0.002, 0.025, 0.060, 0.044)), 1e-12)
	_, err := StackHeight()
	assert.ErrorContains(t, err, "at least one part")
	_, err = StackHeight(0.1, -0.1)
	refused(t, err)
}

// Hydrostatics, slope = atan(a/g): 0.5 g 26.6 degrees, 0.8 g 38.7 degrees, 1 g 45 degrees.
func TestLiquidSlope(t *testing.T) {
	for _, c := range []struct{ g, degrees float64 }{{0, 0}, {0.5, 26.6}, {0.8, 38.7}, {1, 45}} {
		assert.InDelta(t, degrees(c.degrees), value(t)(LiquidSlope(c.g*9.80665)), degrees(0.05))
	}
	_, err := LiquidSlope(-1)
	refused(t, err)
}
