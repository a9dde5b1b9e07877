package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: 180 A from 12.6 V behind 9 mohm leave 10.98 V; a quarter of it, 15.25 mohm, stays in the starter and 8.235 V turn
// it. At -18 degC 324 A leave 9.684 V, less 4.941: 4.743 V, 0.576 of the speed; about half is what service texts expect there.
// At -29 degC 414 A through 12 mohm leave 7.632 V, less 6.314: 1.318 V, 0.160.
func TestCrankingSpeedShare(t *testing.T) {
	assert.InDelta(t, 1, value(t)(CrankingSpeedShare(10.98, 180, 10.98, 180)), 1e-12)
	assert.InDelta(t, 0.576, value(t)(CrankingSpeedShare(10.98, 180, 9.684, 324)), 1e-3)
	assert.InDelta(t, 0.160, value(t)(CrankingSpeedShare(10.98, 180, 7.632, 414)), 1e-3)
	assert.Zero(t, value(t)(CrankingSpeedShare(10.98, 180, 5, 500)))
	assert.Zero(t, value(t)(CrankingSpeedShare(0, 180, 5, 500)))
	// Twice the volts of twice the cells at the same current: the same share, so 24 V needs no other law.
	assert.InDelta(t, 0.576, value(t)(CrankingSpeedShare(21.96, 180, 19.368, 324)), 1e-3)
	_, err := CrankingSpeedShare(10.98, 180, -1, 324)
	refused(t, err)
}
