package circuit

import (
	"math"

	"plumbline/engine/physics/domain"
)

const (
	// areaTolerance is how far under the AWG area a conductor may be and still count as that gauge.
	areaTolerance = 0.01

	ratingTolerance = 0.01 // K, for ratings converted from degC or degF
)

type ampacityRow struct {
	gauge int
	amps  [7]float64
}

// insulationRatings returns the column heads of 33 CFR 183.425 Table 5, in K.
func insulationRatings() [7]float64 {
	return [...]float64{zeroCelsius + 60, zeroCelsius + 75, zeroCelsius + 80, zeroCelsius + 90,
		zeroCelsius + 105, zeroCelsius + 125, zeroCelsius + 200}
}

// thinRows go on below Table 5, which ends at 18 AWG. 20 and 22 AWG: 8.33 and 5.0 A in 50 degC air with 105 degC wire,
// the basis of MIL-W-5088B as a manual on d.c. loads prints it (seen second hand), brought to 30 degC and the other
// classes by the law of AmbientFactor and rounded down, 200 degC as 125 degC; 24 AWG, 3 A, is practice.
func thinRows() [3]ampacityRow {
	return [...]ampacityRow{
		{24, [7]float64{2, 2.5, 2.5, 3, 3.5, 3.5, 3.5}},
		{22, [7]float64{3.5, 4.5, 4.5, 5, 5.5, 6.5, 6.5}},
		{20, [7]float64{6, 7, 7.5, 8.5, 9.5, 10.5, 10.5}},
	}
}

// tableFive returns the allowable amperes of 33 CFR 183.425 Table 5.
func tableFive() [15]ampacityRow {
	return [...]ampacityRow{
		{18, [7]float64{10, 10, 15, 20, 20, 25, 25}},
		{16, [7]float64{15, 15, 20, 25, 25, 30, 35}},
		{14, [7]float64{20, 20, 25, 30, 35, 40, 45}},
		{12, [7]float64{25, 25, 35, 40, 45, 50, 55}},
		{10, [7]float64{40, 40, 50, 55, 60, 70, 70}},
		{8, [7]float64{55, 65, 70, 70, 80, 90, 100}},
		{6, [7]float64{80, 95, 100, 100, 120, 125, 135}},
		{4, [7]float64{105, 125, 130, 135, 160, 170, 180}},
		{3, [7]float64{120, 145, 150, 155, 180, 195, 210}},
		{2, [7]float64{140, 170, 175, 180, 210, 225, 240}},
		{1, [7]float64{165, 195, 210, 210, 245, 265, 280}},
		{0, [7]float64{195, 230, 245, 245, 285, 305, 325}},
		{-1, [7]float64{225, 265, 285, 285, 330, 355, 370}},
		{-2, [7]float64{260, 310, 330, 330, 385, 410, 430}},
		{-3, [7]float64{300, 360, 385, 385, 445, 475, 510}},
	}
}

// ratingColumn returns the column of the highest insulation rating not above the one given.
func ratingColumn(rating float64) (int, error) {
	heads := insulationRatings()
	if err := domain.Check("insulation temperature rating", rating, heads[0]-ratingTolerance, zeroCelsius+300, "K"); err != nil {
		return 0, err
	}
	column := 0
	for i, head := range heads {
		if rating >= head-ratingTolerance {
			column = i
		}
	}
	return column, nil
}

// Ampacity returns the allowable current (A) of 33 CFR 183.425 Table 5 for a copper
// cross-section (m2) and an insulation temperature rating (K). A conductor counts as a
// gauge when it is no more than 1 percent under the ASTM B258 area; a size between two
// gauges takes the smaller, never the larger, and one over 4/0 AWG (107.2 mm2) takes 4/0.
// Below 18 AWG (0.823 mm2) the rows of thinRows go on to 24 AWG (0.205 mm2), straight between
// them: current grows ever slower with area, so the chord is on the safe side. For the same
// reason a thinner wire carries at least what 24 AWG carries for each mm2. A rating above
// 200 degC takes the last column.
// SAE gauge cable is smaller than AWG of the same number and therefore takes the next row
// down; AmpacityOfGauge goes by the number.
func Ampacity(area, rating float64) (float64, error) {
	column, err := ratingColumn(rating)
	if err != nil {
		return 0, err
	}
	if err := checkArea("conductor area", area); err != nil {
		return 0, err
	}
	var amps, areaBefore, ampsBefore float64
	for _, row := range thinRows() {
		nominal, err := AWGArea(row.gauge)
		if err != nil {
			return 0, err
		}
		if area < nominal {
			return ampsBefore + (area-areaBefore)/(nominal-areaBefore)*(row.amps[column]-ampsBefore), nil
		}
		amps, areaBefore, ampsBefore = row.amps[column], nominal, row.amps[column]
	}
	for _, row := range tableFive() {
		nominal, err := AWGArea(row.gauge)
		if err != nil {
			return 0, err
		}
		if area >= nominal*(1-areaTolerance) {
			amps = row.amps[column]
		}
	}
	return amps, nil
}

// hottestAir is the hottest air a wire is judged in, 250 degC.
const hottestAir = zeroCelsius + 250

// AmbientFactor returns the ampacity at an ambient temperature over that at 30 degC:
//
//	sqrt((Tr - Ta) / (Tr - 30 degC))
//
// with rating Tr (60 to 200 degC) and ambient Ta (K) from -60 to 250 degC. At 30 degC and below
// it is 1: the table is not raised. In air as hot as the rating and hotter it is 0: the insulation
// stands no current at all there. It follows from heat loss in
// proportion to temperature rise, and gives the engine-space factors of 33 CFR 183.425
// note 1 at 50 degC within 0.01, except at 200 degC (0.94 for 1.00).
func AmbientFactor(rating, ambient float64) (float64, error) {
	if _, err := ratingColumn(rating); err != nil {
		return 0, err
	}
	if err := domain.Check("ambient temperature", ambient, zeroCelsius-60, hottestAir, "K"); err != nil {
		return 0, err
	}
	const base = zeroCelsius + 30
	if ambient <= base {
		return 1, nil
	}
	return math.Sqrt(math.Max(0, rating-ambient) / (rating - base)), nil
}

// BundleCountFactor returns the factor of note 2 to 33 CFR 183.425 Table 5 by the number
// of current-carrying conductors bundled: up to 2, 1; 3, 0.70; 4 to 6, 0.60; 7 to 24,
// 0.50; 25 and more, 0.40. The note binds only circuits of 50 V and more (33 CFR 183.435);
// for a 12 V harness it is borrowed practice.
func BundleCountFactor(conductors int) (float64, error) {
	if err := domain.Check("number of current-carrying conductors", float64(conductors), 1, 10000, ""); err != nil {
		return 0, err
	}
	switch {
	case conductors <= 2:
		return 1, nil
	case conductors == 3:
		return 0.70, nil
	case conductors <= 6:
		return 0.60, nil
	case conductors <= 24:
		return 0.50, nil
	}
	return 0.40, nil
}

// DeratedAmpacity returns Ampacity times AmbientFactor times BundleCountFactor, in A.
func DeratedAmpacity(area, rating, ambient float64, conductors int) (float64, error) {
	amps, err := Ampacity(area, rating)
	if err != nil {
		return 0, err
	}
	hot, err := AmbientFactor(rating, ambient)
	if err != nil {
		return 0, err
	}
	bundled, err := BundleCountFactor(conductors)
	if err != nil {
		return 0, err
	}
	return amps * hot * bundled, nil
}
