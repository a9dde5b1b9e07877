package sensor_test

import (
	"fmt"

	"plumbline/engine/physics/sensor"
)

func Example() {
	curve, _ := sensor.BetaFromPoints(293.15, 2500, 353.15, 325)
	ohms, _ := sensor.DividerResistance(5, 2490, 1)
	kelvin, _ := curve.Temperature(ohms)
	fmt.Printf("%.1f K\n", kelvin)
	// Output: 331.5 K
}
