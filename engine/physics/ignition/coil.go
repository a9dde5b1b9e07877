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

// CoilEnergy returns the energy (J) stored at a current (A, 0 to 1000): L I^2 / 2.
func CoilEnergy(henries, amps float64) (float64, error) {
	err := domain.First(domain.Check("primary inductance", henries, 1e-6, 10, "H"),
		domain.Check("primary current", amps, 0, 1000, "A"))
	if err != nil {
		return 0, err
	}
	return henries * amps * amps / 2, nil
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
