package ignition

import (
	"math"

	"plumbline/engine/physics/domain"
)

func checkCoil(volts, ohms, henries float64) error {
	return domain.First(
		domain.Check("supply voltage of the coil", volts, 0, 1000, "V"),
		domain.Check("resistance of the primary circuit", ohms, 1e-3, 1e4, "ohm"),
		domain.Check("primary inductance", henries, 1e-6, 10, "H"))
}

// CoilCurrent returns the primary current (A) a time (s) after the switch closes:
//
//	I(t) = (V/R) (1 - exp(-t R/L))
//
// R counts the coil, the ballast and the wires. V 0 to 1000 V, R 1 mohm to 10 kohm, L 1 uH to 10 H,
// t from 0. Source: first-order RL circuit, any circuit textbook.
func CoilCurrent(volts, ohms, henries, t float64) (float64, error) {
	if err := domain.First(checkCoil(volts, ohms, henries), domain.CheckNotNegative("time since the switch closed", t, "s")); err != nil {
		return 0, err
	}
	return -volts / ohms * math.Expm1(-t*ohms/henries), nil
}

// TimeToCurrent returns the time (s) in which the primary current reaches a target (A):
//
//	t = -(L/R) ln(1 - I R/V)
//
// A target at or above V/R is never reached and is refused with that limit.
func TimeToCurrent(volts, ohms, henries, target float64) (float64, error) {
	if err := domain.First(checkCoil(volts, ohms, henries), domain.Check("supply voltage of the coil", volts, 1e-3, 1000, "V")); err != nil {
		return 0, err
	}
	final := volts / ohms
	if err := domain.Check("target current of the coil (it must lie below V/R)", target, 0, final*(1-1e-9), "A"); err != nil {
		return 0, err
	}
	return -henries / ohms * math.Log1p(-target/final), nil
}

// CoilEnergy returns the energy (J) stored at a current (A, 0 to 1000): L I^2 / 2.
func CoilEnergy(henries, amps float64) (float64, error) {
	err := domain.First(domain.Check("primary inductance", henries, 1e-6, 10, "H"),
		domain.Check("primary current", amps, 0, 1000, "A"))
	if err != nil {
		return 0, err
	}
	return henries * amps * amps / 2, nil
}

// PrimaryVoltage returns the voltage at the coil's negative terminal (V) when the secondary fires:
// secondary voltage (0 to 100 kV) over the turns ratio (1 to 1000). Source: ideal transformer.
func PrimaryVoltage(secondary, turns float64) (float64, error) {
	err := domain.First(domain.Check("secondary voltage", secondary, 0, 1e5, "V"),
		domain.Check("turns ratio of the coil", turns, 1, 1000, ""))
	if err != nil {
		return 0, err
	}
	return secondary / turns, nil
}

// BallastVolts returns the voltage at the coil's positive terminal (V) while the points are closed and
// the current is steady, behind a ballast resistor: V Rcoil / (Rballast + Rcoil).
func BallastVolts(supply, ballast, coil float64) (float64, error) {
	err := domain.First(domain.Check("supply voltage", supply, 0, 1000, "V"),
		domain.Check("ballast resistance", ballast, 0, 1e3, "ohm"),
		domain.Check("coil resistance", coil, 1e-3, 1e3, "ohm"))
	if err != nil {
		return 0, err
	}
	return supply * coil / (ballast + coil), nil
}

// MeanCoilVolts returns the mean of the voltage at the coil's positive terminal (V) over a firing
// interval: BallastVolts for the share of dwell (0 to 1), the supply for the rest. Inductance is left out.
func MeanCoilVolts(supply, ballast, coil, dwell float64) (float64, error) {
	closed, err := BallastVolts(supply, ballast, coil)
	if err != nil {
		return 0, err
	}
	if err := domain.Check("dwell as a share of the firing interval", dwell, 0, 1, ""); err != nil {
		return 0, err
	}
	return closed*dwell + supply*(1-dwell), nil
}
