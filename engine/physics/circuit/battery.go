package circuit

import (
	"math"

	"plumbline/engine/physics/domain"
)

type chargePoint struct{ volts, charge float64 }

// chargePoints returns the open-circuit voltages of a rested 12 V lead-acid battery:
// Army TM 5-3805-262-20.
func chargePoints() [5]chargePoint {
	return [...]chargePoint{{11.7, 0}, {12.0, 0.25}, {12.2, 0.50}, {12.4, 0.75}, {12.6, 1}}
}

// StateOfCharge returns the share of charge (0 to 1) of a rested 12 V lead-acid battery by its
// open-circuit voltage (V): 12.6 full, 12.4 three quarters, 12.2 half, 12.0 a quarter, 11.7
// flat, straight between. Outside 11.7 to 12.6 V it is refused: a surface charge or another
// kind of battery reads higher. Source: Army TM 5-3805-262-20.
func StateOfCharge(volts float64) (float64, error) {
	points := chargePoints()
	if err := domain.Check("open-circuit voltage of a rested 12 V battery", volts, points[0].volts, points[len(points)-1].volts, "V"); err != nil {
		return 0, err
	}
	for i := 1; i < len(points); i++ {
		if volts <= points[i].volts {
			share := (volts - points[i-1].volts) / (points[i].volts - points[i-1].volts)
			return points[i-1].charge + share*(points[i].charge-points[i-1].charge), nil
		}
	}
	return 1, nil
}

// Figures of a nominal 12 V battery; one of another voltage has more or fewer of the same cells.
const (
	nominalVolts = 12.0
	fullVolts    = 12.6 // V at rest
	ratedVolts   = 7.2  // V under the cold cranking current, SAE J537
)

// factorPoint is a factor at some state; between two states it is straight.
type factorPoint struct{ at, factor float64 }

// between reads a rising series of points, held at its ends.
func between(points []factorPoint, at float64) float64 {
	if at <= points[0].at {
		return points[0].factor
	}
	for i := 1; i < len(points); i++ {
		if a, b := points[i-1], points[i]; at <= b.at {
			return a.factor + (at-a.at)/(b.at-a.at)*(b.factor-a.factor)
		}
	}
	return points[len(points)-1].factor
}

// dischargeFactors are resistance over that of the full battery by state of charge, from memory.
func dischargeFactors() []factorPoint {
	return []factorPoint{{0, 2.5}, {0.25, 1.7}, {0.5, 1.3}, {0.75, 1.1}, {1, 1}}
}

// coldFactors are resistance over that at -18 degC, where the cranking current is rated: 2.4/1.8 at -29 degC, from
// memory, and on to -40 degC by the same slope.
func coldFactors() []factorPoint {
	return []factorPoint{{zeroCelsius - 40, 1.67}, {zeroCelsius - 29, 1.33}, {zeroCelsius - 18, 1}}
}

// InternalResistance estimates the internal resistance (ohm) of a lead-acid battery from its cold cranking current
// (A, 50 to 3000), its nominal voltage (V, 6 to 48), its voltage at rest (V, from 0) and its temperature (K):
//
//	R = (12.6 V - 7.2 V) / CCA x nominal / 12 V x discharge x cold
//
// SAE J537 rates a battery by the current it holds for 30 s at -18 degC with at least 7.2 V; taking the drop as ohmic
// is a judgement. A healthy warm battery has about half of that, an aged one about that, so it is not lowered above
// -18 degC; below, cold raises it by a third at -29 degC. Discharge raises it by 1.1, 1.3 and 1.7 at three quarters,
// half and a quarter of the charge, both from memory. A battery at or above full charge, of the mat kind or just off
// the charger, counts as full; one below the flat end as flat.
func InternalResistance(coldCranking, nominal, atRest, temperature float64) (float64, error) {
	err := domain.First(domain.Check("cold cranking current", coldCranking, 50, 3000, "A"),
		domain.Check("nominal battery voltage", nominal, 6, 48, "V"),
		domain.Check("open-circuit voltage", atRest, 0, 100, "V"),
		domain.Check("battery temperature", temperature, zeroCelsius-60, zeroCelsius+100, "K"))
	if err != nil {
		return 0, err
	}
	batteries := nominal / nominalVolts
	points := chargePoints()
	charge := 1.0
	switch volts := atRest / batteries; {
	case volts <= points[0].volts:
		charge = 0
	case volts < points[len(points)-1].volts:
		if charge, err = StateOfCharge(volts); err != nil {
			return 0, err
		}
	}
	return batteries * (fullVolts - ratedVolts) / coldCranking * between(dischargeFactors(), charge) * between(coldFactors(), temperature), nil
}

// StarterColdFactor returns the current of a starter over that at 20 degC by temperature (K): 1.3 at 0, 1.8 at -18 and
// 2.3 at -29 degC, as the oil thickens, straight between and on to -40 degC; 1 above 20 degC. Source: practice.
func StarterColdFactor(temperature float64) float64 {
	return between([]factorPoint{{zeroCelsius - 40, 2.8}, {zeroCelsius - 29, 2.3}, {zeroCelsius - 18, 1.8}, {zeroCelsius, 1.3}, {zeroCelsius + 20, 1}}, temperature)
}

// CrankingFloor returns the voltage (V) that a sound battery of a nominal voltage (V, 6 to 48) holds under load by
// temperature (K): of a 12 V one 9.6 at 20 degC and above, 9.4 at 10, 9.1 at -1, 8.9 at -7, 8.7 at -12, 8.5 at -18,
// 8.0 at -29 degC and below. Source: the load test of service texts, half the cold cranking current for 15 s; its last
// point is practice.
func CrankingFloor(nominal, temperature float64) (float64, error) {
	if err := domain.Check("nominal battery voltage", nominal, 6, 48, "V"); err != nil {
		return 0, err
	}
	points := []factorPoint{{zeroCelsius - 29, 8.0}, {zeroCelsius - 18, 8.5}, {zeroCelsius - 12, 8.7}, {zeroCelsius - 7, 8.9}, {zeroCelsius - 1, 9.1}, {zeroCelsius + 10, 9.4}, {zeroCelsius + 20, 9.6}}
	return nominal / nominalVolts * between(points, temperature), nil
}

// AlternatorHeatFactor returns the output of an alternator over its rating, which is taken at 23 degC (ISO 8854), by
// the temperature of its case (K): 0.25 percent less for each kelvin above, no less than 0.5. Source: practice; a 50 A
// machine gives 41 A hot for 50 A cold.
func AlternatorHeatFactor(temperature float64) float64 {
	return math.Max(0.5, math.Min(1, 1-0.0025*(temperature-zeroCelsius-23)))
}
