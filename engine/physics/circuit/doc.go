// Package circuit holds the formulas and tables of a low-voltage vehicle
// circuit: conductors, ampacity, fuses, relay contacts, voltage drop, battery
// and alternator, and a direct-current network solver.
//
// All values are float64 in SI units: V, A, ohm, W, m, m2, s, K. Shaft speed is
// in revolutions a second. Wire gauges are AWG numbers; 1/0, 2/0, 3/0 and 4/0
// are 0, -1, -2 and -3.
//
// The smallest example, a load on a battery through one wire:
//
//	wire, _ := circuit.AWGConductor(14)
//	ohm, _ := wire.Resistance(5, circuit.CelsiusToKelvin(60))
//	net, _ := circuit.NewNetwork("battery negative",
//		circuit.Battery("battery", "battery positive", "battery negative", 12.6, 0.01),
//		circuit.Resistor("feed", "battery positive", "pump", ohm),
//		circuit.ConstantCurrentLoad("pump", "pump", "battery negative", 8, 6))
//	state, _ := net.Solve()
//	volts, _ := state.Voltage("pump")
//
// A value outside the domain of a formula or the range of a table is refused
// with a *domain.RangeError that says the range; a solution that cannot be
// found is a *domain.NotConverged. Nothing is extrapolated and nothing returns
// NaN. Figures from memory or judgement say so where they stand. None of it
// replaces the code in force or the maker's data for the part.
package circuit
