package fluid

import (
	"math"

	"plumbline/engine/physics/domain"
)

func checkSpeeds(from, to float64) error {
	return domain.First(
		domain.CheckPositive("speed before", from, "1/s"),
		domain.CheckPositive("speed after", to, "1/s"),
	)
}

// AffinityFlow returns the flow of a centrifugal or turbine pump at another
// speed: Q2 = Q1 N2/N1, in the unit of Q1. Speeds in any one unit, > 0. Source:
// affinity laws; Crane TP-410, example 7.33.
func AffinityFlow(flow, from, to float64) (float64, error) {
	if err := domain.First(checkSpeeds(from, to), domain.CheckNotNegative("flow", flow, "m3/s")); err != nil {
		return 0, err
	}
	return flow * to / from, nil
}

// AffinityHead returns the head or pressure at another speed: H2 = H1
// (N2/N1)^2. Domain and source as AffinityFlow.
func AffinityHead(head, from, to float64) (float64, error) {
	if err := domain.First(checkSpeeds(from, to), domain.CheckNotNegative("head", head, "m")); err != nil {
		return 0, err
	}
	return head * math.Pow(to/from, 2), nil
}

// AffinityPower returns the shaft power at another speed: P2 = P1 (N2/N1)^3.
// Domain and source as AffinityFlow.
func AffinityPower(power, from, to float64) (float64, error) {
	if err := domain.First(checkSpeeds(from, to), domain.CheckNotNegative("power", power, "W")); err != nil {
		return 0, err
	}
	return power * math.Pow(to/from, 3), nil
}

// AffinitySpeed returns the speed at which the pump makes another head: N2 = N1
// sqrt(H2/H1). Domain as AffinityFlow, heads > 0. Source: affinity laws;
// Schaschke, Fluid Mechanics, problem 9.10.
func AffinitySpeed(speed, fromHead, toHead float64) (float64, error) {
	if err := domain.First(
		domain.CheckPositive("speed", speed, "1/s"),
		domain.CheckPositive("head before", fromHead, "m"),
		domain.CheckPositive("head after", toHead, "m"),
	); err != nil {
		return 0, err
	}
	return speed * math.Sqrt(toHead/fromHead), nil
}
