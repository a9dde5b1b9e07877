package sensor

import (
	"math"

	"plumbline/engine/physics/domain"
)

// HoseResonance returns the quarter-wave frequency (Hz) of a hose of a length (m, 10 mm to 10 m) closed by a
// sensor, at a speed of sound (m/s, 200 to 600): c / (4 L). End corrections are left out. Source: open-closed pipe.
func HoseResonance(length, sound float64) (float64, error) {
	err := domain.First(domain.Check("hose length", length, 0.01, 10, "m"),
		domain.Check("speed of sound", sound, 200, 600, "m/s"))
	if err != nil {
		return 0, err
	}
	return sound / (4 * length), nil
}

// HoseLag returns the time constant (s) with which pressure in a volume (m3) at the end of a narrow hose
// follows, for slow laminar flow:
//
//	tau = (8 mu L / (pi r^4)) V / p
//
// with dynamic viscosity mu (Pa s, 5e-6 to 5e-5), hose or restrictor length L (1 mm to 10 m) and radius r (0.05 to
// 20 mm), volume V (up to 10 L) and absolute pressure p (1 to 1000 kPa). Source: Hagen-Poiseuille law and the
// isothermal compliance V/p.
func HoseLag(viscosity, length, radius, volume, pressure float64) (float64, error) {
	err := domain.First(domain.Check("dynamic viscosity of the gas", viscosity, 5e-6, 5e-5, "Pa s"),
		domain.Check("hose length", length, 1e-3, 10, "m"),
		domain.Check("inside radius of the hose", radius, 5e-5, 0.02, "m"),
		domain.Check("volume at the end of the hose", volume, 0, 0.01, "m3"),
		domain.Check("absolute pressure", pressure, 1e3, 1e6, "Pa"))
	if err != nil {
		return 0, err
	}
	return 8 * viscosity * length / (math.Pi * math.Pow(radius, 4)) * volume / pressure, nil
}
