package proof

import (
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/circuit"
	"plumbline/engine/physics/fluid"
	"plumbline/testdata/proofs"
)

const debianPython = "/usr/bin/python3"

// comparison is one row of the table: how to compute here what fluids gives
// under a name for two arguments.
type comparison struct {
	quantities []string
	model      string
	allowed    float64
	here       func(quantity string, a, b float64) (float64, error)
}

func comparisons() []comparison {
	factor := func(f func(re, relative float64) (float64, error)) func(string, float64, float64) (float64, error) {
		return func(_ string, re, relative float64) (float64, error) { return f(re, relative) }
	}
	return []comparison{
		{[]string{"churchill"}, rowChurchill, 1e-6, factor(fluid.FrictionFactorChurchill)},
		{[]string{"colebrook"}, rowColebrook, 1e-6, factor(fluid.Colebrook)},
		{[]string{"expansion"}, rowExpansion, 1e-6, func(_ string, small, large float64) (float64, error) {
			return fluid.SuddenExpansion(small, large, 1)
		}},
		{[]string{"contraction"}, rowContraction, 1e-6, factor(fluid.SuddenContraction)},
		{[]string{"two_k"}, rowTwoK, 1e-6, func(quantity string, re, bore float64) (float64, error) {
			fitting, err := fluid.FittingOf(strings.TrimPrefix(quantity, "two_k:"))
			if err != nil {
				return 0, err
			}
			return fitting.Coefficient.At(re, bore)
		}},
		{[]string{"air_temperature", "air_pressure", "air_density"}, rowAtmosphere, 1e-6, func(quantity string, altitude, _ float64) (float64, error) {
			state, err := air.StandardAtmosphere(altitude)
			return map[string]float64{"air_temperature": state.Temperature, "air_pressure": state.Pressure, "air_density": state.Density}[quantity], err
		}},
		// The library holds a table rounded to a tenth of a mil.
		{[]string{"awg_diameter"}, rowGauge, 0.005, func(_ string, gauge, _ float64) (float64, error) {
			return circuit.AWGDiameter(int(gauge))
		}},
	}
}

func TestAgainstFluids(t *testing.T) {
	if err := exec.Command(debianPython, "-c", "import fluids").Run(); err != nil {
		proofs.Lacking(t, "fluids", "the Python library is not installed for "+debianPython+" (Debian package python3-fluids)")
	}
	proofs.Ran(t, "fluids")
	output, err := exec.Command(debianPython, filepath.Join("testdata", "fluids", "reference.py")).Output()
	require.NoError(t, err)

	all := comparisons()
	tallies := make([]tally, len(all))
	for _, line := range strings.Split(strings.TrimSpace(string(output)), "\n") {
		cells := strings.Split(line, ",")
		require.Len(t, cells, 4, line)
		var x [3]float64
		for i := range x {
			x[i], err = strconv.ParseFloat(cells[i+1], 64)
			require.NoError(t, err, line)
		}
		quantity, _, _ := strings.Cut(cells[0], ":")
		found := false
		for i, c := range all {
			for _, name := range c.quantities {
				if name != quantity {
					continue
				}
				found = true
				here, err := c.here(cells[0], x[0], x[1])
				require.NoError(t, err, line)
				tallies[i].add(line, here, x[2], 0)
			}
		}
		require.True(t, found, "nothing here computes %q", line)
	}
	for i, c := range all {
		tallies[i].settle(t, c.model, "fluids", tallies[i].values/len(c.quantities), c.allowed)
	}
}
