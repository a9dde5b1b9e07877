package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Facts that contradict each other leave the bound they agree on (geometry): a hole of 20 mm for a connector of 38 x 24 mm
// needs 44.9 + 1 mm, whatever bore its grommet is said to have; rubber without a wall is as wide on a spigot as the spigot. No
// absolute pressure is under nothing, however much a clogged strainer would take.
func TestContradictionsLeaveABound(t *testing.T) {
	d := load(t, "passages: [{carries: harness, hole: 20 mm, grommet_bore: 47 mm, lining: grommet, bundle_diameter: 15 mm, largest_connector: a}]\n"+
		"connectors: [{name: a, width: 38 mm, height: 24 mm}]\n")
	assert.InDelta(t, 45.94, in(t, NewSession(d, Options{}).On(&d.Passages.Items[0], NoPoint, "hole_needed"), "mm"), 0.01)

	s := loaded(t, variant(t, "bore: 8.0 mm, length: 0.6 m, material: fluoroelastomer_lined, zone: engine_bay, outside_diameter: 14 mm",
		"bore: 8.0 mm, length: 0.6 m, material: fluoroelastomer_lined, zone: engine_bay, outside_diameter: 2 mm"))
	assert.InDelta(t, 8, in(t, s.On(&s.Design().Feed.Runs.Items[3].Outlet, NoPoint, "clamped_outside"), "mm"), 1e-9)

	s = loaded(t, variant(t, "rated_drop: 2 kPa, rated_flow: 190 L/h", "rated_drop: 2 kPa, rated_flow: 5 L/h"))
	assert.Zero(t, in(t, s.At(Idle, "pump_inlet_pressure"), "kPa abs"))
	assert.Less(t, in(t, s.At(Idle, "vapour_margin"), "kPa"), -30.0)
}
