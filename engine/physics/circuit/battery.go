package circuit

import (
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

// OpenCircuitVoltage returns the inverse of StateOfCharge, in V, for a charge from 0 to 1.
func OpenCircuitVoltage(charge float64) (float64, error) {
	points := chargePoints()
	if err := domain.Check("state of charge", charge, 0, 1, ""); err != nil {
		return 0, err
	}
	for i := 1; i < len(points); i++ {
		if charge <= points[i].charge {
			share := (charge - points[i-1].charge) / (points[i].charge - points[i-1].charge)
			return points[i-1].volts + share*(points[i].volts-points[i-1].volts), nil
		}
	}
	return points[len(points)-1].volts, nil
}

// CrankingResistance estimates the internal resistance of a 12 V battery at -18 degC from its cold
// cranking current (A, 50 to 3000) and its open-circuit voltage (V, 11.7 to 12.9), in ohm:
//
//	R = (Voc - 7.2 V) / CCA
//
// SAE J537 rates a battery by the current it holds for 30 s at -18 degC with at least 7.2 V; taking
// the drop as ohmic is a judgement. It includes polarisation, so a warm battery in short use has less.
func CrankingResistance(coldCranking, openCircuit float64) (float64, error) {
	err := domain.First(domain.Check("cold cranking current", coldCranking, 50, 3000, "A"),
		domain.Check("open-circuit voltage", openCircuit, 11.7, 12.9, "V"))
	if err != nil {
		return 0, err
	}
	return (openCircuit - 7.2) / coldCranking, nil
}

// Alternator speeds of the ISO 8854 rating form "IL / IR A", in rev/s. The speeds are from memory.
const (
	AlternatorLowSpeed   = 1500.0 / 60
	AlternatorRatedSpeed = 6000.0 / 60
)

// AlternatorOutput returns the current (A) an alternator can give at a shaft speed (rev/s), from its
// outputs at 1500 and 6000 rev/min (A, low <= rated): straight between the two speeds. Below 1500
// rev/min (25 rev/s) and above 6000 rev/min (100 rev/s) it is refused. The real curve lies above the
// straight line, as output rises fastest at low speed. Source: rating form of ISO 8854, speeds from memory.
func AlternatorOutput(low, rated, speed float64) (float64, error) {
	err := domain.First(domain.Check("rated output of the alternator", rated, domain.Smallest, 1000, "A"),
		domain.Check("output of the alternator at 1500 rev/min", low, 0, rated, "A"),
		domain.Check("alternator speed", speed, AlternatorLowSpeed, AlternatorRatedSpeed, "rev/s"))
	if err != nil {
		return 0, err
	}
	share := (speed - AlternatorLowSpeed) / (AlternatorRatedSpeed - AlternatorLowSpeed)
	return low + share*(rated-low), nil
}

// AlternatorSpeed returns the shaft speed of an alternator (rev/s) by crankshaft speed (rev/s, 0 to 200)
// and pulley ratio (crank pulley over alternator pulley, 0.5 to 6).
func AlternatorSpeed(crank, ratio float64) (float64, error) {
	err := domain.First(domain.Check("crankshaft speed", crank, 0, 200, "rev/s"),
		domain.Check("pulley ratio", ratio, 0.5, 6, ""))
	if err != nil {
		return 0, err
	}
	return crank * ratio, nil
}
