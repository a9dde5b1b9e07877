package mechanics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.Equal(t, 2e-3, value(t)(BundleDiameter(Wires{1, 2e-3})))
	assert.InEpsilon(t, 1.2*5e-3, value(t)(BundleDiameter(Wires{1, 3e-3}, Wires{1, 4e-3})), 1e-12)
	assert.InDelta(t, bundle+2*2e-3+3e-3, value(t)(BundleHole(bundle, 2e-3, 3e-3)), 1e-12)
	_, err := BundleDiameter()
	assert.ErrorContains(t, err, "no wires")
	_, err = BundleDiameter(Wires{3, 2}) // mm for m
	refused(t, err)
}

// Pythagoras: a 38 x 24 mm face has a diagonal of 44.94 mm; with 1 mm (a judgement) a 45 mm hole fails and 46 mm passes.
func TestConnector(t *testing.T) {
	assert.InDelta(t, 44.94e-3, value(t)(ConnectorDiagonal(38e-3, 24e-3)), 0.05e-3)
	_, err := ConnectorDiagonal(0, 24e-3)
	refused(t, err)
}

// Army TM 1-1500-204-23-4: ten times the outside diameter.
func TestBendRadius(t *testing.T) {
	assert.InDelta(t, 120e-3, value(t)(BendRadius(12e-3, BendMultiple)), 1e-12)
	_, err := BendRadius(12e-3, 0)
	refused(t, err)
}

func TestMoments(t *testing.T) {
	// Moment of a force (statics): half at 30 and 150 degrees, nothing on centre.
	assert.InEpsilon(t, 1.0, value(t)(PinMoment(50, 40e-3, degrees(30))), 1e-12)
	assert.InEpsilon(t, 1.0, value(t)(PinMoment(50, 40e-3, degrees(150))), 1e-12)
	assert.InEpsilon(t, 2.0, value(t)(PinMoment(50, 40e-3, degrees(90))), 1e-12)
	assert.InDelta(t, 0, value(t)(PinMoment(50, 40e-3, math.Pi)), 1e-12)
}
