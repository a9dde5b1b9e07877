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

// TerminalPitch returns the distributor angle between terminals (rad): 2 pi / cylinders.
func TerminalPitch(cylinders int) (float64, error) {
	if err := domain.Check("number of cylinders", float64(cylinders), 1, 24, ""); err != nil {
		return 0, err
	}
	return 2 * math.Pi / float64(cylinders), nil
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

// ArcLength returns the arc (m) an angle (rad, 0 to 2 pi) spans at a radius (m).
func ArcLength(radius, angle float64) (float64, error) {
	err := domain.First(domain.Check("radius", radius, 0, 10, "m"), domain.Check("angle", angle, 0, 2*math.Pi, "rad"))
	if err != nil {
		return 0, err
	}
	return radius * angle, nil
}

// WrongTerminalRatio returns the arc from the rotor to the next terminal over that to its own, at the
// worst misalignment (rad): (pitch - misalignment)/misalignment. It is refused at a misalignment of 0,
// where the ratio has no bound, and beyond half the pitch, where the next terminal is the nearer.
func WrongTerminalRatio(cylinders int, misalignment float64) (float64, error) {
	pitch, err := TerminalPitch(cylinders)
	if err != nil {
		return 0, err
	}
	if err := domain.Check("rotor misalignment", misalignment, 1e-6, pitch/2, "rad"); err != nil {
		return 0, err
	}
	return (pitch - misalignment) / misalignment, nil
}
