// Package quantity holds physical quantities as they are printed on parts: a number, a unit, a dimension.
//
// A Value is a number in SI units with its Dimension. Parse reads "58 psi", "3/8 in", "14 ft 6 in", "1/0 AWG" or "-6"
// exactly (rational arithmetic, one rounding to the nearest float64); Format prints in the reader's system.
//
//	v, err := quantity.Parse("58 psi", quantity.DimPressure)
//	v.SI()                    // 399895.9... Pa
//	v.Format(quantity.Both)   // "58 psi (400 kPa)"
//
// ParseRange reads what is known between two ends: "280..320 hp", "300 hp +- 5 %", "about 300 hp".
//
// Names: the constants DimLength, DimPressure, ... are dimensions as values. The types Length, Pressure, ... are
// quantities of a fixed dimension, for struct fields; all are Of[D].
//
// SI inside: angles are radians, rotational speeds rad/s, temperatures kelvins, charges coulombs, wire sizes the
// conductor's cross-section in m2, dash sizes the nominal tube outside diameter in m, shares fractions and ratios plain numbers.
// Pressure is against the surrounding air or between two points; AbsolutePressure is against vacuum.
//
// Limits: a text has at most 100 bytes, a number at most 40 digits and a power of ten within 30. Wire gauge areas
// need a power of 92 and are within a few units of the last place of a float64 instead of correctly rounded.
// Gallons and quarts are US unless "imp" is written; BTU is the International Table one; hp is 550 ft lbf/s.
package quantity
