package air

import "plumbline/engine/physics/domain"

func checkEngine(displacement, speed float64) error {
	return domain.First(
		domain.CheckPositive("displacement", displacement, "m3"),
		domain.CheckPositive("engine speed", speed, "rev/s"),
	)
}

func checkEfficiency(ve float64) error {
	return domain.Check("volumetric efficiency", ve, 0.05, 3, "1")
}

// Charges an engine draws through each of its chambers in a revolution of its
// crankshaft or eccentric shaft: a four-stroke one in every second, a two-stroke
// one in each. Each rotor of a rotary engine draws one chamber, the volume such
// engines are named by, in each revolution of the eccentric shaft.
const (
	FourStrokeCharges = 0.5
	TwoStrokeCharges  = 1.0
	RotaryCharges     = 1.0
)

// ChargeFlow returns the air an engine draws, m3/s, at the density the
// volumetric efficiency refers to, from its charges in a revolution: Q = Vd N
// charges VE. Domain: that of EngineVolumeFlow; charges 0.5 to 1.
func ChargeFlow(displacement, speed, charges, ve float64) (float64, error) {
	if err := domain.First(checkEngine(displacement, speed), checkEfficiency(ve),
		domain.Check("charges in a revolution", charges, FourStrokeCharges, TwoStrokeCharges, "")); err != nil {
		return 0, err
	}
	return displacement * speed * charges * ve, nil
}

// EngineVolumeFlow returns the air a four-stroke engine draws, m3/s, at the
// density the volumetric efficiency refers to: Q = Vd N/2 VE. In cubic inches,
// rpm and ft3/min this is CID rpm VE/3456. Domain: Vd, N > 0, 0.05 <= VE <= 3.
// Source: Rajput, Internal Combustion Engines, example 7.2.
func EngineVolumeFlow(displacement, speed, ve float64) (float64, error) {
	return ChargeFlow(displacement, speed, FourStrokeCharges, ve)
}

// EngineMassFlow returns the air a four-stroke engine draws, kg/s, from manifold
// pressure in Pa absolute and charge temperature in K: m = p Vd N VE/(2 R T).
// Domain: that of EngineVolumeFlow and Density. Source: ideal gas.
func EngineMassFlow(pressure, kelvin, displacement, speed, ve float64) (float64, error) {
	density, err := Density(pressure, kelvin)
	if err != nil {
		return 0, err
	}
	flow, err := EngineVolumeFlow(displacement, speed, ve)
	if err != nil {
		return 0, err
	}
	return density * flow, nil
}

// VolumetricEfficiency returns m/(rho Vd N/2) of a four-stroke engine from its
// air, kg/s, and the density of reference, kg/m3. Domain: m >= 0, the rest > 0.
// Source: Rajput, Internal Combustion Engines, example 7.2.
func VolumetricEfficiency(massFlow, density, displacement, speed float64) (float64, error) {
	if err := domain.First(
		checkEngine(displacement, speed),
		domain.CheckNotNegative("air mass flow", massFlow, "kg/s"),
		domain.CheckPositive("air density", density, "kg/m3"),
	); err != nil {
		return 0, err
	}
	return massFlow / (density * displacement * speed / 2), nil
}

// FuelFlow returns the fuel an engine burns, kg/s, at a brake power in W and a
// brake specific consumption in kg/J: m = P b. Domain: P >= 0; b from 1e-8 to
// 1e-6 kg/J (36 to 3600 g/kWh). Source: definition of specific consumption.
func FuelFlow(power, consumption float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("brake power", power, "W"),
		domain.Check("brake specific fuel consumption", consumption, 1e-8, 1e-6, "kg/J"),
	); err != nil {
		return 0, err
	}
	return power * consumption, nil
}

// FuelFlowFromAir returns the fuel, kg/s, that goes with an air flow, kg/s, at an
// air-fuel mass ratio: m = air/AFR. Domain: air >= 0, 1 <= AFR <= 60. Source:
// definition of the ratio.
func FuelFlowFromAir(massFlow, airFuel float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("air mass flow", massFlow, "kg/s"),
		domain.Check("air-fuel ratio", airFuel, 1, 60, "1"),
	); err != nil {
		return 0, err
	}
	return massFlow / airFuel, nil
}

// BrakeEfficiency returns power over fuel energy: P/(m H) with W, kg/s and J/kg.
// Domain: P >= 0; m, H > 0. Source: definition.
func BrakeEfficiency(power, fuelFlow, heatingValue float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("brake power", power, "W"),
		domain.CheckPositive("fuel flow", fuelFlow, "kg/s"),
		domain.CheckPositive("heating value", heatingValue, "J/kg"),
	); err != nil {
		return 0, err
	}
	return power / (fuelFlow * heatingValue), nil
}

// FuelPerCycle returns the fuel of one cylinder in one four-stroke cycle, kg: m /
// (cylinders N/2). Domain: m >= 0, cylinders >= 1, N > 0. Source: Keswani,
// Internal Combustion Engines, example 15.1.
func FuelPerCycle(fuelFlow float64, cylinders int, speed float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("fuel flow", fuelFlow, "kg/s"),
		domain.Check("cylinders", float64(cylinders), 1, 64, ""),
		domain.CheckPositive("engine speed", speed, "rev/s"),
	); err != nil {
		return 0, err
	}
	return fuelFlow / (float64(cylinders) * speed / 2), nil
}
