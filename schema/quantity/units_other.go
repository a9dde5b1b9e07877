package quantity

import "slices"

// thermalUnits are the temperatures and their differences: 0 degC is 273.15 K and 0 degF is 459.67 degF above
// absolute zero, NIST SP 811 (2008) App. B.
func thermalUnits() []Unit {
	return slices.Concat(
		of(DimTemperature,
			lin("K", "K", "1", "K", "kelvin", "kelvin", "kelvins"),
			shifted("degC", "degC", "1", "273.15", "tempC", "degree Celsius", "C", "deg C", "celsius", "degrees C", "degrees celsius"),
			shifted("degF", "degF", "5/9", "459.67", "tempF", "degree Fahrenheit", "F", "deg F", "fahrenheit", "degrees F", "degrees fahrenheit"),
		),
		of(DimTemperatureDifference,
			lin("K", "delta_K", "1", "K", "kelvin, as a difference", "kelvin", "kelvins"),
			lin("degC", "delta_degC", "1", "degC", "degree Celsius, as a difference", "C", "deg C", "celsius", "degrees C"),
			lin("degF", "delta_degF", "5/9", "degF", "degree Fahrenheit, as a difference", "F", "deg F", "fahrenheit", "degrees F"),
		),
	)
}

// rotationUnits are angles, rotational speeds and frequencies. A turn is 2 pi rad.
func rotationUnits() []Unit {
	return slices.Concat(
		of(DimAngle,
			lin("rad", "rad", "1", "radian", "radian", "radian", "radians"),
			lin("deg", "deg", "pi/180", "degree", "degree, a 360th of a turn", "degree", "degrees"),
		),
		of(DimRotationalSpeed,
			lin("rad/s", "rad_per_s", "1", "radian/s", "radian per second", "rad/sec"),
			lin("rpm", "rpm", "pi/30", "rpm", "revolution per minute", "r/min", "rev/min", "1/min", "revs/min"),
		),
		of(DimFrequency,
			lin("Hz", "Hz", "1", "Hz", "hertz", "hertz", "1/s", "cps"),
			lin("kHz", "kHz", "1000", "kHz", "kilohertz", "kilohertz"),
			lin("MHz", "MHz", "1000000", "MHz", "megahertz", "megahertz"),
		),
	)
}

// electricalUnits are SI units with their prefixes; an ampere hour is 3600 C.
func electricalUnits() []Unit {
	return slices.Concat(
		of(DimVoltage,
			lin("V", "V", "1", "V", "volt", "volt", "volts", "VDC", "V DC"),
			lin("uV", "uV", "0.000001", "uV", "microvolt"),
			lin("mV", "mV", "0.001", "mV", "millivolt", "millivolt", "millivolts"),
			lin("kV", "kV", "1000", "kV", "kilovolt", "kilovolt", "kilovolts"),
		),
		of(DimCurrent,
			lin("A", "A", "1", "A", "ampere", "amp", "amps", "ampere", "amperes"),
			lin("mA", "mA", "0.001", "mA", "milliampere", "milliamp", "milliamps"),
			lin("uA", "uA", "0.000001", "uA", "microampere", "microamp", "microamps"),
		),
		of(DimResistance,
			lin("ohm", "ohm", "1", "ohm", "ohm", "ohms"),
			lin("mohm", "mohm", "0.001", "milliohm", "milliohm", "milliohm", "milliohms"),
			lin("kohm", "kohm", "1000", "kiloohm", "kilohm", "kilohm", "kilohms", "kohms"),
			lin("Mohm", "Mohm", "1000000", "megaohm", "megohm", "megohm", "megohms"),
		),
		of(DimResistancePerLength,
			lin("ohm/m", "ohm_per_m", "1", "ohm/m", "ohm per metre", "ohms/m", "ohms/meter"),
			lin("mohm/m", "mohm_per_m", "0.001", "milliohm/m", "milliohm per metre", "milliohms/m", "milliohm/m"),
			lin("kohm/m", "kohm_per_m", "1000", "kiloohm/m", "kilohm per metre", "kilohm/m", "kohms/m"),
			lin("ohm/km", "ohm_per_km", "0.001", "ohm/km", "ohm per kilometre", "ohms/km"),
			lin("ohm/1000 ft", "ohm_per_1000_ft", "1/304.8", "ohm/(1000 ft)", "ohm per thousand feet", "ohm/1000ft", "ohms/1000 ft", "ohms/1000ft", "ohm/kft", "ohms/kft"),
			lin("mohm/ft", "mohm_per_ft", "0.001/0.3048", "milliohm/ft", "milliohm per foot", "milliohms/ft"),
			lin("ohm/ft", "ohm_per_ft", "1/0.3048", "ohm/ft", "ohm per foot", "ohms/ft", "ohms/foot"),
			lin("kohm/ft", "kohm_per_ft", "1000/0.3048", "kiloohm/ft", "kilohm per foot, as ignition leads are rated", "kilohm/ft", "kohms/ft", "kohm/foot"),
			lin("ohm/in", "ohm_per_inch", "1/0.0254", "ohm/in", "ohm per inch", "ohms/in", "ohms/inch"),
		),
		of(DimInductance,
			lin("H", "H", "1", "H", "henry", "henry", "henries"),
			lin("mH", "mH", "0.001", "mH", "millihenry", "millihenry", "millihenries"),
			lin("uH", "uH", "0.000001", "uH", "microhenry", "microhenry", "microhenries"),
		),
		of(DimCapacitance,
			lin("F", "F", "1", "F", "farad", "farad", "farads"),
			lin("mF", "mF", "0.001", "mF", "millifarad", "millifarad"),
			lin("uF", "uF", "0.000001", "uF", "microfarad", "microfarad", "microfarads"),
			lin("nF", "nF", "0.000000001", "nF", "nanofarad", "nanofarad", "nanofarads"),
			lin("pF", "pF", "0.000000000001", "pF", "picofarad", "picofarad", "picofarads"),
		),
		of(DimCharge,
			lin("C", "C", "1", "C", "coulomb", "coulomb", "coulombs", "A s"),
			lin("Ah", "Ah", "3600", "A hour", "ampere hour, 3600 C", "A h", "amp hour", "amp hours", "A hr"),
			lin("mAh", "mAh", "3.6", "mA hour", "milliampere hour", "mA h"),
		),
	)
}

