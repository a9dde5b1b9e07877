package whatif_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

func numbersAndSeries(t testing.TB) (*whatif.Numbers, []whatif.Series) {
	numbers, err := whatif.ReadNumbers("numbers.yaml", designs.Numbers())
	require.NoError(t, err)
	series, err := whatif.ReadSeries("series.yaml", designs.Series())
	require.NoError(t, err)
	return numbers, series
}

// The room of a number is that which trying one value after the other finds, each judged whole and from nothing: nothing is worse
// at values all along the way to its end, something is at the next value after it, and that is the next a meter shows.
func TestHeadroomEqualsTryingAll(t *testing.T) {
	numbers, series := numbersAndSeries(t)
	lib := shipped.Library(t)
	for _, file := range proofs.Sample([]string{"four-california-truck", "saloon-two-stroke", "motorhome-two-tanks"}, 3) {
		d := builds.Design(t, "../../designs/good/"+file+".yaml")
		o := engine.Options{Units: schema.Habit(d), Waiting: true}
		h := whatif.Rooms(lib, d, o, numbers, series, nil)
		before := standings(lib, d, o)
		rooms := append(h.Headlines, h.Rooms...)
		tried := 0
		for k, r := range rooms {
			// One number by itself of each so many; those that move with others are put together by the same changes.
			if len(r.Facts) != 1 || k%41 != 5 {
				continue
			}
			tried++
			for _, reach := range []whatif.Reach{r.Down, r.Up} {
				worse := func(x float64) []string { return worseAt(t, lib, d, o, before, r, x) }
				for share := range 5 {
					x := r.Stated.Value + (reach.To.Value-r.Stated.Value)*float64(share)/4
					assert.Empty(t, worse(x), "%s at %g, before %s", r.Facts[0], x, reach.To.Text)
				}
				if reach.Next == nil {
					continue
				}
				got := worse(reach.Next.Value)
				for _, turn := range reach.Turns {
					assert.Contains(t, got, turn.Rule+" "+turn.Subject, "%s at %s", r.Facts[0], reach.Next.Text)
				}
				if v, ok := d.FactAt(r.Facts[0]).Any().(interface{ Dimension() quantity.Dimension }); ok && v.Dimension() != quantity.DimWireSize {
					to, err := quantity.New(reach.To.Value, v.Dimension())
					require.NoError(t, err)
					assert.InDelta(t, to.Tick(o.Units, reach.Next.Value > reach.To.Value).SI(), reach.Next.Value, 1e-9*abs(reach.Next.Value), r.Facts[0])
				}
			}
		}
		assert.Greater(t, tried, 5, fmt.Sprint("rooms: ", len(rooms)))
	}
}

func abs(x float64) float64 { return max(x, -x) }

// standings are how the findings of a design stand that headroom tells: of what is decided before it is built, and of figures.
func standings(lib *engine.Library, d *schema.Design, o engine.Options) map[string]engine.Turned {
	out := map[string]engine.Turned{}
	found := lib.Judge(d, o).Findings
	for i := range found {
		if f := &found[i]; !f.Sense && !strings.HasPrefix(f.Rule, "design/") {
			out[f.Key()] = engine.Turned{Before: f}
		}
	}
	return out
}

// worseAt judges the design with a fact at a value, and names what is worse than before.
func worseAt(t *testing.T, lib *engine.Library, d *schema.Design, o engine.Options, before map[string]engine.Turned, r whatif.Room, x float64) (out []string) {
	other := d.Clone()
	if v, ok := d.FactAt(r.Facts[0]).Any().(interface{ Dimension() quantity.Dimension }); ok {
		require.NoError(t, other.Put(r.Facts[0], quantity.MustNew(x, v.Dimension())))
	} else {
		require.NoError(t, other.Put(r.Facts[0], int(x)))
	}
	found := lib.Judge(other, o).Findings
	for i := range found {
		f := &found[i]
		late := engine.StageRank(f.Due) > engine.StageRank("built")
		if f.Sense || strings.HasPrefix(f.Rule, "design/") || late && r.Kind != whatif.Entered {
			continue
		}
		if turned := (engine.Turned{Before: before[f.Key()].Before, After: f}); turned.Worse() {
			out = append(out, f.Key())
		}
	}
	return out
}
