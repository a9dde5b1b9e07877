package derive

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/domain"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// flat lists a step and everything below it.
func flat(s *Step) []*Step {
	out := []*Step{s}
	for _, in := range s.Inputs {
		out = append(out, flat(in)...)
	}
	return out
}

func explained(t *testing.T, s *Session, p Point, name string) *Step {
	t.Helper()
	e := All().Find("Design", name)
	require.NotNil(t, e)
	return s.Explain(e, s.Design(), p, quantity.Both)
}

func TestExplainLeadsDownToTheFacts(t *testing.T) {
	step := explained(t, NewSession(six(t), Options{}), FullLoad, "vapour_margin")
	assert.Equal(t, "pump inlet pressure - vapour pressure", step.Formula)
	assert.NotEmpty(t, step.Sources)
	assert.Equal(t, "pressure", step.Dimension)
	all := flat(step)
	for _, s := range all {
		switch {
		case s.Above:
			assert.Empty(t, s.Inputs, s.Path)
			assert.Empty(t, s.Formula, s.Path)
		case s.Entry() == nil:
			require.NotNil(t, s.Place, s.Path)
			assert.NotZero(t, s.Place.Line, s.Path)
			assert.Empty(t, s.Inputs, s.Path)
		default:
			assert.NotEmpty(t, s.Formula, s.Path)
		}
	}
	// Each is shown in full once.
	full := map[string]int{}
	for _, s := range all {
		if !s.Above {
			full[s.Path]++
		}
	}
	for path, n := range full {
		assert.Equal(t, 1, n, path)
	}
	altitude := all[slices.IndexFunc(all, func(s *Step) bool { return s.Path == "design.climate.altitude" })]
	assert.Equal(t, "300 m (984 ft)", altitude.Text)
	assert.Equal(t, 300.0, altitude.Value)
	_, err := json.Marshal(step)
	require.NoError(t, err)
}

// What is read off the solved fuel supply belongs together; the fuel demand, which goes into it, does not.
func TestExplainTogether(t *testing.T) {
	step := explained(t, NewSession(six(t), Options{}), FullLoad, "pump_flow")
	var paths []string
	for _, s := range step.Together {
		paths = append(paths, s.Path)
		assert.NotEqual(t, NotKnown, s.Text)
	}
	assert.Contains(t, paths, "at.full_load.pump_voltage")
	assert.Contains(t, paths, "at.full_load.throttle_body_pressure")
	assert.NotContains(t, paths, "at.full_load.fuel_demand")
	assert.NotContains(t, paths, "at.full_load.pump_flow")
	assert.NotContains(t, paths, "at.idle.pump_flow")
}

func TestExplainUnknownAndAssumed(t *testing.T) {
	step := explained(t, NewSession(schema.Empty(), Options{}), Idle, "manifold_pressure")
	assert.Equal(t, NotKnown, step.Text)
	assert.Nil(t, step.Value)
	assert.ElementsMatch(t, []string{"design.engine.vacuum_altitude", "design.engine.idle_vacuum"}, step.Missing)
	all := flat(step)
	require.Len(t, all, 3)
	assert.Contains(t, all, &Step{Path: "design.engine.idle_vacuum", Text: NotKnown, Missing: []string{"design.engine.idle_vacuum"}})

	length, _ := six(t).Climate.Altitude.Get()
	altitude := map[string]any{"design.climate.altitude": length}
	assumed := explained(t, NewSession(schema.Empty(), Options{Assumptions: altitude}), FullLoad, "barometer")
	require.Len(t, assumed.Inputs, 1)
	assert.True(t, assumed.Inputs[0].Assumed)
	assert.Nil(t, assumed.Inputs[0].Place)
	assert.Equal(t, "984 ft (300 m)", assumed.Inputs[0].Text)
}

func TestFactText(t *testing.T) {
	length := func(s string) quantity.Value {
		v, err := quantity.Parse(s, quantity.DimLength)
		require.NoError(t, err)
		return v
	}
	for _, c := range []struct {
		value   any
		written string
		units   quantity.System
		want    string
	}{
		{length("8.0 mm"), "8.0 mm", quantity.Both, "8.0 mm (0.315 in)"},
		{length("8.0 mm"), "8.0 mm", quantity.Metric, "8.0 mm"},
		{length("8.0 mm"), "8.0 mm", quantity.US, "8.0 mm (0.315 in)"},
		{length("5/16 in"), "5/16 in", quantity.Both, "5/16 in (7.94 mm)"},
		{length("5/16 in"), "5/16 in", quantity.US, "5/16 in"},
		{length("14 ft 6 in"), "14 ft 6 in", quantity.Both, "14 ft 6 in (4.42 m)"},
		{length("8.0 mm"), "", quantity.Both, "0.315 in (8 mm)"},
		{length("0.8 m"), "0.8 m", quantity.Both, "0.8 m (31.5 in)"},
		{length(`14'6"`), `14'6"`, quantity.Metric, `14'6" (4.42 m)`},
		{quantity.MustNew(8e-6, quantity.DimFlow), "480 cc/min", quantity.Both, "480 cc/min (7.61 gal/h)"},
		{quantity.MustNew(0.2, quantity.DimCurrent), "0.2 A", quantity.Both, "0.2 A"},
		{quantity.MustNew(13.5, quantity.DimVoltage), "13.5 V", quantity.Both, "13.5 V"},
		{quantity.MustNew(0.1, quantity.DimRatio), "10 %", quantity.Both, "10 %"},
		{schema.Word("turbine"), "turbine", quantity.Both, "turbine"},
		{true, "true", quantity.Both, "true"},
		{true, "", quantity.Both, "yes"},
	} {
		assert.Equal(t, c.want, FactText(c.value, c.written, c.units), "%v %q", c.value, c.written)
	}
}