// energyUnits are energies, powers and specific consumptions. The BTU is the International Table one,
// 1055.05585262 J; a horsepower is 550 ft lbf/s; a metric horsepower is 75 kgf m/s: NIST SP 811 (2008) App. B.
func energyUnits() []Unit {
	var lbPerHpHour []string
	for _, m := range []string{"lb", "lbs", "lbm"} {
		for _, p := range []string{"hp", "bhp"} {
			for _, t := range []string{"h", "hr"} {
				lbPerHpHour = append(lbPerHpHour, m+"/"+p+" "+t, m+"/"+p+"/"+t, m+"/"+p+t)
			}
		}
	}
	return slices.Concat(
		of(DimEnergy,
			lin("J", "J", "1", "J", "joule", "joule", "joules", "W s"),
			lin("mJ", "mJ", "0.001", "mJ", "millijoule", "millijoule", "millijoules"),
			lin("kJ", "kJ", "1000", "kJ", "kilojoule", "kilojoule", "kilojoules"),
			lin("MJ", "MJ", "1000000", "MJ", "megajoule", "megajoule", "megajoules"),
			lin("Wh", "Wh", "3600", "W hour", "watt hour", "W h"),
			lin("kWh", "kWh", "3600000", "kW hour", "kilowatt hour", "kW h", "kW hr"),
			lin("BTU", "BTU", "1055.05585262", "btu", "British thermal unit, International Table", "BTUs"),
		),
		of(DimPower,
			lin("W", "W", "1", "W", "watt", "watt", "watts"),
			lin("mW", "mW", "0.001", "mW", "milliwatt", "milliwatt", "milliwatts"),
			lin("kW", "kW", "1000", "kW", "kilowatt", "kilowatt", "kilowatts"),
			lin("MW", "MW", "1000000", "MW", "megawatt", "megawatt", "megawatts"),
			lin("hp", "hp", "550*0.3048*0.45359237*9.80665", "hp", "horsepower, 550 ft lbf/s", "bhp", "horsepower"),
			lin("metric hp", "metric_hp", "75*9.80665", "metrichorsepower", "metric horsepower, 75 kgf m/s", "metric_hp", "PS", "metric horsepower"),
		),
		of(DimSpecificConsumption,
			lin("kg/J", "kg_per_J", "1", "kg/J", "kilogram per joule"),
			lin("g/kWh", "g_per_kWh", "0.001/3600000", "g/(kW hour)", "gram per kilowatt hour", "g/kW h", "g/kW/h", "g/kW hr", "g/kWhr"),
			lin("kg/kWh", "kg_per_kWh", "1/3600000", "kg/(kW hour)", "kilogram per kilowatt hour", "kg/kW h", "kg/kW/h", "kg/kW hr"),
			lin("lb/(hp h)", "lb_per_hp_h", "0.45359237/550/0.3048/0.45359237/9.80665/3600", "lb/(hp hour)", "pound per horsepower hour", lbPerHpHour...),
		),
	)
}

// heatingUnits are heats per mass: 1 BTU/lb is 2326 J/kg exactly, NIST SP 811 (2008) App. B.
func heatingUnits() []Unit {
	return of(DimHeatingValue,
		lin("J/kg", "J_per_kg", "1", "J/kg", "joule per kilogram"),
		lin("kJ/kg", "kJ_per_kg", "1000", "kJ/kg", "kilojoule per kilogram", "J/g"),
		lin("MJ/kg", "MJ_per_kg", "1000000", "MJ/kg", "megajoule per kilogram"),
		lin("BTU/lb", "BTU_per_lb", "2326", "btu/lb", "BTU per pound, 2326 J/kg", "BTU/lbm", "BTU/pound"),
	)
}
