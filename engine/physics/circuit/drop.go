package circuit

import (
	"plumbline/engine/physics/domain"
)

// ABYCResistivity is the K of the ABYC conductor size formula, 10.75 ohm circular mil per
// foot, in ohm m. It is copper at 29 degC.
const ABYCResistivity = 10.75 * CircularMil / foot

// Run is one conductor of a circuit: its length (m) and its copper temperature (K).
type Run struct {
	Conductor   Conductor
	Length      float64
	Temperature float64
}

// Resistance returns that of the run, in ohm.
func (r Run) Resistance() (float64, error) { return r.Conductor.Resistance(r.Length, r.Temperature) }

// Drop returns the voltage lost at a current (A, 0 to 100 kA) over a feed and a return, in
// V: I (Rfeed + Rreturn). A return through the body is a run of length 0 plus its own
// resistance elsewhere.
func Drop(amps float64, feed, back Run) (float64, error) {
	if err := checkAmps("current", amps); err != nil {
		return 0, err
	}
	out, err := feed.Resistance()
	if err != nil {
		return 0, err
	}
	home, err := back.Resistance()
	if err != nil {
		return 0, err
	}
	return amps * (out + home), nil
}

// ABYCArea returns the copper area (m2) that keeps the drop to a limit (V) at a current (A)
// over the whole length out and back (m):
//
//	CM = K I L / E    K = 10.75 ohm circular mil per foot
//
// Take the next larger size. Source: ABYC E-11.
func ABYCArea(amps, length, drop float64) (float64, error) {
	err := domain.First(checkLoadAmps("current", amps),
		domain.Check("length out and back", length, domain.Smallest, maxLength, "m"),
		domain.Check("allowed voltage drop", drop, 1e-6, maxVolts, "V"))
	if err != nil {
		return 0, err
	}
	return ABYCResistivity * amps * length / drop, nil
}

// StarterDropAllowance returns the drop allowed in a cable circuit at a cranking current
// (A), in V: 0.20 V for each 100 A. Source: Army TM 10-3930-671-24.
func StarterDropAllowance(amps float64) (float64, error) {
	if err := checkAmps("cranking current", amps); err != nil {
		return 0, err
	}
	return 0.20 * amps / 100, nil
}
