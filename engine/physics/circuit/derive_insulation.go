package circuit

import "plumbline/engine/physics/domain"

// ShortCircuitEnd returns the temperature (K) the insulation of a wire may reach
// in a short circuit, by its class (K, 60 to 250 degC): 160 degC for
// thermoplastic, taken for classes below 125 degC, 250 degC for cross-linked, from
// 125 degC, and 350 degC for silicone rubber, from 180 degC (the last from memory).
// The end temperatures are those of IEC 60364-5-54 for such insulation; giving them to the classes of vehicle wire is a judgement.
func ShortCircuitEnd(rating float64) (float64, error) {
	if _, err := ratingColumn(rating); err != nil {
		return 0, err
	}
	switch {
	case rating >= zeroCelsius+180-ratingTolerance:
		return zeroCelsius + 350, nil
	case rating >= zeroCelsius+125-ratingTolerance:
		return zeroCelsius + 250, nil
	}
	return zeroCelsius + 160, nil
}

// ShortCircuitHeating returns the energy a fuse lets through, I^2 t (A2 s), over
// what a wire of an area (m2) and insulation class (K) takes from its class
// temperature: below 1 the insulation survives.
//
//	let-through / (k^2 S^2)
//
// k is that of AdiabaticK, or of AdiabaticAluminium for a conductor of copper-clad aluminium.
// Source: IEC 60364-4-43; end temperatures as ShortCircuitEnd.
func ShortCircuitHeating(letThrough, area, rating float64, clad bool) (float64, error) {
	if err := domain.CheckNotNegative("let-through energy", letThrough, "A2 s"); err != nil {
		return 0, err
	}
	end, err := ShortCircuitEnd(rating)
	if err != nil {
		return 0, err
	}
	metal := AdiabaticK
	if clad {
		metal = AdiabaticAluminium
	}
	k, err := metal(rating, end)
	if err != nil {
		return 0, err
	}
	limit, err := AdiabaticLimit(k, area)
	if err != nil {
		return 0, err
	}
	return letThrough / limit, nil
}
