package whatif

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// regulated is a design of which one number alone decides: an alternator's regulator holds 13.5 to 14.8 V, or the finding
// electrical/charging.regulated-voltage is not met.
func regulated(t *testing.T, volts string) *schema.Design {
	d, err := schema.Load("one-number.yaml", []byte("plumbline: 1\nbattery: {system_voltage: 12 V}\nalternator: {regulated_voltage: "+volts+"}\n"))
	require.NoError(t, err)
	return d
}

func scatterBy(t *testing.T, volts string) *Numbers {
	n, err := ReadNumbers("numbers.yaml", []byte("scatter:\n  - {facts: [Alternator.regulated_voltage], by: "+volts+", because: [{practice: a test}]}\n"))
	require.NoError(t, err)
	return n
}

// The share of builds that meet everything is the probability that a normal number lies between the two limits: far within them all
// of a thousand do, at one of them half, and elsewhere as many as the error function says.
func TestSpreadOfOneNumberIsThatOfANormalOne(t *testing.T) {
	lib := shipped.Library(t)
	normal := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	for _, x := range []struct {
		volts, by string
		at, sd    float64
	}{{"14.2 V", "0.02 V", 14.2, 0.02}, {"13.5 V", "0.2 V", 13.5, 0.2}, {"14.2 V", "0.5 V", 14.2, 0.5}, {"13.6 V", "0.2 V", 13.6, 0.2}, {"14.7 V", "0.4 V", 14.7, 0.4}} {
		s := SpreadOf(lib, regulated(t, x.volts), engine.Options{}, scatterBy(t, x.by), 1000, 1)
		want := normal((14.8-x.at)/x.sd) - normal((13.5-x.at)/x.sd)
		assert.True(t, s.Passes.Low <= want && want <= s.Passes.High, "%s by %s: %.3f of all, found %d of 1000 (%.3f to %.3f)", x.volts, x.by, want, s.Passes.Count, s.Passes.Low, s.Passes.High)
		if x.sd < 0.1 {
			assert.Equal(t, 1000, s.Passes.Count)
			assert.Empty(t, s.Failing)
			continue
		}
		require.NotEmpty(t, s.Failing)
		require.NotNil(t, s.Failing[0].Drives)
		assert.Equal(t, []string{"design.alternator.regulated_voltage"}, s.Failing[0].Drives.Facts)
		assert.Equal(t, s.Failing[0].Drives.Tried, s.Failing[0].Drives.Mends, "as stated it is met")
	}
}

// One seed gives the same builds on one core and on all, another seed others.
func TestSpreadRepeats(t *testing.T) {
	lib := shipped.Library(t)
	of := func(seed uint64) string {
		return fmt.Sprintf("%+v", SpreadOf(lib, regulated(t, "13.6 V"), engine.Options{}, scatterBy(t, "0.2 V"), 300, seed).Failing[0].Builds)
	}
	assert.Equal(t, of(7), of(7))
	assert.NotEqual(t, of(7), of(8))
}

// NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.4.1: of 20 pieces 4 are defective; the exact 90 % interval of the share
// is 0.071354 to 0.401029.
func TestBinomialIntervalOfTheHandbook(t *testing.T) {
	low, high := binomial(4, 20, 0.90)
	assert.InDelta(t, 0.071354, low, 1e-6)
	assert.InDelta(t, 0.401029, high, 1e-6)
	// None of n: the rule of three, 1 - 0.025^(1/n).
	low, high = binomial(0, 1000, 0.95)
	assert.Zero(t, low)
	assert.InDelta(t, 1-math.Pow(0.025, 1.0/1000), high, 1e-9)
	low, high = binomial(1000, 1000, 0.95)
	assert.InDelta(t, math.Pow(0.025, 1.0/1000), low, 1e-9)
	assert.Equal(t, 1.0, high)
}

// What the scatter of real parts rests on is a document that the library cites too, or says in words that it is practice, reasoning or memory.
func TestScatterCitesSourcesOfTheLibrary(t *testing.T) {
	n, err := ReadNumbers("numbers.yaml", designs.Numbers())
	require.NoError(t, err)
	known := map[string]bool{}
	for _, s := range shipped.Library(t).Shared() {
		known[s.Key] = true
	}
	documents := 0
	for i := range n.Scatter {
		for _, r := range n.Scatter[i].Because {
			if r.Source == "" {
				assert.NotEmpty(t, r.Practice+r.Physics+r.Memory, n.Scatter[i].Facts)
				continue
			}
			documents++
			assert.True(t, known[r.Source], r.Source)
			assert.NotEmpty(t, r.For, r.Source)
		}
	}
	assert.Positive(t, documents)
}
