//go:build unix

package whatif

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// cpu is what the process has used of all cores.
func cpu() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkFit searches shelves of 300 and 3000 parts for a complete design with a weak pump, for one that needs two parts, and for what
// a counter knows. The seconds of all cores are told too: those on the clock follow what else the machine does.
func BenchmarkFit(b *testing.B) {
	lib, patterns := shipped.Library(b), shipped.Patterns(b)
	series, err := ReadSeries("series.yaml", designs.Series())
	require.NoError(b, err)
	data, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(b, err)
	weak := weakPump(string(data))
	pair := strings.Replace(weak, "maximum_flow: 300 L/h", "maximum_flow: 50 L/h", 1)
	counter, err := os.ReadFile("../../designs/demo/counter-half-known.yaml")
	require.NoError(b, err)
	for _, n := range []int{300, 3000} {
		shelf := manyParts(b, n)
		for _, c := range []struct{ name, text string }{{"weak", weak}, {"pair", pair}, {"counter", string(counter)}} {
			d, err := schema.Load("d.yaml", []byte(c.text))
			require.NoError(b, err)
			o := engine.Options{}
			if c.name == "counter" {
				o.Patterns = patterns
			}
			b.Run(fmt.Sprintf("%s/%d", c.name, n), func(b *testing.B) {
				before, tried := cpu(), 0
				for b.Loop() {
					tried = Fit(lib, d, o, shelf, series, FitOptions{}).Tried
				}
				b.ReportMetric((cpu()-before).Seconds()/float64(b.N), "cpu-s/op")
				b.ReportMetric(float64(tried), "tried")
			})
		}
	}
}
