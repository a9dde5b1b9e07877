package engine_test

import (
	"runtime"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// What a pack of one small file may take to be loaded and judged by.
const (
	mostTime  = 2 * time.Second
	mostBytes = 300 << 20
)

// processorTime is what this process has used so far.
func processorTime(t testing.TB) time.Duration {
	t.Helper()
	var u syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// Whatever an expression and the names before it say, loading and judging by them ends soon and takes little memory.
// What is allocated in all is more than what is held at once.
func FuzzPackCost(f *testing.F) {
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\npump: {place: in_tank}\nengine: {cylinders: 4}\ncircuits: [{name: a}, {name: b}, {name: c}, {name: d}, {name: e}, {name: f}, {name: g}, {name: h}]\n"))
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, a, b, c, must string) {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		began := processorTime(t)
		rule := "    let:\n      a: " + quoted(a) + "\n      b: " + quoted(b) + "\n      c: " + quoted(c) + "\n    must: " + quoted(must+" && design.pump.check_valve")
		lib, err := engine.Load(fstest.MapFS{}, fstest.MapFS{"p.yaml": {Data: []byte(packWith(because) + rule + "\n")}})
		if err == nil {
			lib.Judge(d, engine.Options{})
		}
		runtime.ReadMemStats(&after)
		require.Less(t, processorTime(t)-began, mostTime)
		require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(mostBytes))
	})
}

// quoted writes a text as YAML takes it, whatever is in it.
func quoted(s string) string {
	out := []rune{'\''}
	for _, r := range s {
		if r < ' ' {
			r = ' '
		}
		if out = append(out, r); r == '\'' {
			out = append(out, r)
		}
	}
	return string(append(out, '\''))
}

// The seeds do reach the judging: most of them load.
func TestCostSeedsLoad(t *testing.T) {
	rule := "    let:\n      a: '[1, 2]'\n    must: 'a.all(x, x < 3) && design.pump.check_valve'"
	_, err := engine.Load(fstest.MapFS{}, fstest.MapFS{"p.yaml": {Data: []byte(packWith(because) + rule + "\n")}})
	require.NoError(t, err)
}
