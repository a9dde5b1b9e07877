package quantity

import (
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/testdata/proofs"
)

// Printed conversion factors. SP 811 is NIST Special Publication 811 (2008), App. B, from memory, printed to seven figures;
// "by definition" marks what follows from a definition alone.
func TestUnitsAgreeWithPrintedFactors(t *testing.T) {
	for _, c := range []struct {
		text   string
		want   Dimension
		si     float64
		tol    float64 // relative
		source string
	}{
		{"1 psi", DimPressure, 6894.757, 5e-7, "SP 811"},
		{"1 inHg", DimPressure, 3386.389, 5e-7, "SP 811, conventional"},
		{"1 inH2O", DimPressure, 249.0889, 5e-7, "SP 811, conventional"},
		{"1 mmHg", DimPressure, 133.3224, 1e-6, "SP 811, conventional"},
		{"1 mmH2O", DimPressure, 9.80665, 1e-12, "SP 811, conventional"},
		{"1 kg/cm2", DimPressure, 98066.5, 1e-12, "SP 811"},
		{"1 atm", DimPressure, 101325, 1e-12, "SP 811"},
		{"14.695949 psia", DimAbsolutePressure, 101325, 5e-7, "one atmosphere, by definition"},
		{"29.92126 inHg", DimAbsolutePressure, 101325, 1e-6, "standard atmosphere in inHg, from memory"},
		{"1 gal", DimVolume, 3.785412e-3, 5e-7, "SP 811"},
		{"1 qt", DimVolume, 9.463529e-4, 5e-7, "SP 811"},
		{"1 imp gal", DimVolume, 4.54609e-3, 1e-12, "SP 811"},
		{"1 cu in", DimVolume, 1.638706e-5, 1e-6, "SP 811"},
		{"1 ft3", DimVolume, 2.831685e-2, 5e-7, "SP 811"},
		{"1 lb", DimMass, 0.45359237, 1e-15, "SP 811"},
		{"1 oz", DimMass, 2.834952e-2, 5e-7, "SP 811"},
		{"1 lbf", DimForce, 4.448222, 5e-7, "SP 811"},
		{"1 lbf ft", DimTorque, 1.355818, 1e-6, "SP 811"},
		{"1 lbf in", DimTorque, 0.1129848, 1e-6, "SP 811"},
		{"1 lb/h", DimMassFlow, 1.259979e-4, 5e-7, "SP 811"},
		{"1 lb/min", DimMassFlow, 7.559873e-3, 5e-7, "SP 811"},
		{"1 cfm", DimFlow, 4.719474e-4, 5e-7, "SP 811"},
		{"1 gal/min", DimFlow, 6.309020e-5, 5e-7, "SP 811"},
		{"1 lb/gal", DimDensity, 119.8264, 5e-7, "SP 811"},
		{"1 lb/ft3", DimDensity, 16.01846, 5e-7, "SP 811"},
		{"1 hp", DimPower, 745.6999, 5e-7, "SP 811, 550 ft lbf/s"},
		{"1 metric hp", DimPower, 735.4988, 5e-7, "SP 811"},
		{"1 BTU", DimEnergy, 1055.056, 1e-6, "SP 811, International Table"},
		{"1 BTU/lb", DimHeatingValue, 2326, 1e-15, "SP 811"},
		{"1 lb/(hp h)", DimSpecificConsumption, 1.689659e-7, 1e-6, "SP 811"},
		{"1 mph", DimVelocity, 0.44704, 1e-15, "SP 811"},
		{"32 degF", DimTemperature, 273.15, 1e-15, "ice point, by definition"},
		{"212 degF", DimTemperature, 373.15, 1e-15, "by definition"},
		{"-40 degF", DimTemperature, 233.15, 1e-15, "the scales cross at -40"},
		{"18 degF", DimTemperatureDifference, 10, 1e-15, "by definition"},
		{"1 rpm", DimRotationalSpeed, 0.1047198, 1e-6, "SP 811"},
		{"180 deg", DimAngle, math.Pi, 1e-16, "by definition"},
		{"1 cmil", DimWireSize, 5.067075e-10, 5e-7, "SP 811"},
		{"1 Ah", DimCharge, 3600, 0, "by definition"},
		{"1 ohm/1000 ft", DimResistancePerLength, 3.280840e-3, 5e-7, "by definition of the foot"},
		{"1 year", DimTime, 31557600, 0, "Julian year"},
		{"12 months", DimTime, 31557600, 0, "Julian year"},
		{"1 cSt", DimKinematicViscosity, 1e-6, 0, "SP 811"},
		{"1 g", DimAcceleration, 9.80665, 0, "SP 811"},
	} {
		v, err := Parse(c.text, c.want)
		if assert.NoError(t, err, c.text) {
			assert.LessOrEqual(t, math.Abs(v.SI()-c.si), c.tol*math.Abs(c.si), "%s = %.9g, %s gives %.9g", c.text, v.SI(), c.source, c.si)
		}
	}
}

