//go:build unix

package desk_test

import (
	"fmt"
	"os"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// edits are what is answered in turn on a demo design: each is undone by the next round of it.
var edits = map[string][][2]string{
	"counter-half-known": {
		{"design.pump.place", "in the tank"}, {"design.pump.place", "frame rail"}, {"design.engine.power", "310 hp"}, {"design.engine.power", "300 hp"},
		{"design.fuel.ethanol", "E85"}, {"design.fuel.ethanol", "E10"}, {"design.regulator.setting", "43 psi"}, {"design.regulator.setting", "58 psi"},
		{"design.throttle_body.injectors.count", "4"}, {"design.vehicle.use", "road"}, {"design.engine.cylinders", "8"}, {"design.engine.cylinders", "6"},
	},
	"six-return": {
		{"design.pump.rated_flow", "190 L/h"}, {"design.engine.power", "95 kW"}, {"design.engine.power", "90 kW"}, {"design.regulator.setting", "3.5 bar"},
		{"design.regulator.setting", "300 kPa"}, {"design.climate.altitude", "1800 m"}, {"design.climate.altitude", "300 m"}, {"design.circuits[2].fuse.rating", "20 A"},
		{"design.circuits[2].fuse.rating", "15 A"}, {"design.feed.runs[2].bore", "8 mm"}, {"design.feed.runs[2].bore", "9.5 mm"}, {"design.fuel.ethanol", "E10"},
	},
}

// BenchmarkEdit answers in turn on a copy of a demo design, with journal and file written each time, and tells from an answer to its
// new view, what it changed, slip and questions: the 50th and 95th of a hundred, in milliseconds. The processor's time, of all cores,
// tells what the others on a machine do not lengthen.
func BenchmarkEdit(b *testing.B) {
	for _, name := range []string{"counter-half-known", "six-return"} {
		b.Run(name, func(b *testing.B) {
			data, err := os.ReadFile("../../../../designs/demo/" + name + ".yaml")
			require.NoError(b, err)
			folder := b.TempDir()
			put(b, folder, "job.yaml", string(data))
			d := open(b, folder)
			j, v := job(b, d, "job.yaml")
			var took, work []time.Duration
			for i := 0; b.Loop(); i++ {
				e := edits[name][i%len(edits[name])]
				begin, worked := time.Now(), processor(b)
				done, err := j.Set(v.Revision, e[0], e[1])
				require.NoError(b, err, fmt.Sprint(e))
				v = done.View
				_, _, _ = v.Slip(), v.Questions(), v.BuyQuickly()
				took, work = append(took, time.Since(begin)), append(work, processor(b)-worked)
			}
			b.ReportMetric(at(took, 0.5), "p50-ms")
			b.ReportMetric(at(took, 0.95), "p95-ms")
			b.ReportMetric(at(work, 0.5), "cpu-p50-ms")
			b.ReportMetric(at(work, 0.95), "cpu-p95-ms")
		})
	}
}

func at(list []time.Duration, share float64) float64 {
	slices.Sort(list)
	return float64(list[int(share*float64(len(list)-1))].Microseconds()) / 1000
}

// processor is the processor's time of this process so far.
func processor(b *testing.B) time.Duration {
	var u syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
