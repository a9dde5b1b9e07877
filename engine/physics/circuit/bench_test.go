package circuit

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkHarness solves a harness of 30 loads, each with a fuse, a feed and a return.
func BenchmarkHarness(b *testing.B) {
	elements := []Element{Battery("battery", "plus", "0", 12.6, 0.01), RegulatedSource("alternator", "plus", "0", 14.2, 0.01, 60), Resistor("strap", "body", "0", 0.002)}
	for i := 0; i < 30; i++ {
		n := func(s string) string { return fmt.Sprint(s, " ", i) }
		elements = append(elements, Resistor(n("fuse"), "plus", n("fused"), 0.005), Resistor(n("feed"), n("fused"), n("hot"), 0.03), Resistor(n("return"), n("cold"), "body", 0.02))
		if i%2 == 0 {
			elements = append(elements, ConstantPowerLoad(n("load"), n("hot"), n("cold"), 20, 6))
		} else {
			elements = append(elements, AffineMotor(n("load"), n("hot"), n("cold"), 12, 2, 0.1, 6, 16))
		}
	}
	net, err := NewNetwork("0", elements...)
	require.NoError(b, err)
	for b.Loop() {
		if _, err := net.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
