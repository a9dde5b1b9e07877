package quantity

import "slices"

// fluidUnits are flows, densities and viscosities, from the definitions of geometryUnits and mechanicsUnits.
func fluidUnits() []Unit {
	h, minute, s := []string{"h", "hr", "hour"}, []string{"min", "minute"}, []string{"s", "sec", "second"}
	litre := []string{"L", "liter", "litre", "liters", "litres"}
	gallon := []string{"gal", "gallon", "gallons", "US gal"}
	pound := []string{"lb", "lbs", "lbm", "pounds"}
	return slices.Concat(
		of(DimFlow,
			lin("m3/s", "m3_per_s", "1", "m^3/s", "cubic metre per second"),
			lin("m3/min", "m3_per_min", "1/60", "m^3/min", "cubic metre per minute"),
			lin("m3/h", "m3_per_h", "1/3600", "m^3/hour", "cubic metre per hour", "m3/hr"),
			lin("L/s", "L_per_s", "0.001", "liter/s", "litre per second", over(litre, s)...),
			lin("L/min", "L_per_min", "0.001/60", "liter/min", "litre per minute", append(over(litre, minute), "lpm")...),
			lin("L/h", "L_per_h", "0.001/3600", "liter/hour", "litre per hour", append(over(litre, h), "lph")...),
			lin("cc/min", "cc_per_min", "0.000001/60", "cm^3/min", "cubic centimetre per minute", "cm3/min", "ccm/min", "ccm"),
			lin("mL/min", "mL_per_min", "0.000001/60", "ml/min", "millilitre per minute", "mL/minute"),
			lin("gal/h", "gal_per_h", "231*0.0254*0.0254*0.0254/3600", "gal/hour", "US gallon per hour", append(over(gallon, h), "gph")...),
			lin("gal/min", "gal_per_min", "231*0.0254*0.0254*0.0254/60", "gal/min", "US gallon per minute", append(over(gallon, minute), "gpm")...),
			lin("imp gal/h", "imp_gal_per_h", "0.00454609/3600", "brgallon/hour", "imperial gallon per hour", "imp gal/hr", "imperial gallon/hour", "UK gal/h"),
			lin("cfm", "cfm", "0.3048*0.3048*0.3048/60", "ft^3/min", "cubic foot per minute", "ft3/min", "cu ft/min"),
		),
		of(DimMassFlow,
			lin("kg/s", "kg_per_s", "1", "kg/s", "kilogram per second", "kg/sec"),
			lin("kg/h", "kg_per_h", "1/3600", "kg/hour", "kilogram per hour", "kg/hr", "kg/hour"),
			lin("g/s", "g_per_s", "0.001", "g/s", "gram per second", "g/sec", "grams/second"),
			lin("g/min", "g_per_min", "0.001/60", "g/min", "gram per minute"),
			lin("lb/h", "lb_per_h", "0.45359237/3600", "lb/hour", "pound per hour", append(over(pound, h), "pph", "lbh")...),
			lin("lb/min", "lb_per_min", "0.45359237/60", "lb/min", "pound per minute", over(pound, minute)...),
		),
		of(DimDensity,
			lin("kg/m3", "kg_per_m3", "1", "kg/m^3", "kilogram per cubic metre"),
			lin("kg/L", "kg_per_L", "1000", "kg/liter", "kilogram per litre", "kg/liter", "kg/litre", "kg/dm3"),
			lin("g/cm3", "g_per_cm3", "1000", "g/cm^3", "gram per cubic centimetre", "g/cc", "g/mL"),
			lin("g/L", "g_per_L", "1", "g/liter", "gram per litre", "g/liter", "g/litre"),
			lin("g/gal", "g_per_gal", "0.001/231/0.0254/0.0254/0.0254", "g/gal", "gram per US gallon", "g/gallon"),
			lin("lb/gal", "lb_per_gal", "0.45359237/231/0.0254/0.0254/0.0254", "lb/gal", "pound per US gallon", "lbs/gal", "lb/gallon", "lbs/gallon", "pounds/gallon"),
			lin("lb/ft3", "lb_per_ft3", "0.45359237/0.3048/0.3048/0.3048", "lb/ft^3", "pound per cubic foot", "lbs/ft3", "lb/cu ft"),
		),
		of(DimKinematicViscosity,
			lin("m2/s", "m2_per_s", "1", "m^2/s", "square metre per second"),
			lin("mm2/s", "mm2_per_s", "0.000001", "mm^2/s", "square millimetre per second"),
			lin("cSt", "cSt", "0.000001", "cSt", "centistokes, 1 mm2/s", "centistokes", "centistoke"),
		),
	)
}

