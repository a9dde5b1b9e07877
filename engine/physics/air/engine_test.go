package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/air"
	"plumbline/engine/physics/domain"
)

const gramPerKilowattHour = 1e-3 / 3.6e6

// Sources: mass balance of 0.50 lb/(hp h) = 304.1 g/kWh and unit definitions.
func TestFuelDemand(t *testing.T) {
	assert.InEpsilon(t, 304.1, 0.50*pound/(hp*hour)/gramPerKilowattHour, 5e-4, "0.50 lb/(hp h), published conversion 608.277")

	fuel, err := air.FuelFlow(400*hp, 0.50*pound/(hp*hour))
	require.NoError(t, err)
	assert.InEpsilon(t, 200, fuel*hour/pound, 2e-3)
	assert.InEpsilon(t, 90.72, fuel*hour, 2e-3)
	assert.InEpsilon(t, 121.8, fuel*hour/745*1e3, 2e-3)
	assert.InEpsilon(t, 32.2, fuel*hour/745/3.785412e-3, 2e-3)

	fuel, err = air.FuelFlow(150e3, 304*gramPerKilowattHour)
	require.NoError(t, err)
	assert.InEpsilon(t, 45.6, fuel*hour, 2e-3)
	assert.InEpsilon(t, 61.2, fuel*hour/745*1e3, 2e-3)

	_, err = air.FuelFlow(150e3, 304)
	var outside *domain.RangeError
	require.ErrorAs(t, err, &outside, "g/kWh is not kg/J")
}

func TestBrakeFiguresAgainstWorkedExamples(t *testing.T) {
	fuel := 6.6 * 0.78 / hour
	assert.InEpsilon(t, 0.293, fuel*hour/17.593, 5e-3, "Gupta, Fundamentals of Internal Combustion Engines, example 16.4")
	efficiency, err := air.BrakeEfficiency(17.593e3, fuel, 44e6)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.28, efficiency, 5e-3, "Gupta, example 16.4")

	for _, c := range []struct {
		power, fuel, want float64
		source            string
	}{
		{80e3, 28, 0.2338, "Rajput, example 7.5"},
		{78e3, 27, 0.2364, "Mathur and Sharma, example 10.1"},
	} {
		efficiency, err = air.BrakeEfficiency(c.power, c.fuel/hour, 44e6)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, efficiency, 3e-3, c.source)
	}

}

func TestAirFlowAgainstTheCubicFootFormula(t *testing.T) {
	const cubicInch = inch * inch * inch
	for _, c := range []struct {
		inches, rpm, ve, want float64
		source                string
	}{
		{250, 6000, 1, 434.0, "common practice: CID rpm VE/3456"},
		{350, 5500, 0.85, 473.5, "arithmetic on the same formula"},
		{350, 5000, 0.85, 430.4, "arithmetic on the same formula"},
	} {
		flow, err := air.ChargeFlow(c.inches*cubicInch, c.rpm/minute, air.FourStrokeCharges, c.ve)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, flow/cfm, 5e-4, c.source)
		assert.InEpsilon(t, c.inches*c.rpm*c.ve/3456, flow/cfm, 1e-6)
	}
	flow, err := air.ChargeFlow(350*cubicInch, 5500/minute, air.FourStrokeCharges, 0.85)
	require.NoError(t, err)
	assert.InEpsilon(t, 985.4, flow*1.225*hour, 1e-3, "arithmetic at 1.225 kg/m3")

	flow, err = air.ChargeFlow(5.7e-3, 5500/minute, air.FourStrokeCharges, 0.85)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.2221, flow, 2e-3, "arithmetic")
	assert.InEpsilon(t, 0.2720, flow*1.225, 2e-3, "arithmetic")
}

func TestChargeFlowAgainstWorkedExamples(t *testing.T) {
	cases := []struct {
		name              string
		fuel, airFuel     float64 // kg/h
		pressure, kelvin  float64
		displacement, rpm float64
		want, relative    float64
		source            string
	}{
		{"six, 3600 rpm", 86 * 0.38, 14, 1.013e5, 288, 4066e-6, 3600, 0.850, 5e-3, "Rajput, Internal Combustion Engines, example 7.2"},
		{"six, 3100 rpm", 28, 13, 0.88e5, 300, 6 * 730e-6, 3100, 0.8743, 2e-3, "Rajput, example 7.5"},
		{"six, 3200 rpm", 27, 12, 0.9e5, 305, 6 * 700e-6, 3200, 0.7816, 3e-3, "Mathur and Sharma, Internal Combustion Engines, example 10.1"},
		{"eight, 4000 rpm", 0.455 * 60, 11.96, 1.027 * 98066.5, 294, 8 * math.Pi / 4 * 0.0857 * 0.0857 * 0.0825, 4000, 0.60, 0.01, "Keswani, Internal Combustion Engines, example 11.3"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			density, err := air.Density(c.pressure, c.kelvin)
			require.NoError(t, err)
			flow, err := air.ChargeFlow(c.displacement, c.rpm/minute, air.FourStrokeCharges, c.want)
			require.NoError(t, err)
			assert.InEpsilon(t, c.fuel*c.airFuel/hour, density*flow, c.relative, c.source)
		})
	}
}

func TestEngineRefusesWhatIsOutside(t *testing.T) {
	var outside *domain.RangeError
	_, err := air.ChargeFlow(5.7e-3, 90, air.FourStrokeCharges, 85)
	require.ErrorAs(t, err, &outside, "85 is per cent")
	_, err = air.ChargeFlow(0, 90, air.FourStrokeCharges, 0.85)
	require.ErrorAs(t, err, &outside)
}
