package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Facts that contradict each other leave the bound they agree on (geometry): a hole of 20 mm for a connector of 38 x 24 mm
// needs 44.9 + 1 mm, whatever bore its grommet is said to have; rubber without a wall is as wide on a spigot as the spigot.
func TestContradictionsLeaveABound(t *testing.T) {
	d := load(t, "passages: [{carries: harness, hole: 20 mm, grommet_bore: 47 mm, lining: grommet, bundle_diameter: 15 mm, largest_connector: a}]\n"+
		"connectors: [{name: a, width: 38 mm, height: 24 mm}]\n")
	assert.InDelta(t, 45.94, in(t, NewSession(d, Options{}).On(&d.Passages.Items[0], NoPoint, "hole_needed"), "mm"), 0.01)

	s := loaded(t, variant(t, "bore: 8.0 mm, length: 0.6 m, material: fluoroelastomer_lined, zone: engine_bay, outside_diameter: 14 mm",
		"bore: 8.0 mm, length: 0.6 m, material: fluoroelastomer_lined, zone: engine_bay, outside_diameter: 2 mm"))
	assert.InDelta(t, 8, in(t, s.On(&s.Design().Feed.Runs.Items[3].Outlet, NoPoint, "clamped_outside"), "mm"), 1e-9)
}
