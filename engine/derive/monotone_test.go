package derive

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/quantity"
)

// along evaluates a value over a row of variants and returns those known.
func along(t *testing.T, p Point, name string, texts ...string) []float64 {
	t.Helper()
	var out []float64
	for _, text := range texts {
		if r := loaded(t, text).At(p, name); r.Known() {
			out = append(out, r.Value().(quantity.Value).SI())
		}
	}
	require.Greater(t, len(out), 3, name)
	return out
}

// A larger feed bore never lowers the pressure at the throttle body of a dead-head system.
func TestLargerBoreNeverLowersDeadHeadPressure(t *testing.T) {
	var texts []string
	for bore := 4.0; bore <= 12; bore++ {
		texts = append(texts, variant(t, "style: return_style", "style: dead_head", "kind: roller_vane", "kind: turbine",
			"dead_head_pressure: 700 kPa", "dead_head_pressure: 450 kPa", "name: frame tube, kind: tube, bore: 8.0 mm", fmt.Sprintf("name: frame tube, kind: tube, bore: %g mm", bore)))
	}
	values := along(t, FullLoad, "throttle_body_pressure", texts...)
	for i := 1; i < len(values); i++ {
		assert.GreaterOrEqual(t, values[i], values[i-1]-1e-6)
	}
}

// A higher setting never raises the pump's flow.
func TestHigherSettingNeverRaisesPumpFlow(t *testing.T) {
	var texts []string
	for kilopascal := 220; kilopascal <= 420; kilopascal += 20 {
		texts = append(texts, variant(t, "setting: 300 kPa", fmt.Sprintf("setting: %d kPa", kilopascal)))
	}
	values := along(t, Idle, "pump_flow", texts...)
	for i := 1; i < len(values); i++ {
		assert.LessOrEqual(t, values[i], values[i-1]+1e-15)
	}
}