func TestRangeErrorsInTheReadersUnits(t *testing.T) {
	for _, c := range []struct {
		err   error
		units quantity.System
		want  string
	}{
		{domain.Check("pump pressure", 812e3, 200e3, 500e3, "Pa"), quantity.Both,
			"pump pressure is 117.8 psi (812 kPa), which must be from 29 psi (200 kPa) to 72.5 psi (500 kPa)"},
		{domain.Check("pump flow", 2e-5, 3e-5, 4.5e-5, "m3/s"), quantity.Metric, "pump flow is 72 L/h, which must be from 108 L/h to 162 L/h"},
		{domain.Check("absolute pressure", 900, 1000, 1e6, "Pa"), quantity.Metric, "absolute pressure is 900 Pa abs, which must be from 1 kPa abs to 1000 kPa abs"},
		{domain.Check("fuel temperature", 400, 253.15, 333.15, "K"), quantity.US, "fuel temperature is 260.3 degF, which must be from -4 degF to 140 degF"},
		{domain.Check("temperature rise", 120, -100, 100, "K"), quantity.Metric, "temperature rise is 120 K, which must be from -100 K to 100 K"},
		{domain.Check("conductor area", 240e-6, domain.Smallest, 120e-6, "m2"), quantity.Metric, "conductor area is 240 mm2, which must be from more than 0 mm2 to 120 mm2"},
		{domain.CheckNotNegative("hose length", -1, "m"), quantity.Metric, "hose length is -1 m, which must be at least 0 mm"},
		{domain.CheckPositive("bore", 0, "m"), quantity.Metric, "bore is 0 mm, which must be more than 0 mm"},
		{domain.Check("pump speed ratio", 0.31, 0.4, 1.2, "1"), quantity.Both, "pump speed ratio is 0.31, which must be from 0.4 to 1.2"},
		{domain.Check("engine speed", 100, 0, 10, "rev/s"), quantity.Both, "engine speed is 6000 rpm, which must be from 0 rpm to 600 rpm"},
		// Three digits would not tell the value from its limit.
		{domain.Check("pump pressure", 500100, 200e3, 500e3, "Pa"), quantity.Metric, "pump pressure is 500.1 kPa, which must be from 200 kPa to 500 kPa"},
		// What has no other unit keeps its own.
		{domain.Check("dynamic viscosity of the gas", 1, 5e-6, 5e-5, "Pa s"), quantity.Both, "dynamic viscosity of the gas is 1 Pa s, which must be from 5e-06 Pa s to 5e-05 Pa s"},
		{domain.CheckFinite("x", math.NaN(), "m"), quantity.Both, "x is NaN m: give a finite number"},
	} {
		require.Error(t, c.err)
		assert.Equal(t, c.want, InUnits(c.err.Error(), c.units))
	}
	wrapped := "at.idle.pump_flow: feed: " + domain.Check("pump flow", 1, 0, 0.5, "m3/s").Error() + "; nothing else"
	assert.Equal(t, "at.idle.pump_flow: feed: pump flow is 3600 m3/h, which must be from 0 L/h to 1800 m3/h; nothing else", InUnits(wrapped, quantity.Metric))
	assert.Equal(t, "no circuit feeds it", InUnits("no circuit feeds it", quantity.Both))
}

// No unit of the physics packages is left as it is where readers know another.
func TestRangeErrorsOfEveryUnit(t *testing.T) {
	for unit := range siUnits {
		text := domain.Check("x", 3, 1, 2, unit).Error()
		got := InUnits(text, quantity.Both)
		assert.NotEqual(t, text, got, unit)
		assert.NotContains(t, got, "give a", unit)
	}
	for _, unit := range []string{"Pa s", "A s^0.5/m2", "A2 s", "N m/rad", "1/K", "1/s", "h", "AWG", "1", ""} {
		got := InUnits(domain.Check("x", 3, 1, 2, unit).Error(), quantity.Both)
		tail := strings.TrimSpace(strings.TrimSuffix(" "+unit, " 1"))
		assert.Equal(t, strings.TrimSpace("x is 3 "+tail)+", which must be from "+strings.TrimSpace("1 "+tail)+" to "+strings.TrimSpace("2 "+tail), got)
	}
}
