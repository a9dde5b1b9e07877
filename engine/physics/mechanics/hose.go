package mechanics

import (
	"math"

	"plumbline/engine/physics/domain"
)

const maxHose = 0.2 // m

// HoseOnSpigot is the outside diameter (m) of a hose of the given outside and
// bore (m) where it sits on a spigot (m): sqrt(outside^2 + spigot^2 - bore^2),
// as rubber keeps its volume and is taken not to shorten. A hose wider than the
// spigot is drawn down to it. Source: incompressibility; Poisson's ratio of
// rubber is near 0.5.
func HoseOnSpigot(outside, bore, spigot float64) (float64, error) {
	err := domain.First(domain.Check("outside of the hose", outside, 1e-3, maxHose, "m"),
		domain.Check("bore of the hose", bore, 1e-4, outside, "m"),
		domain.Check("outside of the spigot", spigot, 1e-4, maxHose, "m"))
	if err != nil {
		return 0, err
	}
	return math.Sqrt(outside*outside + spigot*spigot - bore*bore), nil
}
