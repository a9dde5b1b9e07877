package circuit

import "plumbline/engine/physics/domain"

// starterLoss is the share of its voltage that a starter loses in windings and brushes at its workshop current: its current
// at standstill is about four times that. Source: practice.
const starterLoss = 0.25

// CrankingSpeedShare returns the speed of a starter over that in the workshop, from the voltage at the battery (V, from 0) and
// the current (A) there and in the cold:
//
//	n/n0 = (V - I R) / (V0 - I0 R), R = V0 / (4 I0)
//
// A motor turns until its own voltage and the drop in its windings make up the supply; the field is taken as saturated, so
// that its own voltage goes with the speed. A starter that the cold holds fast gives nothing. Source: any text on direct
// current machines; the drop is practice.
func CrankingSpeedShare(workshopVolts, workshopAmps, coldVolts, coldAmps float64) (float64, error) {
	err := domain.First(domain.Check("battery voltage while cranking", coldVolts, 0, 100, "V"),
		domain.Check("workshop battery voltage while cranking", workshopVolts, 0, 100, "V"),
		checkAmps("starter current in the cold", coldAmps), checkAmps("starter current", workshopAmps))
	if err != nil {
		return 0, err
	}
	if workshopVolts == 0 || workshopAmps == 0 {
		return 0, nil
	}
	ohms := starterLoss * workshopVolts / workshopAmps
	return max(0, (coldVolts-coldAmps*ohms)/(workshopVolts*(1-starterLoss))), nil
}
