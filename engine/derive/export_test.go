package derive

import (
	"strconv"
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
		vectors = append(vectors, fused(list, pump)...)
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
	if nodes := fused(list, pump); len(nodes) == 3 {
		out["design.measured.pump_fuse_drop"] = printed["v("+nodes[0]+")"] - printed["v("+nodes[1]+")"]
		out["design.measured.pump_relay_drop"] = printed["v("+nodes[1]+")"] - printed["v("+nodes[2]+")"]
	}
	return out
}

// fused are the nodes before a circuit's fuse, between fuse and relay, and behind the relay; none where it has not both.
func fused(list *netlist, circuit int) []string {
	ct, from := &list.d.Circuits.Items[circuit], "supply"
	if ct.Fuse.Presence() != schema.Present || ct.Relay.Presence() != schema.Present {
		return nil
	}
	if up := list.parent(circuit); up >= 0 {
		from = list.reach[up]
	}
	first := "c" + strconv.Itoa(circuit) + "f"
	return []string{from, first + "0", first + "1"}
}
