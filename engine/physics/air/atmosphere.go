package air

import (
	"math"

	"plumbline/engine/physics/domain"
)

// Constants of the standard atmosphere. Source: US Standard Atmosphere 1976.
const (
	// GasConstant is that of dry air, J/(kg K): 8314.32 over 28.9644.
	GasConstant = 8314.32 / 28.9644
	// SeaLevelPressure is Pa, SeaLevelTemperature K.
	SeaLevelPressure    = 101325.0
	SeaLevelTemperature = 288.15

	gravity     = 9.80665
	lapse       = 0.0065
	earthRadius = 6356766.0
	heatRatio   = 1.4
)

// The altitudes, m, over which StandardAtmosphere is offered.
const (
	MinAltitude = -500
	MaxAltitude = 5000
)

// Atmosphere is the state of still air at an altitude.
type Atmosphere struct {
	Temperature float64 // K
	Pressure    float64 // Pa
	Density     float64 // kg/m3
}

// StandardAtmosphere returns the standard state at a geometric altitude in m:
//
//	H = r z/(r + z),  T = T0 - 0.0065 H,  p = p0 (T/T0)^(g/(R 0.0065)),  rho = p/(R T)
//
// Domain: -500 to 5000 m. Source: US Standard Atmosphere 1976.
func StandardAtmosphere(altitude float64) (Atmosphere, error) {
	if err := domain.Check("altitude", altitude, MinAltitude, MaxAltitude, "m"); err != nil {
		return Atmosphere{}, err
	}
	geopotential := earthRadius * altitude / (earthRadius + altitude)
	t := SeaLevelTemperature - lapse*geopotential
	p := SeaLevelPressure * math.Pow(t/SeaLevelTemperature, gravity/(GasConstant*lapse))
	return Atmosphere{Temperature: t, Pressure: p, Density: p / (GasConstant * t)}, nil
}

func checkGas(pressure, kelvin float64) error {
	return domain.First(
		domain.CheckPositive("absolute pressure", pressure, "Pa"),
		domain.Check("air temperature", kelvin, 200, 600, "K"),
	)
}

// Density returns p/(R T) of dry air, kg/m3, from Pa absolute and K. Domain: p >
// 0, 200 to 600 K. Source: ideal gas.
func Density(pressure, kelvin float64) (float64, error) {
	if err := checkGas(pressure, kelvin); err != nil {
		return 0, err
	}
	return pressure / (GasConstant * kelvin), nil
}

// maximumBoost is the highest boost reckoned with, Pa; road engines stay far below it.
const maximumBoost = 400e3

// ManifoldPressure returns the absolute pressure, Pa, from the barometer and a
// gauge vacuum, both Pa: p = baro - vacuum; boost is a negative vacuum. Domain:
// -400 kPa <= vacuum <= baro. Source: definition of gauge vacuum.
func ManifoldPressure(barometer, vacuum float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("barometer", barometer, "Pa"),
		domain.Check("manifold vacuum", vacuum, -maximumBoost, barometer, "Pa"),
	); err != nil {
		return 0, err
	}
	return barometer - vacuum, nil
}
