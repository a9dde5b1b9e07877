package quantity

import "slices"

// geometryUnits are the lengths, areas and volumes. Inch 25.4 mm, foot 0.3048 m, mile 1609.344 m and US gallon
// 231 in3: NIST SP 811 (2008) App. B, all exact; imperial gallon 4.54609 L exact, same place.
func geometryUnits() []Unit {
	return slices.Concat(
		of(DimLength,
			lin("m", "m", "1", "m", "metre", "meter", "meters", "metre", "metres"),
			lin("mm", "mm", "0.001", "mm", "millimetre", "millimeter", "millimeters", "millimetre", "millimetres"),
			lin("cm", "cm", "0.01", "cm", "centimetre", "centimeter", "centimeters", "centimetre", "centimetres"),
			lin("km", "km", "1000", "km", "kilometre", "kilometer", "kilometers", "kilometre", "kilometres"),
			lin("um", "um", "0.000001", "um", "micrometre", "micron", "microns", "micrometer", "micrometers", "micrometre", "micrometres"),
			lin("in", "inch", "0.0254", "in", "inch, 25.4 mm exactly", "inch", "inches", `"`, "''"),
			lin("ft", "ft", "0.3048", "ft", "foot, 12 in", "foot", "feet", "'"),
			lin("yd", "yd", "0.9144", "yd", "yard, 3 ft", "yard", "yards"),
			lin("mi", "mile", "1609.344", "mile", "mile, 5280 ft", "mile", "miles"),
			lin("thou", "thou", "0.0000254", "mil", "thousandth of an inch", "mil", "mils"),
		),
		of(DimArea,
			lin("m2", "m2", "1", "m^2", "square metre", "sq m"),
			lin("cm2", "cm2", "0.0001", "cm^2", "square centimetre", "sq cm"),
			lin("mm2", "mm2", "0.000001", "mm^2", "square millimetre", "sq mm"),
			lin("in2", "in2", "0.0254*0.0254", "in^2", "square inch", "sq in", "square inch", "square inches"),
			lin("ft2", "ft2", "0.3048*0.3048", "ft^2", "square foot", "sq ft", "square foot", "square feet"),
		),
		of(DimVolume,
			lin("m3", "m3", "1", "m^3", "cubic metre", "cu m"),
			lin("L", "L", "0.001", "liter", "litre", "liter", "liters", "litre", "litres", "dm3"),
			lin("mL", "mL", "0.000001", "ml", "millilitre", "milliliter", "milliliters", "millilitre", "millilitres"),
			lin("cm3", "cm3", "0.000001", "cm^3", "cubic centimetre", "cc", "ccm", "cu cm"),
			lin("cu in", "cu_in", "0.0254*0.0254*0.0254", "in^3", "cubic inch", "in3", "cid", "ci", "cubic inch", "cubic inches"),
			lin("ft3", "ft3", "0.3048*0.3048*0.3048", "ft^3", "cubic foot", "cu ft", "cubic foot", "cubic feet"),
			lin("gal", "gal", "231*0.0254*0.0254*0.0254", "gal", "US gallon, 231 cubic inches", "gallon", "gallons", "US gal", "US gallon", "US gallons"),
			lin("qt", "qt", "231*0.0254*0.0254*0.0254/4", "qt", "US quart, a quarter of a US gallon", "quart", "quarts", "US qt"),
			lin("imp gal", "imp_gal", "0.00454609", "brgallon", "imperial gallon, 4.54609 L exactly", "imp gallon", "imp gallons", "imperial gallon", "imperial gallons", "UK gal", "UK gallon", "UK gallons"),
		),
	)
}

// mechanicsUnits are mass, time, motion, force and torque. Pound 0.45359237 kg, ounce a sixteenth of it, standard
// gravity 9.80665 m/s2, lbf their product: NIST SP 811 (2008) App. B, exact. A year is 365.25 days (the Julian
// year) and a month a twelfth of it: they serve service lives and dates, not calendars.
func mechanicsUnits() []Unit {
	return slices.Concat(
		of(DimMass,
			lin("kg", "kg", "1", "kg", "kilogram", "kilogram", "kilograms", "kilo", "kilos"),
			lin("g", "g", "0.001", "g", "gram", "gram", "grams"),
			lin("mg", "mg", "0.000001", "mg", "milligram", "milligram", "milligrams"),
			lin("t", "tonne", "1000", "tonne", "tonne, 1000 kg", "tonne", "tonnes"),
			lin("lb", "lb", "0.45359237", "lb", "pound, 0.45359237 kg exactly", "lbs", "lbm", "pound", "pounds"),
			lin("oz", "oz", "0.45359237/16", "oz", "ounce, a sixteenth of a pound", "ounce", "ounces"),
		),
		of(DimTime,
			lin("s", "s", "1", "s", "second", "sec", "secs", "second", "seconds"),
			lin("ms", "ms", "0.001", "ms", "millisecond", "msec", "millisecond", "milliseconds"),
			lin("us", "us", "0.000001", "us", "microsecond", "usec", "microsecond", "microseconds"),
			lin("min", "min", "60", "min", "minute", "mins", "minute", "minutes"),
			lin("h", "h", "3600", "hour", "hour", "hr", "hrs", "hour", "hours"),
			lin("d", "day", "86400", "day", "day", "day", "days"),
			lin("week", "week", "604800", "week", "week", "weeks", "wk"),
			lin("month", "month", "31557600/12", "365.25 day/12", "month, a twelfth of 365.25 days", "months", "mo"),
			lin("year", "year", "31557600", "365.25 day", "year, 365.25 days", "years", "yr", "yrs"),
		),
		of(DimVelocity,
			lin("m/s", "m_per_s", "1", "m/s", "metre per second", "meters/second", "m/sec"),
			lin("km/h", "km_per_h", "1000/3600", "km/hour", "kilometre per hour", "kph", "kmh", "km/hr"),
			lin("mph", "mph", "1609.344/3600", "mile/hour", "mile per hour", "mi/h", "mile/h", "miles/hour"),
			lin("ft/s", "ft_per_s", "0.3048", "ft/s", "foot per second", "ft/sec", "fps", "feet/second"),
		),
		of(DimAcceleration,
			lin("m/s2", "m_per_s2", "1", "m/s^2", "metre per second squared", "m/s/s"),
			lin("g", "g_n", "9.80665", "gravity", "standard gravity, 9.80665 m/s2 exactly", "gn", "gee"),
		),
		of(DimForce,
			lin("N", "N", "1", "N", "newton", "newton", "newtons"),
			lin("kN", "kN", "1000", "kN", "kilonewton"),
			lin("lbf", "lbf", "0.45359237*9.80665", "lbf", "pound-force", "lb", "lbs", "pounds force"),
			lin("kgf", "kgf", "9.80665", "kgf", "kilogram-force", "kp"),
		),
		of(DimTorque,
			lin("N m", "N_m", "1", "N m", "newton metre", "Nm", "newton metre", "newton metres", "newton meter", "newton meters"),
			lin("lbf ft", "lbf_ft", "0.45359237*9.80665*0.3048", "lbf ft", "pound-force foot", "lb ft", "lbft", "ft lb", "ftlb", "ft lbf", "ft lbs", "foot pounds", "foot pound"),
			lin("lbf in", "lbf_in", "0.45359237*9.80665*0.0254", "lbf in", "pound-force inch", "lb in", "in lb", "in lbf", "in lbs", "inch pounds"),
			lin("kgf m", "kgf_m", "9.80665", "kgf m", "kilogram-force metre", "kg m"),
		),
	)
}
