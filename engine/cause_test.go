package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

// Two litres written as 0.2: both the power from a litre and the volume of a cylinder make no sense, and one slip of the point
// explains both. Another doubt of the same design, of another fact, stays by itself.
func TestOneFactIsTheCauseOfSeveralDoubts(t *testing.T) {
	found := sensed(t, "engine:\n  displacement: 0.2 L\n  cylinders: 4\n  power: 66 kW\nthrottle_body: {air_rating_depression: 3.0 inH2O}\n", engine.Options{})
	litre, cylinder := found["power-per-litre"], found["cylinder"]
	require.Equal(t, engine.Warn, litre.Outcome)
	require.Equal(t, engine.Warn, cylinder.Outcome)
	require.NotNil(t, litre.Cause)
	assert.Same(t, litre.Cause, cylinder.Cause)
	assert.Equal(t, "design.engine.displacement", litre.Cause.Path)
	assert.Equal(t, "0.2 L", litre.Cause.Stated)
	assert.Equal(t, 3, litre.Cause.Place.Line)
	assert.Contains(t, litre.Cause.Meant, "2 L")
	assert.NotEmpty(t, cylinder.Likely, "each doubt keeps its own slips")
	assert.Nil(t, found["rating-depressiondesign.throttle_body"].Cause, "one doubt alone has no shared cause")
}

// Two facts that are each mistyped are two causes, or none: no doubt is laid to a fact that does not explain it.
func TestNoCauseWhereNoFactExplainsTwo(t *testing.T) {
	found := sensed(t, "engine: {displacement: 2.0 L, cylinders: 4, power: 6.6 kW}\nthrottle_body: {air_rating_depression: 3.0 inH2O}\n", engine.Options{})
	for key, f := range found {
		assert.Nil(t, f.Cause, key)
	}
}
