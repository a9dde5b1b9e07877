package fuel

import (
	"math"

	"plumbline/engine/physics/domain"
)

const (
	pascalPerPsi = 6894.757293168
	// rankineOffset is the figure of the source, not 459.67.
	rankineOffset = 459.6
)

// Ranges of the vapour pressure equation. The Reid range is the title of figure
// 7.1-14b of the source; the temperatures, 0 to 140 degF, are the scale of its
// figure 7.1-14a (from memory). Table 7.1-2 prints 40 to 100 degF. The equation is
// that of Clausius and Clapeyron and is carried on to 248 degF, as hot a fuel as may
// stand in a throttle body.
const (
	MinReid              = 1 * pascalPerPsi
	MaxReid              = 20 * pascalPerPsi
	MinVapourTemperature = 255.372
	MaxVapourTemperature = 393.15
)

// gasolineSlope is the source's slope of the distillation curve for gasoline,
// degF per cent at 10 per cent evaporated.
const gasolineSlope = 3.0

// vapourConstants returns A and B of the equation for a Reid pressure in psi.
func vapourConstants(reid float64) (a, b float64) {
	root := math.Sqrt(gasolineSlope)
	ln := math.Log(reid)
	a = 15.64 - 1.854*root - (0.8742-0.3280*root)*ln
	b = 8742 - 1042*root - (1049-179.4*root)*ln
	return a, b
}

// VapourConstants returns the constants A, without unit, and B, in degrees
// Rankine, of TrueVapourPressure for a Reid vapour pressure in Pa. Domain: 1 to
// 20 psi. Source: EPA AP-42 chapter 7.1, figure 7.1-15 and table 7.1-2.
func VapourConstants(reid float64) (a, b float64, err error) {
	if err := domain.Check("Reid vapour pressure", reid, MinReid, MaxReid, "Pa"); err != nil {
		return 0, 0, err
	}
	a, b = vapourConstants(reid / pascalPerPsi)
	return a, b, nil
}

// TrueVapourPressure returns the pressure, Pa absolute, at which gasoline of a
// Reid vapour pressure in Pa boils at a temperature in K:
//
//	P = exp(A - B/(T + 459.6))   psia, degF
//	A = 15.64 - 1.854 S^0.5 - (0.8742 - 0.3280 S^0.5) ln RVP
//	B = 8742 - 1042 S^0.5 - (1049 - 179.4 S^0.5) ln RVP,  S = 3.0, RVP in psi
//
// It is higher than the Reid pressure at the same 100 degF. For a blend with
// ethanol give the Reid pressure of the blend as sold; S is that of gasoline,
// which makes the result a rough one above about E10. Domain: 1 to 20 psi, 0 to
// 248 degF. Source: EPA AP-42 chapter 7.1, figure 7.1-14b.
func TrueVapourPressure(reid, kelvin float64) (float64, error) {
	a, b, err := VapourConstants(reid)
	if err != nil {
		return 0, err
	}
	if err := domain.Check("fuel temperature", kelvin, MinVapourTemperature, MaxVapourTemperature, "K"); err != nil {
		return 0, err
	}
	fahrenheit := kelvin*1.8 - 459.67
	return pascalPerPsi * math.Exp(a-b/(fahrenheit+rankineOffset)), nil
}
