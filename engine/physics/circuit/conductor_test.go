package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
)

const mm2 = 1e-6

// value fails the test on an error, so that a table can be read in one line.
func value(t *testing.T) func(v float64, err error) float64 {
	return func(v float64, err error) float64 {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

// refused asserts that the error is a domain.RangeError and that it says a range.
func refused(t *testing.T, err error) {
	t.Helper()
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside)
	assert.Contains(t, err.Error(), "give a")
}

// Diameter, area and resistance of annealed copper: ASTM B258 (formula) and NBS Handbook 100
// (10.371 ohm circular mil/ft, 0.00393/K); ohm/1000 ft as printed in handbook copper tables.
func TestAWGTable(t *testing.T) {
	rows := []struct {
		gauge                                int
		mm, cmil, area, kilofoot, at20, at60 float64
	}{
		{-3, 11.684, 211600, 107.22, 0.04901, 0.1608, 0.1861},
		{-2, 10.405, 167806, 85.03, 0.06180, 0.2028, 0.2346},
		{-1, 9.266, 133077, 67.43, 0.07793, 0.2557, 0.2959},
		{0, 8.251, 105535, 53.48, 0.09827, 0.3224, 0.3731},
		{1, 7.348, 83693, 42.41, 0.1239, 0.4066, 0.4705},
		{2, 6.544, 66371, 33.63, 0.1563, 0.5127, 0.5932},
		{3, 5.827, 52635, 26.67, 0.1970, 0.6465, 0.7481},
		{4, 5.189, 41741, 21.15, 0.2485, 0.8152, 0.9433},
		{5, 4.621, 33102, 16.77, 0.3133, 1.028, 1.190},
		{6, 4.115, 26251, 13.30, 0.3951, 1.296, 1.500},
		{7, 3.665, 20818, 10.55, 0.4982, 1.634, 1.891},
		{8, 3.264, 16510, 8.366, 0.6282, 2.061, 2.385},
		{9, 2.906, 13093, 6.634, 0.7921, 2.599, 3.007},
		{10, 2.588, 10383, 5.261, 0.9988, 3.277, 3.792},
		{11, 2.305, 8234, 4.172, 1.260, 4.132, 4.782},
		{12, 2.053, 6530, 3.309, 1.588, 5.211, 6.030},
		{13, 1.828, 5178, 2.624, 2.003, 6.571, 7.604},
		{14, 1.628, 4107, 2.081, 2.525, 8.285, 9.588},
		{15, 1.450, 3257, 1.650, 3.184, 10.45, 12.09},
		{16, 1.291, 2583, 1.309, 4.016, 13.17, 15.25},
		{17, 1.150, 2048, 1.038, 5.063, 16.61, 19.22},
		{18, 1.024, 1624, 0.8230, 6.385, 20.95, 24.24},
		{19, 0.912, 1288, 0.6527, 8.051, 26.41, 30.57},
		{20, 0.812, 1022, 0.5176, 10.15, 33.31, 38.54},
		{21, 0.723, 810.1, 0.4105, 12.80, 42.00, 48.60},
		{22, 0.644, 642.4, 0.3255, 16.14, 52.96, 61.29},
		{23, 0.573, 509.5, 0.2582, 20.36, 66.78, 77.28},
		{24, 0.511, 404.0, 0.2047, 25.67, 84.21, 97.45},
	}
	for _, row := range rows {
		t.Run(fmt.Sprint(row.gauge, " AWG"), func(t *testing.T) {
			wire, err := AWGConductor(row.gauge)
			require.NoError(t, err)
			assert.InEpsilon(t, row.mm*1e-3, value(t)(AWGDiameter(row.gauge)), 1e-3)
			assert.InEpsilon(t, row.area*mm2, wire.Area, 1e-3)
			assert.InEpsilon(t, row.cmil, wire.Area/CircularMil, 1e-3)
			assert.InEpsilon(t, row.at20*1e-3, wire.PerMetre, 1e-3)
			assert.InEpsilon(t, row.kilofoot, value(t)(wire.Resistance(1000*foot, CelsiusToKelvin(20))), 1e-3)
			assert.InEpsilon(t, row.at60*1e-3, value(t)(wire.Resistance(1, CelsiusToKelvin(60))), 1e-3)
		})
	}
}

func TestCopperConstants(t *testing.T) {
	// NBS Handbook 100: 10.371 ohm circular mil/ft is 0.017241 ohm mm2/m.
	assert.InEpsilon(t, 10.371*CircularMil/foot, CopperResistivity, 1e-4)
	assert.InEpsilon(t, 0.017241*mm2, CopperResistivity, 1e-4)
	// NBS Handbook 100: 14 AWG at 60 degC is 1.1572 times its value at 20 degC.
	assert.InEpsilon(t, 1.1572, value(t)(TemperatureFactor(CelsiusToKelvin(60))), 1e-4)
	// FAA AC 43.13-1B chapter 11: (234.5 + T)/254.5 is the same law within 0.01 percent at 60 degC.
	assert.InEpsilon(t, (234.5+60)/254.5, value(t)(TemperatureFactor(CelsiusToKelvin(60))), 1e-4)
}

// IEC 60228 class 5, maximum resistance at 20 degC, ohm/km, plain and tinned.
func TestClassFive(t *testing.T) {
	size := []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120}
	plain := []float64{39.0, 26.0, 19.5, 13.3, 7.98, 4.95, 3.30, 1.91, 1.21, 0.780, 0.554, 0.386, 0.272, 0.206, 0.161}
	tinned := []float64{40.1, 26.7, 20.0, 13.7, 8.21, 5.09, 3.39, 1.95, 1.24, 0.795, 0.565, 0.393, 0.277, 0.210, 0.164}
	for i := range size {
		bare, err := ClassFiveConductor(size[i]*mm2, Plain)
		require.NoError(t, err)
		coated, err := ClassFiveConductor(size[i]*mm2, Tinned)
		require.NoError(t, err)
		assert.InEpsilon(t, plain[i]*1e-3, bare.PerMetre, 1e-12)
		assert.InEpsilon(t, tinned[i]*1e-3, coated.PerMetre, 1e-12)
		// A maximum lies above what annealed copper of the nominal area has, by up to a fifth.
		assert.Greater(t, bare.PerMetre, CopperResistivity/bare.Area)
		assert.Less(t, bare.PerMetre, 1.2*CopperResistivity/bare.Area)
	}
	_, err := ClassFiveConductor(0.34*mm2, Tinned)
	assert.ErrorContains(t, err, "0.5, 0.75, 1")
	_, err = ClassFiveConductor(3*mm2, Plain)
	assert.ErrorContains(t, err, "give one of")
}

