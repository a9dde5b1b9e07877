package circuit

import (
	"sort"

	"plumbline/engine/physics/domain"
)

type bundleRow struct {
	wires  int
	factor [5]float64
}

// bundleLoadings returns the loading of the curves: current carried over the sum of the
// wires' own capacities.
func bundleLoadings() [5]float64 { return [...]float64{0.2, 0.4, 0.6, 0.8, 1.0} }

// bundleCurves returns points read from the bundle derating curves of MIL-W-5088L
// (SAE AS50881), to within 0.01.
func bundleCurves() [15]bundleRow {
	return [...]bundleRow{
		{1, [5]float64{1, 1, 1, 1, 1}},
		{2, [5]float64{0.9675, 0.920, 0.910, 0.870, 0.825}},
		{3, [5]float64{0.935, 0.855, 0.815, 0.770, 0.725}},
		{4, [5]float64{0.9075, 0.805, 0.750, 0.705, 0.660}},
		{5, [5]float64{0.875, 0.760, 0.695, 0.650, 0.610}},
		{6, [5]float64{0.850, 0.725, 0.655, 0.605, 0.5725}},
		{7, [5]float64{0.820, 0.695, 0.625, 0.570, 0.540}},
		{8, [5]float64{0.795, 0.6675, 0.595, 0.5425, 0.5125}},
		{9, [5]float64{0.775, 0.645, 0.575, 0.520, 0.485}},
		{10, [5]float64{0.755, 0.6225, 0.550, 0.500, 0.465}},
		{12, [5]float64{0.715, 0.585, 0.515, 0.465, 0.430}},
		{14, [5]float64{0.685, 0.5525, 0.480, 0.435, 0.3975}},
		{16, [5]float64{0.6575, 0.5275, 0.455, 0.410, 0.370}},
		{18, [5]float64{0.635, 0.505, 0.4325, 0.3875, 0.350}},
		{19, [5]float64{0.625, 0.495, 0.4225, 0.380, 0.3425}},
	}
}

// BundleCurveFactor returns the factor by which the free-air current of each wire in a
// bundle is reduced: MIL-W-5088L (SAE AS50881) curves, 1 to 19 wires, 0.20 to 1.00 loaded,
// straight between points in both directions. Loading is the current carried over the sum
// of the wires' own capacities. Outside the points it is refused; a bundle loaded less
// than 0.20 may be judged at 0.20.
func BundleCurveFactor(wires int, loading float64) (float64, error) {
	rows, loads := bundleCurves(), bundleLoadings()
	first, last := rows[0].wires, rows[len(rows)-1].wires
	err := domain.First(
		domain.Check("number of wires in the bundle", float64(wires), float64(first), float64(last), ""),
		domain.Check("bundle loading", loading, loads[0], loads[len(loads)-1], ""))
	if err != nil {
		return 0, err
	}
	upper := sort.Search(len(rows)-1, func(i int) bool { return rows[i].wires >= wires })
	lower := upper
	if rows[upper].wires != wires {
		lower = upper - 1
	}
	low, high := alongCurve(rows[lower].factor, loading), alongCurve(rows[upper].factor, loading)
	if lower == upper {
		return low, nil
	}
	share := float64(wires-rows[lower].wires) / float64(rows[upper].wires-rows[lower].wires)
	return low + share*(high-low), nil
}

// alongCurve interpolates one row at a loading already known to be inside the points.
func alongCurve(factor [5]float64, loading float64) float64 {
	loads := bundleLoadings()
	for i := 1; i < len(loads); i++ {
		if loading <= loads[i] {
			share := (loading - loads[i-1]) / (loads[i] - loads[i-1])
			return factor[i-1] + share*(factor[i]-factor[i-1])
		}
	}
	return factor[len(factor)-1]
}
