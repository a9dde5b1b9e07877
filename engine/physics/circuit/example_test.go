package circuit_test

import (
	"fmt"

	"plumbline/engine/physics/circuit"
)

func Example() {
	wire, _ := circuit.AWGConductor(14)
	ohm, _ := wire.Resistance(5, circuit.CelsiusToKelvin(60))
	net, _ := circuit.NewNetwork("battery negative",
		circuit.Battery("battery", "battery positive", "battery negative", 12.6, 0.01),
		circuit.Resistor("feed", "battery positive", "pump", ohm),
		circuit.ConstantCurrentLoad("pump", "pump", "battery negative", 8, 6))
	state, _ := net.Solve()
	volts, _ := state.Voltage("pump")
	fmt.Printf("%.2f V\n", volts)
	// Output: 12.14 V
}