func TestConductorOfAreaChoosesItsBasis(t *testing.T) {
	fourteen := value(t)(AWGArea(14))
	for _, c := range []struct {
		name  string
		area  float64
		basis Basis
	}{
		{"2.5 mm2 is a class 5 size", 2.5 * mm2, BasisClassFive},
		{"0.34 mm2 is a class 5 size", 0.34 * mm2, BasisClassFive},
		{"14 AWG is an AWG size", fourteen, BasisAWG},
		{"12 AWG printed as 3.309 mm2", 3.309 * mm2, BasisAWG},
		{"3 mm2 is neither", 3 * mm2, BasisArea},
	} {
		t.Run(c.name, func(t *testing.T) {
			wire, err := ConductorOfArea(c.area)
			require.NoError(t, err)
			assert.Equal(t, c.basis, wire.Basis)
			assert.InEpsilon(t, c.area, wire.Area, 1e-3)
		})
	}
}

func TestConductorRefusals(t *testing.T) {
	wire, err := AWGConductor(14)
	require.NoError(t, err)
	for name, call := range map[string]func() (float64, error){
		"gauge 41":             func() (float64, error) { return AWGDiameter(41) },
		"gauge 5/0":            func() (float64, error) { return AWGArea(-4) },
		"celsius for kelvin":   func() (float64, error) { return wire.Resistance(1, 60) },
		"not a number":         func() (float64, error) { return wire.Resistance(math.NaN(), 293.15) },
		"negative length":      func() (float64, error) { return wire.Resistance(-1, 293.15) },
		"infinite temperature": func() (float64, error) { return TemperatureFactor(math.Inf(1)) },
		"zero conductor":       func() (float64, error) { return Conductor{}.Resistance(1, 293.15) },
	} {
		t.Run(name, func(t *testing.T) {
			_, err := call()
			refused(t, err)
		})
	}
	_, err = AreaConductor(2.5) // mm2 for m2
	refused(t, err)
}

// ASTM B566 class 10A: 62.9 percent of copper's conductivity, as a maker's sheet prints it; 0.017241 / 0.629 = 0.02741 ohm mm2/m.
// NFPA 70 table 310.16, 90 degC columns (from memory): copper against copper-clad aluminium 25/20, 30/25, 40/35, 55/45 A from 14 to 8 AWG.
func TestCladAluminium(t *testing.T) {
	wire, err := AreaConductor(1 * mm2)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.02741, wire.Clad().PerMetre, 1e-3)
	for _, pair := range [][2]float64{{25, 20}, {30, 25}, {40, 35}, {55, 45}} {
		assert.InEpsilon(t, pair[1]/pair[0], CladFactor(), 0.1)
	}
}
