package ignition

import (
	"math"

	"plumbline/engine/physics/domain"
)

func checkEngine(speed float64, cylinders int) error {
	return domain.First(domain.Check("crankshaft speed", speed, 0.1, 500, "rev/s"),
		domain.Check("number of cylinders", float64(cylinders), 1, 24, ""))
}

// TachFrequency returns the firings a second (Hz) of a four-stroke engine with one coil for all
// cylinders: n cylinders / 2, with the crankshaft speed n in rev/s (0.1 to 500).
func TachFrequency(speed float64, cylinders int) (float64, error) {
	if err := checkEngine(speed, cylinders); err != nil {
		return 0, err
	}
	return speed * float64(cylinders) / 2, nil
}

// FiringInterval returns 1 / TachFrequency, in s.
func FiringInterval(speed float64, cylinders int) (float64, error) {
	f, err := TachFrequency(speed, cylinders)
	if err != nil {
		return 0, err
	}
	return 1 / f, nil
}

// SparkInterval returns the time (s) between firings of an engine whose cylinders, or rotors, each fire
// charges times in a revolution: 1/2 in a four-stroke engine, 1 in a two-stroke or rotary one.
func SparkInterval(speed float64, cylinders int, charges float64) (float64, error) {
	if err := domain.First(checkEngine(speed, cylinders), domain.Check("charges in a revolution", charges, 0.5, 1, "")); err != nil {
		return 0, err
	}
	return 1 / (speed * float64(cylinders) * charges), nil
}

// DwellAvailable returns the time (s) the coil may be fed in each firing interval, for a share of the
// interval (0 to 1): points with 30 degrees of dwell in 45 have 30/45.
func DwellAvailable(speed float64, cylinders int, share float64) (float64, error) {
	interval, err := FiringInterval(speed, cylinders)
	if err != nil {
		return 0, err
	}
	if err := domain.Check("dwell as a share of the firing interval", share, 0, 1, ""); err != nil {
		return 0, err
	}
	return interval * share, nil
}

// DelayAngle returns the crank angle (rad) that passes in a signal delay (s, 0 to 1) at a crankshaft
// speed (rev/s): 2 pi n t. In degrees and rev/min it is 6 N t.
func DelayAngle(speed, delay float64) (float64, error) {
	err := domain.First(domain.Check("crankshaft speed", speed, 0, 500, "rev/s"),
		domain.Check("signal delay", delay, 0, 1, "s"))
	if err != nil {
		return 0, err
	}
	return 2 * math.Pi * speed * delay, nil
}
