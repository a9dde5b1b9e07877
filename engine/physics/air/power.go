package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// The state of the air that a net power is stated for: dry air of 99 kPa at 25
// degC. Source: ISO 1585 and SAE J1349.
const (
	ReferencePressure    = 99e3   // Pa
	ReferenceTemperature = 298.15 // K
	// ReferenceDensity is that of dry air in this state, kg/m3.
	ReferenceDensity = ReferencePressure / (GasConstant * ReferenceTemperature)
)

// PowerFactor returns the power a naturally aspirated petrol engine makes in dry
// air of a pressure, Pa, and temperature, K, over that in the state of reference:
//
//	(p/99 kPa)^1.2 (298 K/T)^0.6
//
// The standard calls it a correction from 0.93 to 1.07; beyond it is an
// estimate. Domain: that of Density. Source: ISO 1585, spark ignition.
func PowerFactor(pressure, kelvin float64) (float64, error) {
	if err := checkGas(pressure, kelvin); err != nil {
		return 0, err
	}
	return math.Pow(pressure/ReferencePressure, 1.2) * math.Pow(ReferenceTemperature/kelvin, 0.6), nil
}

// CompressedTemperature returns the temperature, K, of air behind a compressor
// that raises its pressure by a ratio, from the temperature before it, K, and
// the compressor's isentropic efficiency:
//
//	T2 = T1 (1 + (ratio^(0.4/1.4) - 1)/eta)
//
// Domain: 200 to 600 K; 1 <= ratio <= 6; 0.2 <= eta <= 1. Source: isentropic
// compression of an ideal gas, any thermodynamics text.
func CompressedTemperature(kelvin, ratio, efficiency float64) (float64, error) {
	if err := domain.First(
		domain.Check("air temperature", kelvin, 200, 600, "K"),
		domain.Check("pressure ratio", ratio, 1, 6, "1"),
		domain.Check("compressor efficiency", efficiency, 0.2, 1, "1"),
	); err != nil {
		return 0, err
	}
	return kelvin * (1 + (math.Pow(ratio, (heatRatio-1)/heatRatio)-1)/efficiency), nil
}

// OttoEfficiency returns the efficiency of the ideal petrol cycle at a
// compression ratio: 1 - r^-0.4. Domain: 1 < r <= 30. Source: air-standard Otto
// cycle, any thermodynamics text.
func OttoEfficiency(ratio float64) (float64, error) {
	if err := domain.Check("compression ratio", ratio, 1.0001, 30, "1"); err != nil {
		return 0, err
	}
	return 1 - math.Pow(ratio, 1-heatRatio), nil
}

// MeanEffectivePressure returns the brake mean effective pressure of a
// four-stroke engine, Pa: 2 P/(Vd N). Domain: P >= 0; Vd, N > 0. Source:
// definition.
func MeanEffectivePressure(power, displacement, speed float64) (float64, error) {
	if err := domain.First(domain.CheckNotNegative("brake power", power, "W"), checkEngine(displacement, speed)); err != nil {
		return 0, err
	}
	return 2 * power / (displacement * speed), nil
}

// The line of fuel over load of a carburetted-era petrol engine (Willans line):
// what an engine burns for each unit of indicated work, kg/J, and the mean
// effective pressure, Pa, that friction and pumping take. Common practice; a
// published map of a 1.9 L engine of 1991 gives 190 to 204 g/kWh and 1.6 to 2.2
// bar at 2000 to 3000 rpm.
const (
	WillansSlope = 215e-3 / 3.6e6
	WillansLost  = 2.2e5
)

// PartLoadFuel returns the petrol an engine burns at part load, kg/s, from its
// power, W, displacement, m3, and speed, rev/s: slope (P + lost Vd N/2).
// Domain: that of MeanEffectivePressure. Source: Willans line, with the
// constants above.
func PartLoadFuel(power, displacement, speed float64) (float64, error) {
	if _, err := MeanEffectivePressure(power, displacement, speed); err != nil {
		return 0, err
	}
	return WillansSlope * (power + WillansLost*displacement*speed/2), nil
}
