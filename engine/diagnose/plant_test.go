package diagnose_test

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"

	"plumbline/testdata/shipped"
)

// goodBuilds are the designs without a fault, whole.
func goodBuilds(t testing.TB) (names []string, designs []*schema.Design) {
	t.Helper()
	list, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	for _, file := range list {
		names, designs = append(names, strings.TrimSuffix(filepath.Base(file), ".yaml")), append(designs, builds.Design(t, file))
	}
	return names, designs
}

// startUp are the readings that the start-up sheet asks for: none of them opens a line under pressure.
var startUp = []string{"measured.idle_pressure", "measured.full_load_pressure", "measured.prime_pressure", "measured.pump_voltage", "measured.pump_current",
	"measured.idle_battery_voltage", "measured.controller_ground_drop", "measured.idle_correction", "measured.cruise_correction", "measured.full_load_correction",
	"measured.idle_speed", "measured.idle_vacuum", "measured.timing_error", "measured.base_timing", "measured.key_on_manifold_pressure", "measured.full_load_manifold_pressure",
	"measured.cold_coolant_reading", "measured.cold_air_reading", "battery.cranking_voltage", "procedure.held_pressure", "measured.can_flow",
	"measured.displacement_shown", "measured.injector_flow_shown", "measured.pressure_shown", "measured.ethanol_found", "throttle_control.opening_at_floor", "measured.hose_fuel",
	"measured.pump_plus_drop", "measured.pump_ground_drop", "measured.pump_fuse_drop", "measured.pump_relay_drop", "measured.unloaded_voltage", "measured.warm_coolant_reading"}

// unmeasured is a build with none of its readings taken, but for what a start-up sheet asks for beside them.
func unmeasured(t testing.TB, lib *engine.Library, d *schema.Design) *schema.Design {
	t.Helper()
	taken := map[string]bool{}
	for _, r := range lib.Readings() {
		taken[r.Fact] = true
	}
	out := d.Keep(func(path string) bool { return !taken[path] })
	put(t, out, "design.measured.soak_temperature", 291.15)
	put(t, out, "design.procedure.held_for", 300)
	if !out.Measured.Barometer.Known() {
		put(t, out, "design.measured.barometer", 98e3)
	}
	return out
}

func put(t testing.TB, d *schema.Design, fact string, value float64) {
	t.Helper()
	q, err := quantity.New(value, schema.Describe(fact).Field.Dimension)
	require.NoError(t, err)
	require.NoError(t, d.Put(fact, q))
}

// planted is a vehicle with troubles planted, to be measured.
type planted struct {
	*diagnose.Bench
	random *rand.Rand
}

// measure writes into a design what a reading would be, off by up to two per cent, and by what the smallest readings are off.
func (p *planted) measure(t testing.TB, d *schema.Design, fact string) bool {
	value, floor := p.Shows(fact)
	if math.IsNaN(value) {
		return false
	}
	share := 0.02
	if schema.Describe(fact).Field.Dimension == quantity.DimTemperature || strings.HasSuffix(fact, "_shown") {
		share = 0 // a share of the kelvin is no share of a reading, and an entry is read as it stands
	}
	value += (2*p.random.Float64() - 1) * math.Max(share*math.Abs(value), floor/2)
	put(t, d, fact, value)
	return true
}

func library(t testing.TB) *engine.Library { return shipped.Library(t) }
