package derive_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// What is read along a way meets what the whole system was solved to at its ends: of the feed the pump's outlet and the throttle
// body, of the return the tank, where a gauge shows nothing; of a circuit the load's terminals. The climb of a line that
// falls to its end again costs nothing.
func TestAlongAWayTheEndsAreThoseOfTheWhole(t *testing.T) {
	files, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	joints, wires := 0, 0
	for _, file := range append(files, "../../designs/demo/six-return.yaml") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		d, err := schema.LoadBased(file, text, os.ReadFile)
		require.NoError(t, err)
		s := derive.NewSession(d, derive.Options{})
		si := func(r *derive.Result) float64 {
			require.True(t, r.Known(), "%s: %s %v %s %s", file, r.Path, r.Missing, r.Absent, r.Reason)
			return r.Value().(quantity.Value).SI()
		}
		for _, p := range derive.Points() {
			runs := d.Feed.Runs.Items
			if body := s.At(p, "throttle_body_pressure"); body.Known() && len(runs) > 0 {
				joints++
				assert.InDelta(t, si(body), si(s.On(&runs[len(runs)-1].Outlet, p, "pressure")), 1, "%s %s", file, p)
				first := si(s.On(&runs[0].Inlet, p, "pressure"))
				assert.InDelta(t, si(s.At(p, "pump_pressure")), first+si(s.At(p, "suction_loss")), 5000, "%s %s: but for the height of the suction", file, p)
			}
			back := d.ReturnLine.Part.Runs.Items
			if creep := s.At(p, "return_back_pressure"); creep.Known() && len(back) > 0 {
				assert.InDelta(t, si(creep), si(s.On(&back[0].Inlet, p, "pressure")), 1, "%s %s", file, p)
				assert.InDelta(t, 0, si(s.On(&back[len(back)-1].Outlet, p, "pressure")), 1, "%s %s", file, p)
			}
			for i := range d.Circuits.Items {
				c := &d.Circuits.Items[i]
				volts := s.On(c, p, "load_voltage")
				if feed, back := c.FeedWires.Items, c.ReturnWires.Items; volts.Known() && len(feed) > 0 && len(back) > 0 {
					wires++
					plus, minus := si(s.On(&feed[len(feed)-1], p, "voltage")), si(s.On(&back[0], p, "voltage"))
					assert.InDelta(t, si(volts), plus-minus, 1e-6, "%s %s %s", file, p, c.Path())
				}
			}
		}
	}
	assert.Greater(t, joints, 40)
	assert.Greater(t, wires, 100)
}
