package quantity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	q "plumbline/schema/quantity"
)

// Figures one below the other have one unit and line up; 1 psi is 6.894757 kPa (NIST SP 811).
func TestAColumnIsInOneUnitAndLinesUp(t *testing.T) {
	kPa := func(list ...float64) (out []q.Value) {
		for _, x := range list {
			out = append(out, q.MustNew(x*1e3, q.DimPressure))
		}
		return out
	}
	assert.Equal(t, []string{"312.4 kPa", "300.0 kPa", "0.0 kPa", "-0.1 kPa"}, q.Column(false, kPa(312.4, 300, -0.004, -0.1)...))
	assert.Equal(t, []string{"45.3 psi", "43.5 psi", "0.0 psi"}, q.Column(true, kPa(312.4, 300, -0.004)...))
	assert.Equal(t, []string{"-3.01 kPa", "0.19 kPa"}, q.Column(false, kPa(-3.008, 0.1948)...))
	assert.Equal(t, []string{"-0.05 psi"}, q.Column(true, kPa(-0.3213)...))
	volts := []q.Value{q.MustNew(13.7912, q.DimVoltage), q.MustNew(0.0201, q.DimVoltage)}
	assert.Equal(t, []string{"13.79 V", "0.02 V"}, q.Column(false, volts...))
	assert.Equal(t, []string{"98 mV", "-1 mV"}, q.Column(true, q.MustNew(0.0982, q.DimVoltage), q.MustNew(-0.0012, q.DimVoltage)))
	assert.Empty(t, q.Column(false))
}
