package derive_test

import (
	"maps"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/diagnose"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"

	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// A bad joint, written into a wire of the vehicle that ngspice solves, with two per cent of error on what a meter then shows: the diagnosis of the
// vehicle as it was planned names its place, or says which other places would show the same; a reading more, by ngspice too, settles it.
func TestJointsMeteredByNgspiceAreFound(t *testing.T) {
	tool := proofs.Program(t, "ngspice", "Debian package ngspice")
	proofs.Ran(t, "ngspice")
	lib := shipped.Library(t)
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(7, 7))
	first, apart, settled, n := 0, 0, 0, 0
	for i, file := range files {
		if i%12 != 0 && !proofs.Whole() || i%2 != 0 {
			continue
		}
		planned := builds.Design(t, file)
		if planned.Pump.SpeedControl.Presence() == schema.Present || planned.Battery.Converter.Presence() == schema.Present {
			continue
		}
		places := joints(planned)
		for _, id := range slices.Sorted(maps.Keys(places)) {
			path := places[id]
			faulty := planned.Clone()
			ohms, _ := faulty.FactAt(path).Any().(interface{ SI() float64 })
			put(t, faulty, path, ohms.SI()+0.2)
			amps := derive.NewSession(faulty, derive.Options{}).At(derive.Idle, "pump_current")
			if !amps.Known() {
				continue
			}
			read := derive.MeteredBySpice(t, tool, faulty, amps.Value().(quantity.Value).SI())
			read["design.measured.pump_current"] = amps.Value().(quantity.Value).SI()
			given := planned.Keep(func(path string) bool { return schema.Path(path).Section() != "measured" })
			take := func(fact string) { put(t, given, fact, read[fact]*(1+0.02*(2*random.Float64()-1))) }
			for _, fact := range []string{"design.measured.idle_battery_voltage", "design.measured.pump_voltage", "design.measured.pump_current", "design.measured.controller_ground_drop"} {
				take(fact)
			}
			n++
			found := diagnose.Run(lib, given, engine.Options{})
			at := place(found, id)
			switch {
			case at == 0:
				first++
			case at > 0 && at < found.Apart:
				apart++
			default:
				t.Errorf("%s in %s is not left: %d", id, file, at)
				continue
			}
			take("design.measured.pump_plus_drop")
			take("design.measured.pump_ground_drop")
			if found = diagnose.Run(lib, given, engine.Options{}); place(found, id) == 0 || slices.Contains(found.Candidates[place(found, id)].Alike, 0) {
				settled++
			}
		}
	}
	t.Logf("of %d: %d named first, %d left beside the first, %d first or like the first with the drops across", n, first, apart, settled)
	require.Positive(t, n)
	assert.Equal(t, n, settled)
}

// joints are places of a bad joint, by the trouble it is.
func joints(d *schema.Design) map[string]string {
	out := map[string]string{}
	for i := range d.Circuits.Items {
		ct := &d.Circuits.Items[i]
		kind, _ := ct.Load.Kind.Get()
		purpose, _ := ct.Purpose.Get()
		back := lastJoint(ct.ReturnWires.Items)
		switch {
		case kind == "fuel_pump":
			if feed := lastJoint(ct.FeedWires.Items); feed != "" {
				out["trouble/electric.pump-feed-joint"] = feed
			}
			if back != "" {
				out["trouble/electric.pump-ground-joint"] = back
			}
		case purpose == "controller_power" && back != "":
			out["trouble/electric.controller-ground-joint"] = back
		}
	}
	return out
}

func lastJoint(wires []schema.Wire) string {
	for _, w := range slices.Backward(wires) {
		if k := len(w.Joints.Items); k > 0 && w.Joints.Items[k-1].Resistance.Known() {
			return w.Joints.Items[k-1].Resistance.Path()
		}
	}
	return ""
}

// place is where a trouble stands among the candidates, -1 for nowhere.
func place(found *diagnose.Diagnosis, id string) int {
	return slices.IndexFunc(found.Candidates, func(c diagnose.Candidate) bool { return len(c.Troubles) == 1 && c.Troubles[0].ID == id })
}

func put(t *testing.T, d *schema.Design, fact string, value float64) {
	t.Helper()
	q, err := quantity.New(value, schema.Describe(fact).Field.Dimension)
	require.NoError(t, err)
	require.NoError(t, d.Put(fact, q))
}
