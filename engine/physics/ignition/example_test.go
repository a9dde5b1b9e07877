package ignition_test

import (
	"fmt"

	"plumbline/engine/physics/ignition"
)

func Example() {
	amps, err := ignition.CoilCurrent(12, 3, 8e-3, 2e-3)
	fmt.Printf("%.2f A %v\n", amps, err)
	// Output: 2.11 A <nil>
}
