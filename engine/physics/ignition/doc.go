// Package ignition holds the formulas of an inductive ignition and its signals: coil current and
// energy, dwell, ballast, speed signal, rotor phasing.
//
// Values are float64 in SI units: V, A, ohm, H, J, s, m, Hz. Angles are in radians, crankshaft speed
// in revolutions a second. Formulas hold for a four-stroke engine. The smallest example, the current at
// break of a 3 ohm, 8 mH coil circuit after 2 ms at 12 V:
//
//	amps, err := ignition.CoilCurrent(12, 3, 8e-3, 2e-3)
//
// A value outside the domain of a formula is refused with a *domain.RangeError that says the range.
// The secondary side of a running ignition can injure: these numbers replace no caution at the vehicle.
package ignition
