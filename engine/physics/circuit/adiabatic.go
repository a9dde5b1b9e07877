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

// AdiabaticArea returns the least copper area (m2) for a fault current (A) that lasts a time
// (s, up to 5): S = I sqrt(t) / k. Longer faults lose heat and need another method.
// Source: IEC 60364-5-54 clause 543.1.2.
func AdiabaticArea(fault, duration, k float64) (float64, error) {
	err := domain.First(checkAmps("fault current", fault),
		domain.Check("fault duration", duration, 0, longestAdiabatic, "s"),
		domain.Check("adiabatic k", k, 1e6, 1e9, "A s^0.5/m2"))
	if err != nil {
		return 0, err
	}
	return fault * math.Sqrt(duration) / k, nil
}

// AdiabaticTime returns how long a conductor of an area (m2) takes a fault current (A) before its
// insulation reaches the end temperature of k, in s: (k S / I)^2. Above 5 s the answer is refused as
// outside the method.
func AdiabaticTime(fault, area, k float64) (float64, error) {
	limit, err := AdiabaticLimit(k, area)
	if err != nil {
		return 0, err
	}
	least := math.Sqrt(limit / longestAdiabatic)
	if err := domain.Check("fault current for the adiabatic method (5 s at most)", fault, least, maxAmps, "A"); err != nil {
		return 0, err
	}
	return limit / (fault * fault), nil
}

// OnderdonkMeltingCurrent returns the current (A) that melts a bare copper conductor of an area
// (m2) in a time (s, up to 10) from an ambient temperature (K):
//
//	33 (I/A)^2 t = log10((1083 - Ta)/(234 + Ta) + 1)    A in circular mil, Ta in degC
//
// For reference only. Copper melts at 1083 degC, long after every insulation has burned: never size a
// wire or a fuse by it, use AdiabaticK. The denominator is 234 plus ambient; copies with a minus are
// wrong. Source: Onderdonk's equation, its sign as in the ICEA short-circuit formula.
func OnderdonkMeltingCurrent(area, duration, ambient float64) (float64, error) {
	err := domain.First(checkArea("conductor area", area),
		domain.Check("melting time", duration, 1e-3, 10, "s"),
		domain.Check("ambient temperature", ambient, lowestConductor, highestConductor, "K"))
	if err != nil {
		return 0, err
	}
	ta := ambient - zeroCelsius
	return area / CircularMil * math.Sqrt(math.Log10((1083-ta)/(234+ta)+1)/(33*duration)), nil
}
