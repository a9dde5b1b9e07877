package quantity

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Diameters in mils (rounded to 0.1) and areas in mm2 worked out from the ASTM B258 formula, not copied from its
// printed table. The check from outside is TestAWGAgreesWithGNUUnits.
func TestAWGFollowsTheFormulaOfASTMB258(t *testing.T) {
	for _, c := range []struct {
		text     string
		mil, mm2 float64
	}{
		{"4/0 AWG", 460.0, 107.22}, {"000 AWG", 409.6, 85.03}, {"2/0 AWG", 364.8, 67.43}, {"0 AWG", 324.9, 53.48}, {"1 AWG", 289.3, 42.41},
		{"2 AWG", 257.6, 33.63}, {"4 AWG", 204.3, 21.15}, {"6 AWG", 162.0, 13.30}, {"8 AWG", 128.5, 8.366}, {"10 AWG", 101.9, 5.261},
		{"12 AWG", 80.8, 3.309}, {"14 AWG", 64.1, 2.081}, {"16 AWG", 50.8, 1.309}, {"18 AWG", 40.3, 0.8230}, {"20 AWG", 32.0, 0.5176},
		{"22 AWG", 25.3, 0.3255}, {"24 AWG", 20.1, 0.2047},
	} {
		v, err := Parse(c.text, DimWireSize)
		require.NoError(t, err, c.text)
		mm2, err := v.In("mm2")
		require.NoError(t, err)
		assert.InEpsilon(t, c.mm2, mm2, 1e-3, c.text)
		cmil, err := v.In("cmil")
		require.NoError(t, err)
		assert.InEpsilon(t, c.mil*c.mil, cmil, 5e-3, c.text)
	}
}

// The mm2 follow from the same circular-mil list, so this checks the conversion and the order, not the list.
func TestSAESizesAreSmallerThanAWG(t *testing.T) {
	for text, mm2 := range map[string]float64{
		"18 SAE": 0.779, "16 SAE": 1.184, "14 SAE": 1.876, "12 SAE": 2.956, "10 SAE": 4.734, "6 SAE": 12.43, "2 SAE": 31.64, "SAE 1/0": 50.15, "4/0 SAE": 104.1,
	} {
		v, err := Parse(text, DimWireSize)
		require.NoError(t, err, text)
		assert.InEpsilon(t, mm2, v.SI()*1e6, 1e-3, text)
	}
	for _, s := range saeSizes() {
		sae, _ := saeArea(s.number)
		awg, err := awgArea(s.number)
		require.NoError(t, err)
		assert.Less(t, sae, awg, "size %v", s.number)
		n, err := saeNumber(sae)
		require.NoError(t, err)
		assert.Equal(t, s.number, n)
	}
	_, err := saeNumber(3e-6)
	assert.ErrorContains(t, err, "use mm2")
}

func TestWireSizesAreReadAsPrinted(t *testing.T) {
	same := func(want string, others ...string) {
		v, err := Parse(want, DimWireSize)
		require.NoError(t, err, want)
		for _, o := range others {
			w, err := Parse(o, DimWireSize)
			if assert.NoError(t, err, o) {
				assert.Equal(t, v, w, o)
			}
		}
	}
	same("12 AWG", "12AWG", "AWG 12", "awg12", "#12 AWG", "AWG-12", "12 AWG gauge", " 12\u00a0AWG ")
	same("1/0 AWG", "0 AWG", "AWG 1/0", "1/0AWG")
	same("4/0 AWG", "0000 AWG", "AWG 0000")
	same("12 SAE", "SAE 12", "SAE gauge 12")
	same("3 mm2", "3 mm²", "3 sq mm", "3 mm^2", "3mm2", "3 sq. mm", "3.0 mm2")
}

func TestDashSizes(t *testing.T) {
	for text, inches := range map[string]float64{"-6": 0.375, "dash 6": 0.375, "-06": 0.375, "−6": 0.375, "Dash-8": 0.5, "AN-10": 0.625, "-12 AN": 0.75, "4 JIC": 0.25} {
		v, err := Parse(text, DimDashSize)
		if assert.NoError(t, err, text) {
			in, err := v.In("dash")
			require.NoError(t, err)
			assert.InEpsilon(t, 16*inches, in, 1e-15, text)
			tube, err := Parse(strconv.Itoa(int(16*inches))+"/16 in", DimLength)
			require.NoError(t, err)
			assert.Equal(t, tube.SI(), v.SI(), text)
		}
	}
	for _, text := range []string{"6", "-1", "-33", "-6.5", "-6 mm", "3/8 in", "", "-", "dash", "--6", "-006"} {
		_, err := Parse(text, DimDashSize)
		assert.Error(t, err, text)
	}
}
