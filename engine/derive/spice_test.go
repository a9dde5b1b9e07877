package derive

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/testdata/builds"

	"plumbline/testdata/proofs"
)

// Tolerances against the whole vehicle in ngspice, as shares of a voltage. The posts are worked out before the circuits, so what
// wires lose does not change what loads draw there; while cranking only the starter bends the battery's voltage.
const (
	runningTolerance  = 0.0005
	limitedTolerance  = 0.002
	crankingTolerance = 0.025
)

// Joints, fuses, relay contacts, wires and grounds, the battery in the cold, the alternator at its limit and the converter, as one
// network that ngspice solves, against the values of the design.
func TestVehiclesAgainstNgspice(t *testing.T) {
	tool := proofs.Program(t, "ngspice", "Debian package ngspice")
	proofs.Ran(t, "ngspice")
	for _, name := range []string{"demo/six-return", "demo/van-v6-in-tank", "good/big-v8-surge-tank", "good/carrier-24-volt", "good/rear-flat-four", "good/truck-arctic"} {
		for _, change := range [][2]string{{"", ""}, {"climate.cold_ambient", "-27 degC"}, {"alternator.idle_output", "14 A"}, {"battery.rest_voltage", "12.25 V"}} {
			if change[0] == "battery.rest_voltage" && strings.Contains(name, "24") {
				continue
			}
			t.Run(name+" "+change[0], func(t *testing.T) {
				d := vehicle(t, name)
				if change[0] != "" {
					other, err := d.Instead("design."+change[0], change[1])
					require.NoError(t, err)
					d = other
				}
				limited := 0
				for _, p := range Points() {
					limited += againstNgspice(t, tool, d, p)
				}
				if change[0] == "alternator.idle_output" {
					assert.Positive(t, limited, "14 A must be too little")
				}
			})
		}
	}
}

// vehicle is a design of the designs folder.
func vehicle(t *testing.T, name string) *schema.Design {
	return builds.Design(t, "../../designs/"+name+".yaml")
}

// againstNgspice compares one operating point, and returns 1 where the alternator is at its limit.
func againstNgspice(t *testing.T, tool string, d *schema.Design, p Point) int {
	s := NewSession(d, Options{})
	pump := s.At(p, "pump_current")
	if !pump.Known() {
		t.Logf("%s: %s %v", p, pump.Reason, pump.Missing)
		return 0
	}
	list := newNetlist(d, p, pump.quantity.SI(), false)
	printed := ngspice(t, tool, list)
	if -printed["i(valternator)"] > list.output {
		list = newNetlist(d, p, pump.quantity.SI(), true)
		printed = ngspice(t, tool, list)
	}
	posts := number(t, s.At(p, "battery_voltage"))
	tolerance, limited := runningTolerance, 0
	switch {
	case p == Cranking:
		tolerance = crankingTolerance
	case list.limited:
		tolerance, limited = limitedTolerance, 1
	}
	assert.InEpsilon(t, printed["v(posts)"], posts, tolerance, "%s, battery posts", p)
	for i := range d.Circuits.Items {
		ct := &d.Circuits.Items[i]
		there, runs := printed[list.loads[i]]
		require.Equal(t, list.loads[i] != "", runs, "%s", list.loads[i])
		if runs {
			assert.InEpsilon(t, there, number(t, s.On(ct, p, "load_voltage")), tolerance, "%s, %s", p, circuitName(ct))
		}
	}
	return limited
}

// ngspice solves a netlist and returns what it prints.
func ngspice(t *testing.T, tool string, list *netlist) map[string]float64 {
	text := list.text.String()
	path := filepath.Join(t.TempDir(), list.point.String()+".cir")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	output, err := exec.Command(tool, "-b", path).CombinedOutput()
	require.NoError(t, err, "%s\n%s", output, text)
	printed := map[string]float64{}
	for _, line := range strings.Split(string(output), "\n") {
		if name, value, found := strings.Cut(line, " = "); found {
			if x, err := strconv.ParseFloat(strings.TrimSpace(value), 64); err == nil {
				printed[strings.TrimSpace(name)] = x
			}
		}
	}
	require.Contains(t, printed, "v(posts)", "%s\n%s", output, text)
	return printed
}
