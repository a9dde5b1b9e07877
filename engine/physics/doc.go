// Package physics is the parent of the formula packages; it holds no code.
//
//	domain     the errors they share: out of range, not converged
//	root       bracketed root finding
//	fluid      pipe and fitting losses, pump curves, the fuel path at work
//	fuel       properties of gasoline and gasoline-ethanol blends
//	air        atmosphere, engine air, throttle and leak flow, injectors
//	exhaust    exhaust flow and what an exhaust oxygen sensor sees of it
//	circuit    resistor networks, wire, fuses, grounds
//	ignition   speed signals, coils, dwell, rotor phasing
//	mechanics  levers, bundles, holes, bends
//	sensor     thermistors, dividers, transducers
//
// Every function is pure and works in SI units. A value outside the domain of
// its formula, or off the end of its table, is an error that states the range;
// nothing extrapolates and nothing returns NaN.
package physics
