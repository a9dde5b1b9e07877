package derive

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"plumbline/schema/quantity"
)

const numberPattern = `-?\d+(?:\.\d+)?(?:e[+-]?\d+)?`

// unitPattern is a unit as the physics packages name it in their range errors, the longer before what begins it.
const unitPattern = `(?: (?:A s\^0\.5/m2|N m/rad|kg/m3|ohm/m|rev/s|rad/s|m3/s|m2/s|m/s2|kg/s|kg/J|J/kg|A2 s|Pa s|` +
	`m/s|mm2|rad|ohm|AWG|N m|1/K|1/s|m3|m2|kg|Pa|Hz|m|K|s|V|A|H|W|J|N|h|1))?`

// rangePattern finds what a domain.RangeError says, also inside another message.
var rangePattern = regexp.MustCompile(`([^:;]*?) is (` + numberPattern + `)(` + unitPattern + `): give a (finite )?value (from|of at least|of at most|of more than) (` +
	numberPattern + `)(?: to (` + numberPattern + `))?(` + unitPattern + `)`)

// siUnits are the units of range errors that readers know by others, with the
// factor to the SI number of the dimension.
var siUnits = map[string]struct {
	of     quantity.Dimension
	factor float64
}{
	"m": {quantity.DimLength, 1}, "m2": {quantity.DimArea, 1}, "m3": {quantity.DimVolume, 1}, "s": {quantity.DimTime, 1},
	"m/s": {quantity.DimVelocity, 1}, "m/s2": {quantity.DimAcceleration, 1}, "m3/s": {quantity.DimFlow, 1},
	"kg": {quantity.DimMass, 1}, "kg/s": {quantity.DimMassFlow, 1}, "kg/m3": {quantity.DimDensity, 1},
	"m2/s": {quantity.DimKinematicViscosity, 1}, "Pa": {quantity.DimPressure, 1}, "K": {quantity.DimTemperature, 1},
	"rad": {quantity.DimAngle, 1}, "rev/s": {quantity.DimRotationalSpeed, 2 * math.Pi}, "rad/s": {quantity.DimRotationalSpeed, 1},
	"Hz": {quantity.DimFrequency, 1}, "V": {quantity.DimVoltage, 1}, "A": {quantity.DimCurrent, 1},
	"ohm": {quantity.DimResistance, 1}, "ohm/m": {quantity.DimResistancePerLength, 1}, "H": {quantity.DimInductance, 1},
	"J": {quantity.DimEnergy, 1}, "W": {quantity.DimPower, 1}, "kg/J": {quantity.DimSpecificConsumption, 1},
	"J/kg": {quantity.DimHeatingValue, 1}, "N": {quantity.DimForce, 1}, "N m": {quantity.DimTorque, 1},
}

// InUnits rewrites the range errors in a reason in the reader's units: "pump
// pressure is 812000 Pa: give a value from 200000 to 500000 Pa" becomes "pump
// pressure is 118 psi (812 kPa), which must be from 29 psi (200 kPa) to 72.5 psi
// (500 kPa)". Any other text stays as it is.
func InUnits(reason string, units quantity.System) string {
	return rangePattern.ReplaceAllStringFunc(reason, func(text string) string {
		m := rangePattern.FindStringSubmatch(text)
		name, word, unit := m[1], m[5], strings.TrimSpace(m[8])
		if unit == "" {
			unit = strings.TrimSpace(m[3])
		}
		numbers := []string{m[2], m[6], m[7]}
		if word == "from" && isNothing(m[6]) {
			// Above the smallest number there is means above nothing.
			word, numbers[1] = "from more than", "0"
		}
		out := written(numbers, name, unit, units)
		text = name + " is " + out[0] + ", which must be " + strings.TrimPrefix(word, "of ") + " " + out[1]
		if m[7] != "" {
			text += " to " + out[2]
		}
		return text
	})
}

func isNothing(number string) bool {
	v, err := strconv.ParseFloat(number, 64)
	return err == nil && v > 0 && v < 1e-300
}

// written writes the numbers of a range error with as many digits as tell the
// value from its limits.
func written(numbers []string, name, unit string, units quantity.System) []string {
	var out []string
	for digits := 3; digits <= 6; digits++ {
		out = out[:0]
		for _, n := range numbers {
			out = append(out, inUnits(n, name, unit, units, digits))
		}
		if !slices.Contains(out[1:], out[0]) {
			break
		}
	}
	return out
}

// inUnits writes one number of a range error.
func inUnits(number, name, unit string, units quantity.System, digits int) string {
	u, known := siUnits[unit]
	v, err := strconv.ParseFloat(number, 64)
	if !known || err != nil {
		return strings.TrimSpace(number + strings.TrimSuffix(" "+unit, " 1"))
	}
	of := u.of
	switch {
	case of == quantity.DimPressure && namesAbsolute(name):
		of = quantity.DimAbsolutePressure
	case of == quantity.DimTemperature && !strings.Contains(name, "temperature"), strings.Contains(name, "temperature rise"):
		of = quantity.DimTemperatureDifference
	case of == quantity.DimArea && strings.Contains(name, "conductor"):
		of = quantity.DimWireSize
	}
	q, err := quantity.New(v*u.factor, of)
	if err != nil {
		return number + " " + unit
	}
	return q.FormatDigits(units, digits)
}

// namesAbsolute reports whether a pressure of this name counts from vacuum.
func namesAbsolute(name string) bool {
	return slices.ContainsFunc([]string{"absolute", "barometer", "apour pressure", "pressure over the fuel", "surface pressure", "manifold pressure"},
		func(s string) bool { return strings.Contains(name, s) })
}
