package quantity

import (
	"regexp"
	"slices"
	"strings"
)

// confusions are the units that are written for one another, by dimension: those that stand side by side on labels,
// gauges and data sheets, and those a prefix apart. A unit may stand in several groups.
func confusions(d Dimension) [][]string {
	switch d {
	case DimLength:
		return [][]string{{"mm", "cm", "in", "m", "ft"}, {"um", "thou", "mm"}, {"m", "km", "ft", "mi"}}
	case DimArea:
		return [][]string{{"mm2", "cm2", "in2"}}
	case DimVolume:
		return [][]string{{"L", "gal", "imp gal"}, {"L", "cm3", "cu in"}}
	case DimMass:
		return [][]string{{"kg", "lb", "t"}}
	case DimTime:
		return [][]string{{"us", "ms", "s"}, {"s", "min", "h"}, {"d", "week", "month", "year"}}
	case DimFlow:
		return [][]string{{"L/h", "gal/h", "imp gal/h", "L/min", "cc/min"}, {"cfm", "m3/h", "m3/min", "L/s"}}
	case DimMassFlow:
		return [][]string{{"lb/h", "kg/h", "g/min", "g/s", "lb/min"}}
	case DimDensity:
		return [][]string{{"kg/L", "kg/m3", "lb/gal"}, {"g/L", "g/gal"}}
	case DimPressure:
		return [][]string{{"kPa", "psi", "bar", "kg/cm2"}, {"inHg", "inH2O", "mmHg", "mbar"}, {"kPa", "inHg"}, {"MPa", "bar"}}
	case DimAbsolutePressure:
		return [][]string{{"kPa abs", "psia", "bar abs", "inHg abs"}, {"inHg abs", "mmHg abs", "mbar abs", "kPa abs"}}
	case DimTemperature, DimTemperatureDifference:
		return [][]string{{"degC", "degF"}}
	case DimVoltage:
		return [][]string{{"V", "mV"}}
	case DimCurrent:
		return [][]string{{"A", "mA"}}
	case DimResistance:
		return [][]string{{"ohm", "mohm"}, {"ohm", "kohm"}}
	case DimInductance:
		return [][]string{{"mH", "uH"}, {"mH", "H"}}
	case DimPower:
		return [][]string{{"kW", "hp", "metric hp"}, {"kW", "W"}}
	case DimSpecificConsumption:
		return [][]string{{"g/kWh", "kg/kWh", "lb/(hp h)"}}
	case DimShare:
		return [][]string{{"%", "ppm"}}
	case DimWireSize:
		return [][]string{{"mm2", "AWG"}}
	}
	return nil
}

// Slip is what a text was perhaps meant to say.
type Slip struct {
	Text  string
	Value Value
	// Point is how many places the point has moved, 0 where the unit is another.
	Point int
}

// points are how many places a point moves, the likely first; a prefix forgotten moves it by three.
func points() []int { return []int{1, -1, 2, -2, 3, -3} }

var slipText = regexp.MustCompile(`^(-?)(\d+(?:\.\d+)?)(.*)$`)

// Slips lists what a text of a dimension was perhaps meant to say: the same number in a unit that is written for its
// own, then the same unit with the point moved. A size or a number written another way (12 AWG, 3/8 in) has only the
// first, or none. No two have the same value, and none has that of the text.
func Slips(text string, d Dimension) []Slip {
	own, err := Parse(text, d)
	if err != nil {
		return nil
	}
	var out []Slip
	seen := []Value{own}
	add := func(text string, point int) {
		v, err := Parse(text, d)
		if err == nil && !slices.ContainsFunc(seen, func(s Value) bool { return near(s.si, v.si, 1e-9) }) {
			seen = append(seen, v)
			out = append(out, Slip{text, v, point})
		}
	}
	match := slipText.FindStringSubmatch(plainText(text))
	if match == nil {
		return nil
	}
	sign, digits, unit := match[1], match[2], strings.TrimSpace(match[3])
	written, found := units().find(unitKey(unit), d)
	for _, group := range confusions(d) {
		if !found || !slices.Contains(group, written.Symbol) {
			continue
		}
		for _, other := range group {
			add(sign+digits+" "+other, 0)
		}
	}
	if found && written.toSI != nil {
		return out
	}
	for _, by := range points() {
		add(strings.TrimSpace(sign+moved(digits, by)+" "+unit), by)
	}
	return out
}

// moved moves the point of a decimal number by some places, to the right when positive.
func moved(digits string, by int) string {
	whole, part, _ := strings.Cut(digits, ".")
	at := len(whole) + by
	all := whole + part
	if at <= 0 {
		all, at = strings.Repeat("0", 1-at)+all, 1
	}
	if at > len(all) {
		all += strings.Repeat("0", at-len(all))
	}
	whole, part = strings.TrimLeft(all[:at], "0"), strings.TrimRight(all[at:], "0")
	if whole == "" {
		whole = "0"
	}
	if part == "" {
		return whole
	}
	return whole + "." + part
}
