package quantity

// Dimension says what kind of physical quantity a number is. The zero value, None, is no dimension and never valid.
type Dimension uint8

// The dimensions, in the stable order that Dimensions returns. Where one unit serves two of them (degC, mm2, psi),
// the earlier one is its usual meaning.
const (
	None Dimension = iota
	DimLength
	DimArea
	DimVolume
	DimMass
	DimTime
	DimVelocity
	DimAcceleration
	DimForce
	DimTorque
	DimFlow
	DimMassFlow
	DimDensity
	DimKinematicViscosity
	DimPressure
	DimAbsolutePressure
	DimTemperature
	DimTemperatureDifference
	DimAngle
	DimRotationalSpeed
	DimFrequency
	DimVoltage
	DimCurrent
	DimResistance
	DimResistancePerLength
	DimInductance
	DimCapacitance
	DimCharge
	DimEnergy
	DimPower
	DimSpecificConsumption
	DimShare
	DimRatio
	DimWireSize
	DimDashSize
	DimHeatingValue

	dimensionCount = int(DimHeatingValue) + 1
)

// kind is what is known about a dimension apart from its units.
type kind struct {
	name    string // CEL marker type name
	snake   string // name in JSON and messages
	phrase  string // with article, for sentences
	example string // one typical literal
	write   string // ways to write it with a unit; # stands for the reader's number
	exact   string // symbol of the unit, a power of ten of the SI unit, in which the exact text is written
}

// kinds is constant: nothing writes to it.
var kinds = [dimensionCount]kind{
	None:                     {"None", "none", "no quantity", "", "", ""},
	DimLength:                {"Length", "length", "a length", "14 ft 6 in", "# mm or # in or # ft", "m"},
	DimArea:                  {"Area", "area", "an area", "20 cm2", "# cm2 or # in2", "m2"},
	DimVolume:                {"Volume", "volume", "a volume", "4.1 L", "# L or # gal or # cu in", "m3"},
	DimMass:                  {"Mass", "mass", "a mass", "1500 kg", "# kg or # lb", "kg"},
	DimTime:                  {"Time", "time", "a time", "2 s", "# s or # min or # months", "s"},
	DimVelocity:              {"Velocity", "velocity", "a velocity", "100 km/h", "# m/s or # km/h or # mph", "m/s"},
	DimAcceleration:          {"Acceleration", "acceleration", "an acceleration", "9.81 m/s2", "# m/s2 or # g", "m/s2"},
	DimForce:                 {"Force", "force", "a force", "50 N", "# N or # lbf", "N"},
	DimTorque:                {"Torque", "torque", "a torque", "20 N m", "# N m or # lbf ft", "N m"},
	DimFlow:                  {"Flow", "flow", "a flow", "255 L/h", "# L/h or # gal/h or # cc/min", "m3/s"},
	DimMassFlow:              {"MassFlow", "mass_flow", "a mass flow", "20 kg/h", "# kg/h or # lb/h or # g/s", "kg/s"},
	DimDensity:               {"Density", "density", "a density", "745 kg/m3", "# kg/m3 or # lb/gal", "kg/m3"},
	DimKinematicViscosity:    {"KinematicViscosity", "kinematic_viscosity", "a kinematic viscosity", "0.6 mm2/s", "# mm2/s or # cSt", "m2/s"},
	DimPressure:              {"Pressure", "pressure", "a pressure", "58 psi", "# psi or # kPa or # bar", "Pa"},
	DimAbsolutePressure:      {"AbsolutePressure", "absolute_pressure", "an absolute pressure", "101.3 kPa abs", "# kPa abs or # psia or # inHg abs", "Pa abs"},
	DimTemperature:           {"Temperature", "temperature", "a temperature", "210 degF", "# degC or # degF", "K"},
	DimTemperatureDifference: {"TemperatureDifference", "temperature_difference", "a temperature difference", "10 K", "# K or # degF", "K"},
	DimAngle:                 {"Angle", "angle", "an angle", "10 deg", "# deg", "rad"},
	DimRotationalSpeed:       {"RotationalSpeed", "rotational_speed", "a rotational speed", "4500 rpm", "# rpm", "rad/s"},
	DimFrequency:             {"Frequency", "frequency", "a frequency", "50 Hz", "# Hz", "Hz"},
	DimVoltage:               {"Voltage", "voltage", "a voltage", "13.5 V", "# V or # mV", "V"},
	DimCurrent:               {"Current", "current", "a current", "12 A", "# A or # mA", "A"},
	DimResistance:            {"Resistance", "resistance", "a resistance", "0.6 ohm", "# ohm or # kohm", "ohm"},
	DimResistancePerLength:   {"ResistancePerLength", "resistance_per_length", "a resistance per length", "5.2 mohm/m", "# mohm/m or # ohm/1000 ft", "ohm/m"},
	DimInductance:            {"Inductance", "inductance", "an inductance", "8 mH", "# mH", "H"},
	DimCapacitance:           {"Capacitance", "capacitance", "a capacitance", "0.22 uF", "# uF", "F"},
	DimCharge:                {"Charge", "charge", "a charge", "60 Ah", "# Ah", "C"},
	DimEnergy:                {"Energy", "energy", "an energy", "100 mJ", "# J or # mJ or # kWh", "J"},
	DimPower:                 {"Power", "power", "a power", "250 hp", "# W or # kW or # hp", "W"},
	DimSpecificConsumption:   {"SpecificConsumption", "specific_consumption", "a specific consumption", "0.48 lb/(hp h)", "# lb/(hp h) or # g/kWh", "kg/J"},
	DimShare:                 {"Share", "share", "a share", "85 %", "# % or # ppm", "%"},
	DimRatio:                 {"Ratio", "ratio", "a ratio", "0.85", "#:1 or # %", ""},
	DimWireSize:              {"WireSize", "wire_size", "a wire size", "12 AWG", "# AWG or # mm2 or # SAE", "mm2"},
	DimDashSize:              {"DashSize", "dash_size", "a dash size", "-6", "-#", "dash"},
	DimHeatingValue:          {"HeatingValue", "heating_value", "a heating value", "43 MJ/kg", "# MJ/kg or # BTU/lb", "J/kg"},
}

func (d Dimension) kind() *kind {
	if int(d) >= dimensionCount {
		d = None
	}
	return &kinds[d]
}

// String returns the snake_case name, for example "absolute_pressure".
func (d Dimension) String() string { return d.kind().snake }

// Name returns the CEL marker type name, for example "AbsolutePressure".
func (d Dimension) Name() string { return d.kind().name }

// Phrase is the dimension with its article, for sentences: a pressure.
func (d Dimension) Phrase() string { return d.kind().phrase }

// Valid reports whether d is one of the dimensions other than None.
func (d Dimension) Valid() bool { return d > None && int(d) < dimensionCount }

// Dimensions returns every valid dimension in a stable order.
func Dimensions() []Dimension {
	all := make([]Dimension, 0, dimensionCount-1)
	for d := DimLength; int(d) < dimensionCount; d++ {
		all = append(all, d)
	}
	return all
}

// Example returns one typical literal of the dimension, for messages and JSON Schema examples; "" for None.
func Example(d Dimension) string { return d.kind().example }
