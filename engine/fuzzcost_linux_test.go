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
	f.Add("design.pump.place + 'aa'", "a + a + a + a", "b + b + b + b", "c.size() > 0")
	f.Add("[1, 2]", "a + a + a + a", "b + b + b + b", "c.all(x, c.exists(y, y == x))")
	f.Add("[1, 1, 1, 1]", "a.map(x, a.map(y, a))", "[b, b, b]", "c.size() == 3 && b[0].size() > 0")
	f.Add("design.circuits.map(c, c.name)", "a.map(x, x + x + x)", "b + b", "c.exists(x, x.contains('aaaaaaaaaa'))")
	f.Add("design.circuits", "a.filter(x, a.all(y, x.name != y.name))", "b.map(x, x.feed_wires)", "c.all(x, x.all(y, y.joints.size() < 3))")
	f.Add("design.pump.place", "a.matches('^(a|b|ab)*$')", "b ? a : a + a", "c.matches('([a-z]{9}){9}')")
	f.Add("string(design.engine.cylinders)", "bytes(a)", "b + b", "string(c).size() > 3")
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
