package schema

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// benchDesign is a design of about 300 lines.
func benchDesign() []byte {
	var b strings.Builder
	b.WriteString(small[:strings.Index(small, "circuits:")])
	b.WriteString("circuits:\n")
	for i := range 22 {
		fmt.Fprintf(&b, `  - name: circuit %d
    purpose: fuel_pump
    source: battery_post
    fuse: {rating: 15 A, kind: blade}
    relay: none
    feed_wires:
      - size: 12 AWG
        length: 14 ft 6 in
        joints: none
      - {size: 2.5 mm2, length: 300 mm}
    returns_to: chassis
    load:
      current: 8 A
`, i)
	}
	return []byte(b.String())
}

func TestBenchDesignLoads(t *testing.T) {
	_, err := Load("bench.yaml", benchDesign())
	require.NoError(t, err)
	require.InDelta(t, 300, strings.Count(string(benchDesign()), "\n"), 20)
}

func BenchmarkLoad(b *testing.B) {
	data := benchDesign()
	for b.Loop() {
		if _, err := Load("bench.yaml", data); err != nil {
			b.Fatal(err)
		}
	}
}
