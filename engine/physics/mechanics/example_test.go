package mechanics_test

import (
	"fmt"

	"plumbline/engine/physics/mechanics"
)

func Example() {
	d, err := mechanics.BundleDiameter(mechanics.Wires{Count: 24, Diameter: 2e-3})
	fmt.Printf("%.1f mm %v\n", d*1e3, err)
	// Output: 11.8 mm <nil>
}
