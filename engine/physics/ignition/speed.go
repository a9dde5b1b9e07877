package ignition

import (
	"plumbline/engine/physics/domain"
)

func checkEngine(speed float64, cylinders int) error {
	return domain.First(domain.Check("crankshaft speed", speed, 0.1, 500, "rev/s"),
		domain.Check("number of cylinders", float64(cylinders), 1, 24, ""))
}

// SparkInterval returns the time (s) between firings of an engine whose cylinders, or rotors, each fire
// charges times in a revolution: 1/2 in a four-stroke engine, 1 in a two-stroke or rotary one.
func SparkInterval(speed float64, cylinders int, charges float64) (float64, error) {
	if err := domain.First(checkEngine(speed, cylinders), domain.Check("charges in a revolution", charges, 0.5, 1, "")); err != nil {
		return 0, err
	}
	return 1 / (speed * float64(cylinders) * charges), nil
}
