package circuit

import (
	"fmt"
	"strings"
)

// Plating of the strands.
type Plating string

// The platings IEC 60228 tells apart.
const (
	Plain  Plating = "plain"
	Tinned Plating = "tinned"
)

type classFiveRow struct{ mm2, plain, tinned float64 }

// classFive returns the nominal sizes (mm2) and maximum resistances at 20 degC (ohm/km)
// of flexible copper conductors: IEC 60228 class 5; the 0.34 mm2 row is DIN VDE 0295,
// which gives plain copper only.
func classFive() [16]classFiveRow {
	return [...]classFiveRow{
		{0.34, 56, 0},
		{0.5, 39.0, 40.1},
		{0.75, 26.0, 26.7},
		{1, 19.5, 20.0},
		{1.5, 13.3, 13.7},
		{2.5, 7.98, 8.21},
		{4, 4.95, 5.09},
		{6, 3.30, 3.39},
		{10, 1.91, 1.95},
		{16, 1.21, 1.24},
		{25, 0.780, 0.795},
		{35, 0.554, 0.565},
		{50, 0.386, 0.393},
		{70, 0.272, 0.277},
		{95, 0.206, 0.210},
		{120, 0.161, 0.164},
	}
}

// ClassFiveConductor returns the flexible conductor of a nominal size (m2) with the
// maximum resistance of IEC 60228 class 5. Sizes: 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16,
// 25, 35, 50, 70, 95 and 120 mm2, and 0.34 mm2 plain (DIN VDE 0295). Any other size is refused.
func ClassFiveConductor(area float64, plating Plating) (Conductor, error) {
	if err := checkArea("conductor area", area); err != nil {
		return Conductor{}, err
	}
	var sizes []string
	for _, row := range classFive() {
		perKilometre := row.plain
		if plating == Tinned {
			perKilometre = row.tinned
		}
		if perKilometre == 0 {
			continue
		}
		if near(area, row.mm2*1e-6, 0.005) {
			return Conductor{Area: area, PerMetre: perKilometre * 1e-3, Basis: BasisClassFive}, nil
		}
		sizes = append(sizes, fmt.Sprint(row.mm2))
	}
	return Conductor{}, fmt.Errorf("conductor area %g mm2 is not in IEC 60228 class 5 (%s): give one of %s mm2",
		area*1e6, plating, strings.Join(sizes, ", "))
}

type saeRow struct {
	gauge        int
	circularMils float64
}

// saeAreas returns the conductor areas of SAE J1127/J1128 gauge cable, in circular mil.
// The rows for 8, 1 and 3/0 are from memory.
func saeAreas() [14]saeRow {
	return [...]saeRow{
		{18, 1537}, {16, 2336}, {14, 3702}, {12, 5833}, {10, 9343}, {8, 14810}, {6, 24538},
		{4, 37360}, {2, 62450}, {1, 77790}, {0, 98980}, {-1, 125100}, {-2, 158600}, {-3, 205500},
	}
}

// SAEConductor returns annealed copper of the area of SAE J1127/J1128 cable of a gauge
// number. That area is 3 to 11 percent under the AWG area of the same number. The areas
// of 8, 1 and 3/0 are from memory.
func SAEConductor(gauge int) (Conductor, error) {
	var sizes []int
	for _, row := range saeAreas() {
		if row.gauge == gauge {
			area := row.circularMils * CircularMil
			return Conductor{Area: area, PerMetre: CopperResistivity / area, Basis: BasisSAE}, nil
		}
		sizes = append(sizes, row.gauge)
	}
	return Conductor{}, noGauge("SAE J1127/J1128 area list", gauge, sizes)
}

// noGauge says which gauges a table has.
func noGauge(table string, gauge int, have []int) error {
	names := make([]string, len(have))
	for i, g := range have {
		names[i] = GaugeName(g)
	}
	return fmt.Errorf("%s is not in the %s: give one of %s", GaugeName(gauge), table, strings.Join(names, ", "))
}
