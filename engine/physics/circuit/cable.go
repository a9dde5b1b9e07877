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