// pressureUnits are the pressures against the air and, with the same factors, the absolute ones.
//
// Columns of liquid are the conventional ones of NIST SP 811 (2008) App. B: mercury of 13595.1 kg/m3 and water of
// 1000 kg/m3 under standard gravity 9.80665 m/s2. An atmosphere is 101325 Pa and a bar 100 kPa, both exact.
// Plain spellings serve both dimensions; "psig" only the first, "psia" only the second.
func pressureUnits() []Unit {
	base := []Unit{
		lin("Pa", "Pa", "1", "Pa", "pascal", "pascal", "pascals"),
		lin("kPa", "kPa", "1000", "kPa", "kilopascal", "kilopascal", "kilopascals"),
		lin("MPa", "MPa", "1000000", "MPa", "megapascal", "megapascal", "megapascals", "N/mm2"),
		lin("bar", "bar", "100000", "bar", "bar, 100 kPa", "bars"),
		lin("mbar", "mbar", "100", "mbar", "millibar, 100 Pa", "millibar", "millibars", "hPa"),
		lin("psi", "psi", "0.45359237*9.80665/0.0254/0.0254", "psi", "pound-force per square inch", "lb/in2", "lbf/in2", "lbs/in2", "lb/sq in", "lbs/sq in", "pounds/square inch"),
		lin("inHg", "inHg", "13595.1*9.80665*0.0254", "inHg", "inch of mercury, conventional: 3386.389 Pa", "in Hg", "inches Hg", `" Hg`, `"Hg`, "inches of mercury"),
		lin("inH2O", "inH2O", "1000*9.80665*0.0254", "inH2O", "inch of water, conventional: 249.0889 Pa", "in H2O", "inches H2O", `" H2O`, `"H2O`, "inWC", "in WC", "inches of water"),
		lin("mmHg", "mmHg", "13595.1*9.80665*0.001", "mmHg", "millimetre of mercury, conventional: 133.3224 Pa", "mm Hg"),
		lin("mmH2O", "mmH2O", "9.80665", "mmH2O", "millimetre of water, conventional: 9.80665 Pa", "mm H2O"),
		lin("kg/cm2", "kg_per_cm2", "98066.5", "kgf/cm^2", "kilogram-force per square centimetre, the technical atmosphere", "kgf/cm2", "kp/cm2"),
		lin("atm", "atm", "101325", "atm", "standard atmosphere, 101325 Pa", "atmosphere", "atmospheres"),
	}
	var gauge, absolute []Unit
	for _, u := range base {
		a := u
		a.Symbol, a.CEL, a.Doc = u.Symbol+" abs", u.CEL+"_abs", u.Doc+", absolute"
		a.Aliases = []string{u.Symbol + "A", u.Symbol + "a", u.Symbol + " absolute", u.Symbol + " a"}
		for _, plain := range u.Aliases {
			a.Aliases = append(a.Aliases, plain+" abs", plain+" absolute")
		}
		if u.Symbol == "psi" {
			a.Symbol, a.CEL = "psia", "psia"
			a.Aliases = append(a.Aliases, "psi abs")
		}
		a.Aliases = append(append(a.Aliases, u.Symbol), u.Aliases...)
		absolute = append(absolute, a)

		u.Aliases = append(slices.Clone(u.Aliases), u.Symbol+" gauge", u.Symbol+" g", u.Symbol+"g", u.Symbol+"G")
		if u.Symbol == "psi" {
			u.Aliases = append(u.Aliases, "psid")
		}
		gauge = append(gauge, u)
	}
	return slices.Concat(of(DimPressure, gauge...), of(DimAbsolutePressure, absolute...))
}
