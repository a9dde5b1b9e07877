package flow

import (
	"errors"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The order is that of the stream, whatever the number of workers and whichever of them is slow; no more results are held
// than the window and the workers.
func TestOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		workers, n := rapid.IntRange(1, 8).Draw(t, "workers"), rapid.IntRange(0, 200).Draw(t, "things")
		turns := rapid.SliceOfN(rapid.IntRange(0, 300), n, n).Draw(t, "turns")
		var in []int
		for i := range n {
			in = append(in, i)
		}
		var held, most atomic.Int64
		var out []int
		err := Ordered(workers, slices.Values(in), func(i int) int {
			if h := held.Add(1); h > most.Load() {
				most.Store(h)
			}
			x := 1.0
			for range turns[i] * 10 {
				x *= 1.0000001
			}
			return i + int(x) - 1
		}, func(i int) error {
			held.Add(-1)
			out = append(out, i)
			return nil
		})
		require.NoError(t, err)
		require.Equal(t, in, out)
		require.LessOrEqual(t, int(most.Load()), workers*window+workers+2)
	})
}

// When the results can go nowhere the rest of the stream is left, however long it is.
func TestOrderedStops(t *testing.T) {
	full, taken := errors.New("full"), 0
	endless := func(yield func(int) bool) {
		for i := 0; yield(i); i++ {
		}
	}
	err := Ordered(3, endless, func(i int) int { return i }, func(int) error {
		if taken++; taken == 10 {
			return full
		}
		return nil
	})
	assert.ErrorIs(t, err, full)
	assert.Equal(t, 10, taken)
}
