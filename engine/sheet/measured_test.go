package sheet_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/sheet"
	"plumbline/schema/quantity"
)

// The readings of a return that is pinched, worked out by hand for this truck with a bore of 2.5 mm in its return: about 85 psi at idle
// and 71 psi at full load where 43.5 psi are set, and half as much current again. The paper says stop, and what it points to.
func TestMeasuredPaperPointsToWhatIsWrong(t *testing.T) {
	text, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "six.yaml")
	changed := strings.NewReplacer("idle_pressure: 300 kPa", "idle_pressure: 590 kPa", "full_load_pressure: 299 kPa", "full_load_pressure: 492 kPa",
		"pump_voltage: 13.7 V", "pump_voltage: 13.66 V", "pump_current: 6.0 A", "pump_current: 9.0 A").Replace(string(text))
	require.NotEqual(t, string(text), changed)
	require.NoError(t, os.WriteFile(file, []byte(changed), 0o600))
	p := sheet.Make("measured", jobOf(t, file, quantity.US))
	bars, judged, said := []sheet.Bar{}, map[string]string{}, ""
	for _, b := range p.Blocks {
		if b.Bars != nil {
			bars = b.Bars.Rows
		}
		if b.Heading == "Measured against computed" {
			for _, r := range b.Table.Rows {
				judged[r.Cells[0].Text] = r.Cells[5].Text
			}
		}
		if b.Heading == "What they point to" {
			said = strings.Join(b.Paras, " ")
		}
	}
	require.NotEmpty(t, bars)
	assert.Equal(t, "Warm idle: gauge at the throttle body", bars[0].Name, "the worst first")
	assert.Contains(t, bars[0].Text, "STOP")
	assert.Equal(t, "STOP", judged["Warm idle: gauge at the throttle body"])
	assert.Equal(t, "find out why", judged["Pump current"])
	assert.Equal(t, "fine", judged["Pump terminals"])
	assert.Contains(t, strings.ToLower(said), "return")
}