// siExpression is each dimension's SI unit as GNU units writes it.
func siExpression(d Dimension) string {
	return map[Dimension]string{
		DimLength: "m", DimArea: "m^2", DimVolume: "m^3", DimMass: "kg", DimTime: "s", DimVelocity: "m/s", DimAcceleration: "m/s^2",
		DimForce: "N", DimTorque: "N m", DimFlow: "m^3/s", DimMassFlow: "kg/s", DimDensity: "kg/m^3", DimKinematicViscosity: "m^2/s",
		DimPressure: "Pa", DimAbsolutePressure: "Pa", DimTemperature: "K", DimTemperatureDifference: "K", DimAngle: "radian",
		DimRotationalSpeed: "radian/s", DimFrequency: "Hz", DimVoltage: "V", DimCurrent: "A", DimResistance: "ohm",
		DimResistancePerLength: "ohm/m", DimInductance: "H", DimCapacitance: "F", DimCharge: "C", DimEnergy: "J", DimPower: "W",
		DimSpecificConsumption: "kg/J", DimShare: "1", DimRatio: "1", DimWireSize: "m^2", DimHeatingValue: "J/kg",
	}[d]
}

func gnuUnits(t *testing.T, have, want string) float64 {
	t.Helper()
	out, err := exec.Command("units", "-t", "-o", "%.15g", have, want).CombinedOutput()
	require.NoError(t, err, "%s to %s: %s", have, want, out)
	n, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	require.NoError(t, err, "%s to %s: %s", have, want, out)
	return n
}

// GNU units knows the units from sources of its own; every unit with an expression is compared.
func TestEveryUnitAgreesWithGNUUnits(t *testing.T) {
	proofs.Program(t, "units", "GNU units, Debian package units")
	proofs.Ran(t, "GNU units")
	compared := 0
	for _, u := range Units() {
		if u.GNU == "" {
			assert.NotNil(t, u.toSI, "%s has a factor but no GNU expression", u.CEL)
			continue
		}
		for _, n := range []float64{1, 37.5} {
			have := "(" + strconv.FormatFloat(n, 'g', -1, 64) + ") (" + u.GNU + ")"
			if strings.HasPrefix(u.GNU, "temp") {
				have = u.GNU + "(" + strconv.FormatFloat(n, 'g', -1, 64) + ")"
			}
			v, err := u.Value(n)
			require.NoError(t, err, u.CEL)
			assert.InEpsilon(t, gnuUnits(t, have, siExpression(u.Dimension)), v.SI(), 1e-12, "%s (%s)", u.CEL, u.GNU)
		}
		compared++
	}
	assert.Greater(t, compared, 120)
}

func TestAWGAgreesWithGNUUnits(t *testing.T) {
	proofs.Program(t, "units", "GNU units, Debian package units")
	proofs.Ran(t, "GNU units")
	for n := awgLargest; n <= awgSmallest; n++ {
		area, err := awgArea(float64(n))
		require.NoError(t, err)
		assert.InEpsilon(t, gnuUnits(t, "1|4 pi awg("+strconv.Itoa(n)+")^2", "m^2"), area, 1e-12, "AWG %d", n)
	}
}

func TestUnitTableIsSound(t *testing.T) {
	reserved := " as break const continue else false for function if import in let loop package namespace null return true var void while "
	seen := map[string]bool{}
	for _, u := range Units() {
		assert.Regexp(t, `^[A-Za-z][A-Za-z0-9_]*$`, u.CEL)
		assert.NotContains(t, reserved, " "+u.CEL+" ", "a word CEL reserves")
		assert.False(t, seen[u.CEL], "%s twice", u.CEL)
		seen[u.CEL] = true
		assert.NotEmpty(t, u.Doc, u.CEL)
		assert.True(t, u.Dimension.Valid(), u.CEL)
		back, ok := UnitByCEL(u.CEL)
		assert.True(t, ok)
		assert.Equal(t, u.Symbol, back.Symbol)
	}
	_, ok := UnitByCEL("furlong")
	assert.False(t, ok)
}

// Every spelling of every unit reads back as that unit where its dimension is wanted.
func TestEverySpellingParses(t *testing.T) {
	for _, u := range Units() {
		for _, s := range u.spellings() {
			want, err := u.Value(12)
			require.NoError(t, err)
			text := "12 " + s
			if s == ":1" {
				text = "12:1"
			}
			got, err := Parse(text, u.Dimension)
			if assert.NoError(t, err, text) {
				assert.Equal(t, want, got, text)
			}
			n, err := got.In(s)
			require.NoError(t, err, text)
			assert.InEpsilon(t, 12, n, 1e-12, text)
		}
	}
}

func TestUnitValueRefusesWhatIsNoNumber(t *testing.T) {
	psi, ok := UnitByCEL("psi")
	require.True(t, ok)
	for _, n := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64} {
		_, err := psi.Value(n)
		assert.Error(t, err, "%v", n)
	}
	awg, _ := UnitByCEL("AWG")
	for _, n := range []float64{math.NaN(), 12.5, 41, -4} {
		_, err := awg.Value(n)
		assert.Error(t, err, "%v", n)
	}
	v, err := psi.Value(0.1)
	require.NoError(t, err)
	parsed, err := Parse("0.1 psi", DimPressure)
	require.NoError(t, err)
	assert.Equal(t, parsed, v, "a float argument and the printed text are one value")
}
