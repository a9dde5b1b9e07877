package circuit

import (
	"math"

	"plumbline/engine/physics/domain"
)

const (
	highestShortCircuit = zeroCelsius + 500 // K
	longestAdiabatic    = 5.0               // s
)

// AdiabaticK returns the k of a copper conductor whose insulation starts at one temperature and
// may end at another (K), in A s^0.5 / m2:
//
//	k = 226 sqrt(ln((234.5 + Tf) / (234.5 + Ti)))    A s^0.5/mm2, T in degC
//
// for -100 degC <= Ti < Tf <= 500 degC. Source: IEC 60364-5-54 annex A.
func AdiabaticK(start, end float64) (float64, error) { return adiabaticK(226e6, 234.5, start, end) }

// AdiabaticAluminium is AdiabaticK of an aluminium conductor, and below that of a copper-clad one:
//
//	k = 148 sqrt(ln((228 + Tf) / (228 + Ti)))    A s^0.5/mm2, T in degC
//
// Source: IEC 60364-5-54 annex A.
func AdiabaticAluminium(start, end float64) (float64, error) {
	return adiabaticK(148e6, 228, start, end)
}

// adiabaticK is factor sqrt(ln((zero + Tf) / (zero + Ti))); zero is how far below 0 degC the resistance would vanish.
func adiabaticK(factor, zero, start, end float64) (float64, error) {
	err := domain.First(
		domain.Check("end temperature of the conductor", end, lowestConductor+1, highestShortCircuit, "K"),
		domain.Check("start temperature of the conductor", start, lowestConductor, end-1e-6, "K"))
	if err != nil {
		return 0, err
	}
	return factor * math.Sqrt(math.Log((zero+end-zeroCelsius)/(zero+start-zeroCelsius))), nil
}

// AdiabaticLimit returns the energy a conductor takes before its insulation reaches the end
// temperature of k, as I^2 t in A2 s: k^2 S^2, with k in A s^0.5/m2 (1e6 to 1e9) and area S in m2.
// Source: IEC 60364-4-43.
func AdiabaticLimit(k, area float64) (float64, error) {
	err := domain.First(domain.Check("adiabatic k", k, 1e6, 1e9, "A s^0.5/m2"), checkArea("conductor area", area))
	if err != nil {
		return 0, err
	}
	return k * k * area * area, nil
}
