package sheet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: 300 kPa, fine within 5 %, work stops beyond 10 %; and a correction that may be 10 % either way and stops beyond 20.
func TestAReadingIsHeldAgainstItsBand(t *testing.T) {
	pressure := band{fineLow: 285, fineHigh: 315, stopLow: 270, stopHigh: 330}
	for x, want := range map[float64]string{300: "", 285: "", 284: "find out why", 270: "find out why", 269: "STOP", 316: "find out why", 331: "STOP"} {
		assert.Equal(t, want, pressure.says(x), x)
	}
	none := math.NaN()
	correction := band{fineLow: none, fineHigh: 0.1, stopLow: none, stopHigh: 0.2}
	for x, want := range map[float64]string{0: "", -0.1: "", -0.11: "find out why", 0.21: "STOP", -0.21: "STOP"} {
		assert.Equal(t, want, correction.says(x), x)
	}
	volts := band{fineLow: 12.4, fineHigh: none, stopLow: 12, stopHigh: none}
	for x, want := range map[float64]string{12.6: "", 12.3: "find out why", 11.9: "STOP"} {
		assert.Equal(t, want, volts.says(x), x)
	}
}
