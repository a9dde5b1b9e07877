package derive

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// MeteredBySpice is what a meter reads at idle along the pump's circuit, at the posts and at the controller's ground, by ngspice from the facts of a design
// alone; by the paths of the readings' facts. The pump's current, which its curve and the fuel path set, is given.
func MeteredBySpice(t *testing.T, tool string, d *schema.Design, pumpAmps float64) map[string]float64 {
	pump, controller := -1, -1
	for i := range d.Circuits.Items {
		if kind, _ := d.Circuits.Items[i].Load.Kind.Get(); kind == "fuel_pump" {
			pump = i
		}
		if purpose, _ := d.Circuits.Items[i].Purpose.Get(); purpose == "controller_power" {
			controller = i
		}
	}
	solve := func(limited bool) (*netlist, map[string]float64) {
		list := newNetlist(d, Idle, pumpAmps, limited)
		vectors := []string{list.reach[pump], strings.TrimSuffix(strings.Split(list.loads[pump], ",")[1], ")"), strings.TrimSuffix(strings.Split(list.loads[controller], ",")[1], ")")}
		text := list.text.String()
		list.text.Reset()
		list.text.WriteString(strings.Replace(text, "quit 0\n", "print v("+strings.Join(vectors, ")\nprint v(")+")\nquit 0\n", 1))
		return list, ngspice(t, tool, list)
	}
	list, printed := solve(false)
	if -printed["i(valternator)"] > list.output {
		list, printed = solve(true)
	}
	minus := strings.TrimSuffix(strings.Split(list.loads[pump], ",")[1], ")")
	ground := strings.TrimSuffix(strings.Split(list.loads[controller], ",")[1], ")")
	out := map[string]float64{
		"design.measured.idle_battery_voltage":   printed["v(posts)"],
		"design.measured.pump_voltage":           printed[list.loads[pump]],
		"design.measured.pump_plus_drop":         printed["v(posts)"] - printed["v("+list.reach[pump]+")"],
		"design.measured.pump_ground_drop":       printed["v("+minus+")"],
		"design.measured.controller_ground_drop": printed["v("+ground+")"],
	}
	require.Positive(t, out["design.measured.pump_voltage"])
	return out
}
