package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The example of a range that is shown for a fact is one that the fact may be.
func TestRangeWithinIsWithin(t *testing.T) {
	assert.Equal(t, RangeExample(DimMass), RangeWithin(DimMass, "0 kg", "3500 kg"))
	assert.Equal(t, "0 kg..900 kg", RangeWithin(DimMass, "0 kg", "900 kg"))
	assert.Equal(t, RangeExample(DimMass), RangeWithin(DimMass, "", ""))
	for _, d := range Dimensions() {
		if example := RangeExample(d); example != "" {
			r, is, err := ParseRange(RangeWithin(d, "", ""), d)
			require.NoError(t, err, d.String())
			assert.True(t, is && r.Low.SI() < r.High.SI(), d.String())
		}
	}
}
