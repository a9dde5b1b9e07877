package quantity

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/testdata/proofs"
)

// coherent are the SI units in which dimensions are kept, as the SI Brochure (9th edition, 2019, tables 4 to 6; from memory)
// writes them in base units, radians kept where an angle is part of it.
var coherent = map[Dimension]string{
	DimLength: "m", DimArea: "m2", DimVolume: "m3", DimMass: "kg", DimTime: "s", DimVelocity: "m/s", DimAcceleration: "m/s2",
	DimForce: "kg m/s2", DimTorque: "kg m2/(s2 rad)", DimFlow: "m3/s", DimMassFlow: "kg/s", DimDensity: "kg/m3", DimKinematicViscosity: "m2/s",
	DimPressure: "kg/(m s2)", DimAbsolutePressure: "kg/(m s2)", DimTemperature: "K", DimTemperatureDifference: "K", DimAngle: "rad",
	DimRotationalSpeed: "rad/s", DimFrequency: "1/s", DimVoltage: "kg m2/(s3 A)", DimCurrent: "A", DimResistance: "kg m2/(s3 A2)",
	DimResistancePerLength: "kg m/(s3 A2)", DimInductance: "kg m2/(s2 A2)", DimCapacitance: "s4 A2/(kg m2)", DimCharge: "s A",
	DimEnergy: "kg m2/s2", DimPower: "kg m2/s3", DimSpecificConsumption: "s2/m2", DimHeatingValue: "m2/s2", DimWireSize: "m2",
}

func TestPowersAreThoseOfTheUnits(t *testing.T) {
	for _, d := range Dimensions() {
		p, ok := d.Powers()
		assert.Equal(t, coherent[d], p.String(), d.String())
		assert.Equal(t, coherent[d] != "", ok, d.String())
	}
}

// GNU units takes one unit of each dimension to be one unit of its base units: no factor hides in a product.
func TestPowersAgreeWithGNUUnits(t *testing.T) {
	proofs.Program(t, "units", "GNU units, Debian package units")
	for d, base := range coherent {
		base = strings.ReplaceAll(strings.ReplaceAll(base, " ", "*"), "rad", "radian")
		assert.InDelta(t, 1, gnuUnits(t, siExpression(d), base), 1e-15, "%s in %s", siExpression(d), base)
	}
	proofs.Ran(t, "GNU units")
}

func TestPowersComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p Powers
		for i := range p {
			p[i] = int8(rapid.IntRange(-MostPower, MostPower).Draw(t, "n"))
		}
		if p.Plain() {
			return
		}
		back, err := ParsePowers(p.String())
		require.NoError(t, err)
		assert.Equal(t, p, back, p.String())
	})
	for _, bad := range []string{"kg0", "ft", "kg m22/s"} {
		_, err := ParsePowers(bad)
		assert.Error(t, err, bad)
	}
}

// Some laws of physics, as the exponents have them.
func TestProductsHaveTheNamesOfPhysics(t *testing.T) {
	for _, x := range []struct {
		a    Dimension
		op   string
		b    Dimension
		want Dimension
	}{
		{DimLength, "*", DimLength, DimArea}, {DimArea, "*", DimLength, DimVolume}, {DimVolume, "/", DimTime, DimFlow}, {DimVolume, "/", DimFlow, DimTime},
		{DimFlow, "/", DimArea, DimVelocity}, {DimFlow, "*", DimDensity, DimMassFlow}, {DimMass, "/", DimVolume, DimDensity}, {DimForce, "/", DimArea, DimPressure},
		{DimPressure, "*", DimFlow, DimPower}, {DimVoltage, "*", DimCurrent, DimPower}, {DimCurrent, "*", DimResistance, DimVoltage}, {DimVoltage, "/", DimCurrent, DimResistance},
		{DimResistancePerLength, "*", DimLength, DimResistance}, {DimCurrent, "*", DimTime, DimCharge}, {DimPower, "*", DimTime, DimEnergy}, {DimTorque, "*", DimRotationalSpeed, DimPower},
		{DimTorque, "*", DimAngle, DimEnergy}, {DimPower, "*", DimSpecificConsumption, DimMassFlow}, {DimMassFlow, "*", DimHeatingValue, DimPower}, {DimCapacitance, "*", DimVoltage, DimCharge},
		{DimInductance, "/", DimResistance, DimTime}, {DimWireSize, "*", DimLength, DimVolume}, {DimMass, "*", DimAcceleration, DimForce}, {DimAngle, "*", DimFrequency, DimRotationalSpeed},
		{DimAbsolutePressure, "*", DimVolume, DimEnergy}, {DimLength, "*", DimVelocity, DimKinematicViscosity}, {DimVelocity, "/", DimTime, DimAcceleration},
	} {
		a, _ := x.a.Powers()
		b, _ := x.b.Powers()
		got, ok := a.Times(b)
		if x.op == "/" {
			got, ok = a.Over(b)
		}
		assert.True(t, ok)
		assert.Equal(t, x.want, got.Named(), "%s %s %s", x.a, x.op, x.b)
	}
}
