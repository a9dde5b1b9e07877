// Package exhaust gives the flow in an exhaust pipe and what an oxygen sensor in
// it sees: how late, how diluted, and from which mounting angle.
//
// All values are SI: kg/s, m3, Pa, K, s. Angles are in radians, engine speed in
// revolutions per second. Burned gas is taken as an ideal gas of 287.05 J/(kg K).
//
//	m, err := exhaust.MassFlow(8.34e-3, 14.7)
//	q, err := exhaust.VolumeFlow(m, 623.15, 101325)
//	t, err := exhaust.TransportDelay(4.5e-3, q)
package exhaust
