package circuit

import (
	"fmt"

	"plumbline/engine/physics/domain"
)

// LoadKind is what a contact switches.
type LoadKind string

// The loads of FAA AC 43.13-1B table 11-4.
const (
	LampLoad      LoadKind = "lamp"
	InductiveLoad LoadKind = "inductive"
	ResistiveKind LoadKind = "resistive"
	MotorLoad     LoadKind = "motor"
)

// SystemVoltage is the nominal direct-current system of FAA AC 43.13-1B table 11-4.
type SystemVoltage int

// The systems of the table.
const (
	System12V SystemVoltage = 12
	System28V SystemVoltage = 28
)

// ContactFactor returns the factor by which the continuous current of a load is multiplied
// to find the nominal rating its switch or relay contact must have.
// Source: FAA AC 43.13-1B table 11-4.
func ContactFactor(system SystemVoltage, load LoadKind) (float64, error) {
	type factors struct{ lamp, inductive, resistive, motor float64 }
	var row factors
	switch system {
	case System12V:
		row = factors{5, 2, 1, 2}
	case System28V:
		row = factors{8, 4, 2, 3}
	default:
		return 0, fmt.Errorf("a %d V system is not in FAA AC 43.13-1B table 11-4: give 12 or 28", int(system))
	}
	switch load {
	case LampLoad:
		return row.lamp, nil
	case InductiveLoad:
		return row.inductive, nil
	case ResistiveKind:
		return row.resistive, nil
	case MotorLoad:
		return row.motor, nil
	}
	return 0, fmt.Errorf("load kind %q is not in FAA AC 43.13-1B table 11-4: give %s, %s, %s or %s",
		string(load), LampLoad, InductiveLoad, ResistiveKind, MotorLoad)
}

// ContactRating returns the nominal contact rating (A) a load of a continuous current (A)
// needs: the current times ContactFactor.
func ContactRating(amps float64, system SystemVoltage, load LoadKind) (float64, error) {
	factor, err := ContactFactor(system, load)
	if err != nil {
		return 0, err
	}
	if err := domain.Check("load current", amps, 0, maxAmps, "A"); err != nil {
		return 0, err
	}
	return amps * factor, nil
}
