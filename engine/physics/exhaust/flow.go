package exhaust

import (
	"math"

	"plumbline/engine/physics/domain"
)

// GasConstant is that of burned gas, J/(kg K), taken as dry air's; burned
// stoichiometric gasoline is about 286.
const GasConstant = 287.05

func checkGas(kelvin, pressure float64) error {
	return domain.First(
		domain.Check("exhaust temperature", kelvin, 250, 1600, "K"),
		domain.CheckPositive("exhaust pressure", pressure, "Pa"),
	)
}

// MassFlow returns the exhaust, kg/s, of an air flow in kg/s at an air-fuel mass
// ratio: m = air (1 + 1/AFR). Domain: air >= 0, 1 <= AFR <= 60. Source: mass
// balance.
func MassFlow(air, airFuel float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("air mass flow", air, "kg/s"),
		domain.Check("air-fuel ratio", airFuel, 1, 60, "1"),
	); err != nil {
		return 0, err
	}
	return air * (1 + 1/airFuel), nil
}

// VolumeFlow returns the exhaust, m3/s, of a mass flow in kg/s at its temperature
// in K and pressure in Pa absolute: Q = m R T/p. Domain: m >= 0, 250 to 1600 K, p
// > 0. Source: ideal gas.
func VolumeFlow(massFlow, kelvin, pressure float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("exhaust mass flow", massFlow, "kg/s"),
		checkGas(kelvin, pressure),
	); err != nil {
		return 0, err
	}
	return massFlow * GasConstant * kelvin / pressure, nil
}

// PipeVolume returns the volume, m3, of a round pipe of a bore and length in m.
// Domain: bore > 0, length >= 0. Source: geometry.
func PipeVolume(bore, length float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("pipe bore", bore, "m"),
		domain.CheckNotNegative("pipe length", length, "m"),
	); err != nil {
		return 0, err
	}
	return math.Pi / 4 * bore * bore * length, nil
}

// TransportDelay returns the time, s, gas takes through a volume in m3 at a flow
// in m3/s: V/Q, as a plug without mixing. Domain: V >= 0, Q > 0. Source:
// continuity.
func TransportDelay(volume, flow float64) (float64, error) {
	if err := domain.First(
		domain.CheckNotNegative("volume from port to sensor", volume, "m3"),
		domain.CheckPositive("exhaust flow", flow, "m3/s"),
	); err != nil {
		return 0, err
	}
	return volume / flow, nil
}
