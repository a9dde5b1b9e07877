package circuit

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// AircraftWireRow is one row of FAA AC 43.13-1B table 11-9.
type AircraftWireRow struct {
	Gauge    int
	At105C   float64 // continuous current, A, 105 degC conductor
	At150C   float64
	At200C   float64
	PerMetre float64 // maximum resistance at 20 degC, ohm/m, tin-plated
	Area     float64 // nominal, m2
}

// AircraftWires returns FAA AC 43.13-1B table 11-9: copper wire in bundles, harness or
// conduit, 70 degC ambient, 33 or more wires for sizes 24 to 10 and 9 wires for 8 and larger,
// no more than 20 percent of the harness capacity in use. Its areas and resistances are those
// of tin-plated aircraft wire, not of ASTM B258.
func AircraftWires() []AircraftWireRow {
	row := func(gauge int, a105, a150, a200, ohmPerKilofoot, circularMils float64) AircraftWireRow {
		return AircraftWireRow{Gauge: gauge, At105C: a105, At150C: a150, At200C: a200,
			PerMetre: ohmPerKilofoot / (1000 * foot), Area: circularMils * CircularMil}
	}
	return []AircraftWireRow{
		row(24, 2.5, 4, 5, 28.40, 475),
		row(22, 3, 5, 6, 16.20, 755),
		row(20, 4, 7, 9, 9.88, 1216),
		row(18, 6, 9, 12, 6.23, 1900),
		row(16, 7, 11, 14, 4.81, 2426),
		row(14, 10, 14, 18, 3.06, 3831),
		row(12, 13, 19, 25, 2.02, 5874),
		row(10, 17, 26, 32, 1.26, 9354),
		row(8, 38, 57, 71, 0.70, 16983),
		row(6, 50, 76, 97, 0.44, 26818),
		row(4, 68, 103, 133, 0.28, 42615),
		row(2, 95, 141, 179, 0.18, 66500),
		row(1, 113, 166, 210, 0.15, 81700),
		row(0, 128, 192, 243, 0.12, 104500),
		row(-1, 147, 222, 285, 0.09, 133000),
		row(-2, 172, 262, 335, 0.07, 166500),
		row(-3, 204, 310, 395, 0.06, 210900),
	}
}

// AircraftAmpacity returns the continuous current (A) of FAA AC 43.13-1B table 11-9 for a
// gauge and a conductor temperature rating (K), 105 to 200 degC; a rating between two columns
// takes the lower.
func AircraftAmpacity(gauge int, rating float64) (float64, error) {
	err := domain.Check("conductor temperature rating", rating,
		zeroCelsius+105-ratingTolerance, zeroCelsius+200+ratingTolerance, "K")
	if err != nil {
		return 0, err
	}
	row, err := aircraftRow(gauge)
	if err != nil {
		return 0, err
	}
	switch {
	case rating >= zeroCelsius+200-ratingTolerance:
		return row.At200C, nil
	case rating >= zeroCelsius+150-ratingTolerance:
		return row.At150C, nil
	}
	return row.At105C, nil
}

// AircraftConductor returns the tin-plated conductor of FAA AC 43.13-1B table 11-9.
func AircraftConductor(gauge int) (Conductor, error) {
	row, err := aircraftRow(gauge)
	if err != nil {
		return Conductor{}, err
	}
	return Conductor{Area: row.Area, PerMetre: row.PerMetre, Basis: BasisAircraft}, nil
}

func aircraftRow(gauge int) (AircraftWireRow, error) {
	var sizes []int
	for _, row := range AircraftWires() {
		if row.Gauge == gauge {
			return row, nil
		}
		sizes = append(sizes, row.Gauge)
	}
	return AircraftWireRow{}, noGauge("FAA AC 43.13-1B table 11-9", gauge, sizes)
}

// AircraftSize returns the smallest wire of FAA AC 43.13-1B table 11-9 whose drop at 20 degC
// over a length (m, with the return where it is wire) at a current (A) does not exceed the
// drop allowed (V). It is strict: a wire 1 percent over the limit is refused, where the
// circular reads its chart more freely.
func AircraftSize(amps, length, drop float64) (int, error) {
	err := domain.First(checkLoadAmps("current", amps), checkLength("wire length", length), checkVolts("allowed voltage drop", drop))
	if err != nil {
		return 0, err
	}
	least := 0.0
	for _, row := range AircraftWires() {
		least = row.PerMetre * length * amps
		if atLeast(drop, least) {
			return row.Gauge, nil
		}
	}
	return 0, fmt.Errorf("no size of FAA AC 43.13-1B table 11-9 keeps the drop to %g V: 4/0 AWG drops %.4g V; shorten the run or allow more", drop, least)
}

// AircraftLength returns the length a wire may have at a hotter conductor temperature for
// the drop it has at length1 at 20 degC, in m:
//
//	L2 = 254.5 L1 / (234.5 + T2)    T2 in degC
//
// for -100 to 250 degC (here in K). Source: FAA AC 43.13-1B chapter 11.
func AircraftLength(length1, temperature float64) (float64, error) {
	err := domain.First(
		checkLength("wire length at 20 degC", length1),
		domain.Check("conductor temperature", temperature, lowestConductor, highestConductor, "K"))
	if err != nil {
		return 0, err
	}
	return 254.5 * length1 / (234.5 + temperature - zeroCelsius), nil
}

// AircraftConductorTemperature estimates the temperature of a loaded conductor, in K:
//
//	T2 = T1 + (TR - T1) sqrt(I / Imax)
//
// T1 ambient, TR rating, Imax the current that brings the conductor to TR; 0 <= I <= Imax and
// T1 <= TR. It is conservative on purpose; ConductorTemperature has the square law. Source:
// FAA AC 43.13-1B chapter 11, formula from memory.
func AircraftConductorTemperature(ambient, rating, amps, maxCurrent float64) (float64, error) {
	load, err := loading(ambient, rating, amps, maxCurrent)
	if err != nil {
		return 0, err
	}
	return ambient + (rating-ambient)*math.Sqrt(load), nil
}

// ConductorTemperature estimates the temperature of a loaded conductor, in K, by heat loss in
// proportion to temperature rise, with constant resistance:
//
//	T2 = T1 + (TR - T1) (I / Imax)^2
//
// with the arguments of AircraftConductorTemperature. Source: the same law as AmbientFactor.
func ConductorTemperature(ambient, rating, amps, maxCurrent float64) (float64, error) {
	load, err := loading(ambient, rating, amps, maxCurrent)
	if err != nil {
		return 0, err
	}
	return ambient + (rating-ambient)*load*load, nil
}

func loading(ambient, rating, amps, maxCurrent float64) (float64, error) {
	err := domain.First(
		domain.Check("conductor temperature rating", rating, lowestConductor, highestConductor, "K"),
		domain.Check("ambient temperature", ambient, lowestConductor, rating, "K"),
		checkLoadAmps("ampacity", maxCurrent),
		domain.Check("current", amps, 0, maxCurrent, "A"))
	if err != nil {
		return 0, err
	}
	return amps / maxCurrent, nil
}
