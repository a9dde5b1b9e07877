// Package derive computes what the vehicle will really do: the derived values
// of a design at its operating points.
//
// Each derived value is one Entry: a name, the part it belongs to, its
// dimension, one line of meaning, its formula and source, and a pure function.
// The entries form a graph that a Session evaluates lazily, once per design:
//
//	s := derive.NewSession(design, derive.Options{})
//	r := s.At(derive.FullLoad, "pump_flow")
//
// A value is unknown while a fact it needs is unknown, and then names those
// facts. It is also unknown, with the reason, where a table or a curve does
// not reach: nothing is extrapolated. Values belong to the whole design
// (at.full_load.pump_flow), to one part (passage.hole_needed), or to one part
// at an operating point (circuit.at.idle.voltage_drop).
//
// Stating more facts may turn an unknown value into a known one and never
// changes a known one. So no entry falls back from a fact to a formula, and
// what is usually not known (the resistance of fuses, contacts and wire joints)
// is left out for all rather than counted for some; the formula says so.
//
// Formulas live in the physics packages. Two systems are solved here by putting
// them together: the circuits that share wires or grounds (network.go), and the
// fuel path with its pump on its circuit (fuelsupply.go).
package derive
