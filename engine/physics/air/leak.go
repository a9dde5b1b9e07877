package air

import (
	"math"
)

// CriticalRatio returns the ratio of downstream to upstream absolute pressure at
// and below which air through a hole is choked: (2/(k+1))^(k/(k-1)), 0.528 with
// k = 1.4. Source: White, Fluid Mechanics, chapter 9.
func CriticalRatio() float64 {
	return math.Pow(2/(heatRatio+1), heatRatio/(heatRatio-1))
}
