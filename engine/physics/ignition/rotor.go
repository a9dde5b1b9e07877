package ignition

import (
	"math"

	"plumbline/engine/physics/domain"
)

// Phasing is how a distributor rotor whose spark is timed elsewhere must stand.
type Phasing struct {
	Middle       float64 // crank angle of advance at which rotor and terminal must line up, rad
	Misalignment float64 // largest distributor angle between them over the range, rad
}

// RotorPhasing returns the phasing for the least and the most advance used (crank rad before top dead
// centre, -90 to 90 degrees, least <= most) and how often the distributor turns in a turn of the crank (0.5 on a
// four-stroke engine, 1 where every cylinder fires each turn; up to 2):
//
//	middle = (least + most)/2    misalignment = (most - least)/2 turns
//
// Source: geometry; the distributor turns once while every cylinder fires once.
func RotorPhasing(least, most, turns float64) (Phasing, error) {
	err := domain.First(domain.Check("most advance", most, -math.Pi/2, math.Pi/2, "rad"),
		domain.Check("least advance", least, -math.Pi/2, most, "rad"),
		domain.Check("distributor turns in a turn of the crank", turns, domain.Smallest, 2, ""))
	if err != nil {
		return Phasing{}, err
	}
	return Phasing{Middle: (least + most) / 2, Misalignment: (most - least) / 2 * turns}, nil
}

// OverlapLimit returns the misalignment (rad) up to which the faces of rotor and terminal still overlap:
// (rotor width + terminal width) / (2 radius), all in m.
func OverlapLimit(radius, rotorWidth, terminalWidth float64) (float64, error) {
	err := domain.First(domain.Check("rotor radius", radius, 1e-3, 0.5, "m"),
		domain.Check("rotor tip width", rotorWidth, 0, 2*radius, "m"),
		domain.Check("terminal width", terminalWidth, 0, 2*radius, "m"))
	if err != nil {
		return 0, err
	}
	return (rotorWidth + terminalWidth) / (2 * radius), nil
}
