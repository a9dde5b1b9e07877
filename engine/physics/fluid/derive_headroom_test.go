package fluid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
)

func headroomCurve(t *testing.T) fluid.Curve {
	c, err := fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: 13.5, Points: []fluid.CurvePoint{
		{Pressure: 200e3, Flow: 60e-6}, {Pressure: 400e3, Flow: 40e-6}}})
	require.NoError(t, err)
	return c
}

func TestHighestPressureEndsAtTheLastPoint(t *testing.T) {
	c := headroomCurve(t)
	for _, test := range []struct {
		name       string
		flow, want float64
	}{
		{"below the last point's flow", 10e-6, 400e3},
		{"at the last point", 40e-6, 400e3},
		{"half way", 50e-6, 300e3},
		{"at the first point", 60e-6, 200e3},
	} {
		t.Run(test.name, func(t *testing.T) {
			have, err := c.HighestPressure(test.flow)
			require.NoError(t, err)
			assert.InDelta(t, test.want, have, 1e-6)
		})
	}
	_, err := c.HighestPressure(61e-6)
	require.Error(t, err)
}

// The friction is that of a filter alone, so the sum can be written out:
// 300 kPa + 8 kPa (20/40)^2 = 302 kPa, and 1 kPa (20/40)^2 = 0.25 kPa of suction.
func TestNeededRiseAddsTheLossesAtTheDemand(t *testing.T) {
	filter := func(drop float64) []fluid.Element {
		return []fluid.Element{{Kind: fluid.SquareLaw, RatedDrop: drop, RatedFlow: 40e-6, RatedDensity: 745}}
	}
	s := fluid.System{Layout: fluid.ReturnStyle, Pump: headroomCurve(t), Feed: filter(8e3), Suction: filter(1e3),
		Regulator: fluid.Regulator{Kind: fluid.Diaphragm, Setting: 300e3},
		Liquid:    fluid.Liquid{Density: 745, Viscosity: 0.6e-6}, Demand: 20e-6}
	for _, layout := range []fluid.Layout{fluid.ReturnStyle, fluid.DeadHead} {
		s.Layout = layout
		rise, err := s.NeededRise()
		require.NoError(t, err)
		assert.InDelta(t, 302.25e3, rise, 1e-6, layout)
	}
	s.Layout = fluid.InTank
	rise, err := s.NeededRise()
	require.NoError(t, err)
	assert.InDelta(t, 300.25e3, rise, 1e-6)
}
