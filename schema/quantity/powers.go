package quantity

import (
	"fmt"
	"strconv"
	"strings"
)

// Powers are the exponents of the base units that a dimension is made of: kilogram, metre, second, ampere, kelvin and radian. Of
// an angle the SI makes a plain number; here it is a unit of its own, so that 50 Hz and 50 rad/s, and a torque and an energy,
// stay apart.
type Powers [baseUnits]int8

const baseUnits = 6

var baseSymbols = [baseUnits]string{"kg", "m", "s", "A", "K", "rad"}

// MostPower is the largest exponent that a product may have.
const MostPower = 9

// powers of the dimensions that multiply and divide. A share, which is a plain number by its unit, is beside them; sizes of dash
// fittings are names rather than numbers.
var powers = map[Dimension]Powers{
	DimLength: {0, 1}, DimArea: {0, 2}, DimVolume: {0, 3}, DimMass: {1}, DimTime: {0, 0, 1},
	DimVelocity: {0, 1, -1}, DimAcceleration: {0, 1, -2}, DimForce: {1, 1, -2}, DimTorque: {1, 2, -2, 0, 0, -1},
	DimFlow: {0, 3, -1}, DimMassFlow: {1, 0, -1}, DimDensity: {1, -3}, DimKinematicViscosity: {0, 2, -1},
	DimPressure: {1, -1, -2}, DimAbsolutePressure: {1, -1, -2},
	DimTemperature: {0, 0, 0, 0, 1}, DimTemperatureDifference: {0, 0, 0, 0, 1},
	DimAngle: {0, 0, 0, 0, 0, 1}, DimRotationalSpeed: {0, 0, -1, 0, 0, 1}, DimFrequency: {0, 0, -1},
	DimVoltage: {1, 2, -3, -1}, DimCurrent: {0, 0, 0, 1}, DimResistance: {1, 2, -3, -2}, DimResistancePerLength: {1, 1, -3, -2},
	DimInductance: {1, 2, -2, -2}, DimCapacitance: {-1, -2, 4, 2}, DimCharge: {0, 0, 1, 1},
	DimEnergy: {1, 2, -2}, DimPower: {1, 2, -3}, DimSpecificConsumption: {0, -2, 2}, DimHeatingValue: {0, 2, -2},
	DimWireSize: {0, 2},
}

// unnamed are the dimensions that no product comes out as: another one has their exponents too.
var unnamed = map[Dimension]bool{DimAbsolutePressure: true, DimTemperature: true, DimWireSize: true}

// byPowers are the dimensions that products come out as.
var byPowers = func() map[Powers]Dimension {
	out := map[Powers]Dimension{}
	for d, p := range powers {
		if !unnamed[d] {
			out[p] = d
		}
	}
	return out
}()

// Powers are the exponents of a dimension; not ok for one that does not multiply.
func (d Dimension) Powers() (Powers, bool) {
	p, ok := powers[d]
	return p, ok
}

// Named is the dimension that has these exponents; None when none has, or when all are zero: then it is a plain number.
func (p Powers) Named() Dimension { return byPowers[p] }

// Plain reports whether a quantity of these exponents is a plain number.
func (p Powers) Plain() bool { return p == Powers{} }

// Times adds exponents, as a product does; Over takes them away, as a quotient does. Not ok where one grows beyond MostPower.
func (p Powers) Times(o Powers) (Powers, bool) { return p.plus(o, 1) }

// Over is the quotient's.
func (p Powers) Over(o Powers) (Powers, bool) { return p.plus(o, -1) }

func (p Powers) plus(o Powers, sign int8) (Powers, bool) {
	ok := true
	for i := range p {
		p[i] += sign * o[i]
		ok = ok && p[i] >= -MostPower && p[i] <= MostPower
	}
	return p, ok
}

// String writes the unit they make: kg m2/s3, 1/s2, m/(s K).
func (p Powers) String() string {
	var over, under []string
	for i, n := range p {
		text := baseSymbols[i]
		if n > 1 || n < -1 {
			text += strconv.Itoa(max(int(n), -int(n)))
		}
		switch {
		case n > 0:
			over = append(over, text)
		case n < 0:
			under = append(under, text)
		}
	}
	top, bottom := strings.Join(over, " "), strings.Join(under, " ")
	switch {
	case bottom == "":
		return top
	case top == "":
		top = "1"
	}
	if len(under) > 1 {
		bottom = "(" + bottom + ")"
	}
	return top + "/" + bottom
}

// ParsePowers reads what String writes.
func ParsePowers(text string) (Powers, error) {
	var out Powers
	top, bottom, _ := strings.Cut(text, "/")
	for sign, part := range map[int8]string{1: top, -1: strings.Trim(bottom, "()")} {
		for _, word := range strings.Fields(part) {
			if word == "1" && sign == 1 {
				continue
			}
			at, n := -1, 1
			symbol := strings.TrimRight(word, "0123456789")
			for i, s := range baseSymbols {
				if s == symbol {
					at = i
				}
			}
			if digits := word[len(symbol):]; digits != "" {
				n, _ = strconv.Atoi(digits)
			}
			if at < 0 || n < 1 || n > MostPower {
				return Powers{}, fmt.Errorf("%q is no unit of products", text)
			}
			out[at] += sign * int8(n)
		}
	}
	return out, nil
}
