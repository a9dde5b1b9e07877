package circuit

import (
	"fmt"

	"plumbline/engine/physics/domain"
)

// CFRFuseCeiling is the highest fuse or breaker rating 33 CFR 183.455(c) allows below 50 V,
// as a multiple of the Table 5 current of the conductor.
const CFRFuseCeiling = 1.5

// FuseCeiling returns the highest fuse rating (A) allowed on a conductor of an ampacity (A) by
// a multiple of it (0.1 to 2): 1 to protect the insulation in continuous use, 1/1.35 where a
// blade fuse may carry 1.35 times its rating for ten minutes, CFRFuseCeiling for the outer
// limit of 33 CFR 183.455(c), which starts from the table value without derating.
func FuseCeiling(ampacity, multiple float64) (float64, error) {
	err := domain.First(checkLoadAmps("ampacity", ampacity),
		domain.Check("fuse rating as a multiple of ampacity", multiple, 0.1, 2, ""))
	if err != nil {
		return 0, err
	}
	return ampacity * multiple, nil
}

// SmallestFuse returns the smallest rating of a rising series that carries a continuous load
// (A) at no more than a share of the rating (above 0, up to 1).
func SmallestFuse(ratings []float64, load, share float64) (float64, error) {
	if err := checkSeries(ratings); err != nil {
		return 0, err
	}
	if err := domain.Check("share of the fuse rating used", share, 0.01, 1, ""); err != nil {
		return 0, err
	}
	largest := ratings[len(ratings)-1]
	if err := domain.Check("continuous load current", load, 0, largest*share, "A"); err != nil {
		return 0, err
	}
	for _, rating := range ratings {
		if atLeast(rating*share, load) {
			return rating, nil
		}
	}
	return largest, nil
}

// LargestFuse returns the largest rating of a rising series that does not exceed a ceiling (A).
func LargestFuse(ratings []float64, ceiling float64) (float64, error) {
	if err := checkSeries(ratings); err != nil {
		return 0, err
	}
	if err := domain.Check("fuse ceiling of the wire", ceiling, ratings[0], maxAmps, "A"); err != nil {
		return 0, err
	}
	best := ratings[0]
	for _, rating := range ratings {
		if atLeast(ceiling, rating) {
			best = rating
		}
	}
	return best, nil
}

// FuseWindow returns the smallest and the largest fuse of a rising series that carry a load (A)
// at a share of their rating and stay at or under a ceiling (A). It is an error if none does.
func FuseWindow(ratings []float64, load, share, ceiling float64) (smallest, largest float64, err error) {
	if smallest, err = SmallestFuse(ratings, load, share); err != nil {
		return 0, 0, err
	}
	if largest, err = LargestFuse(ratings, ceiling); err != nil {
		return 0, 0, err
	}
	if smallest > largest {
		return 0, 0, fmt.Errorf("no fuse fits: a load of %.4g A needs at least a %g A fuse, the wire allows at most %g A; use a larger wire", load, smallest, largest)
	}
	return smallest, largest, nil
}

func checkSeries(ratings []float64) error {
	if len(ratings) == 0 {
		return fmt.Errorf("series of fuse ratings is empty: give at least one rating")
	}
	for i, rating := range ratings {
		if err := checkLoadAmps("fuse rating", rating); err != nil {
			return err
		}
		if i > 0 && rating <= ratings[i-1] {
			return fmt.Errorf("series of fuse ratings falls from %g A to %g A: give it in rising order", ratings[i-1], rating)
		}
	}
	return nil
}

// WireChart is one row of the wire and protector chart.
type WireChart struct {
	Gauge   int
	Fuse    float64 // A
	Breaker float64 // A, 0 where the chart has none
}

// WireCharts returns the direct-current wire and protector chart, FAA AC 43.13-1B table 11-3.
// The breaker column holds 11 values against 13 sizes; its alignment is from memory.
func WireCharts() []WireChart {
	return []WireChart{
		{22, 5, 5}, {20, 5, 7.5}, {18, 10, 10}, {16, 10, 15}, {14, 15, 20}, {12, 20, 30}, {10, 30, 40},
		{8, 50, 50}, {6, 70, 80}, {4, 70, 100}, {2, 100, 125}, {1, 150, 0}, {0, 150, 0},
	}
}

// ChartFuse returns the fuse (A) of FAA AC 43.13-1B table 11-3 for a gauge.
func ChartFuse(gauge int) (float64, error) {
	var sizes []int
	for _, row := range WireCharts() {
		if row.Gauge == gauge {
			return row.Fuse, nil
		}
		sizes = append(sizes, row.Gauge)
	}
	return 0, noGauge("FAA AC 43.13-1B table 11-3", gauge, sizes)
}
