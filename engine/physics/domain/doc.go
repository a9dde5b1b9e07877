// Package domain holds the errors the physics packages share: a value outside
// the domain of a formula or the range of a table, and an iteration that did
// not converge. Physics functions never extrapolate and never return NaN; they
// return one of these instead.
package domain
