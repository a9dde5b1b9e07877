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
