// Package mechanics holds the geometry of an installation: wire bundles and the holes they pass,
// bend radius, throttle linkage and springs, height stack, and the slope of fuel in a tank.
//
// Values are float64 in SI units: m, N, N m, m/s2; angles are in radians. The smallest example, a
// bundle of 24 wires of 2 mm:
//
//	d, err := mechanics.BundleDiameter(mechanics.Wires{Count: 24, Diameter: 2e-3})
//
// A value outside the domain of a formula is refused with a *domain.RangeError that says the range.
package mechanics
