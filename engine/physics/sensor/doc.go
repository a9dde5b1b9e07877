// Package sensor holds the formulas of the engine's sensors: thermistor and its divider, the error a
// bad joint or ground makes, throttle position, linear pressure sensor, and the pressure hose.
//
// Values are float64 in SI units: K, ohm, V, Pa, m, m3, s, Hz. The smallest example, the temperature a
// controller reads at 1 V across a thermistor with a 2490 ohm pull-up to 5 V:
//
//	curve, _ := sensor.BetaFromPoints(293.15, 2500, 353.15, 325)
//	ohms, _ := sensor.DividerResistance(5, 2490, 1)
//	kelvin, _ := curve.Temperature(ohms)
//
// A value outside the domain of a formula is refused with a *domain.RangeError that says the range.
package sensor
