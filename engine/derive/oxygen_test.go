package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Hand calculations on the six of testdata at cruise: 121.69 kg/h of air and
// 8.633 of fuel are 36.20 g/s of exhaust, at 500 degC and 97.773 kPa
// 0.03620 x 287.05 x 773.15 / 97773 = 82.17 L/s. The way from the nearest port,
// 0.6 m, leads through the manifold, which its 2.5 L already count; only a way longer
// than that volume and the pipe behind it would fill counts for itself.
func TestTransportDelayCountsTheManifoldOnce(t *testing.T) {
	for _, test := range []struct {
		name, from, to string
		want           float64 // ms
		how            string
	}{
		{"in the common pipe", "0.25 m", "0.25 m", 38.19, "(2.5 L + 25.52 cm2 x 0.25 m = 0.638 L) / 82.17 L/s"},
		{"far behind", "distance_after_merge: 0.25 m", "distance_after_merge: 3 m", 123.6, "(2.5 L + 7.655 L) / 82.17 L/s"},
		{"before the last pipe joins", "distance_after_merge: 0.25 m", "distance_after_merge: -0.1 m", 30.43, "2.5 L / 82.17 L/s, no more than the manifold"},
		{"far from the ports, near the merge", "distance_from_port: 0.6 m", "distance_from_port: 2 m", 62.12, "25.52 cm2 x 2 m = 5.104 L / 82.17 L/s, more than manifold and 0.25 m of pipe"},
		{"where both ways hold the same", "distance_from_port: 0.6 m", "distance_from_port: 1.2297 m", 38.19, "25.52 cm2 x 1.2297 m = 3.138 L / 82.17 L/s"},
		{"in the pipe of one cylinder", "sees: all_cylinders", "sees: one_cylinder", 111.8, "25.52 cm2 x 0.6 m = 1.531 L / (82.17 L/s / 6)"},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := loaded(t, variant(t, test.from, test.to))
			r := s.On(&s.Design().OxygenSensors.Items[0], Cruise, "transport_delay")
			assert.InEpsilon(t, test.want, in(t, r, "ms"), 1e-3, test.how)
		})
	}
}

// Which length is asked for depends on what the sensor sees.
func TestTransportDelayAsksForItsOwnLength(t *testing.T) {
	s := loaded(t, variant(t, "distance_from_port: 0.6 m, distance_after_merge: 0.25 m, ", ""))
	sensor := &s.Design().OxygenSensors.Items[0]
	assert.ElementsMatch(t, []string{"design.oxygen_sensors[0].distance_after_merge", "design.oxygen_sensors[0].distance_from_port"}, s.On(sensor, Idle, "transport_delay").Missing)
	s = loaded(t, variant(t, "distance_from_port: 0.6 m, distance_after_merge: 0.25 m, ", "", "sees: all_cylinders", "sees: one_cylinder"))
	sensor = &s.Design().OxygenSensors.Items[0]
	assert.Equal(t, []string{"design.oxygen_sensors[0].distance_from_port"}, s.On(sensor, Idle, "transport_delay").Missing)
}
