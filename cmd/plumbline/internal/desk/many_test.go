package desk_test

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/desk"
)

// Many people at few jobs, more jobs than are kept open: nothing is lost, whatever is asked of the views meanwhile.
func TestManyAtOnce(t *testing.T) {
	const jobs, people, each = 6, 4, 5
	folder := t.TempDir()
	for i := range jobs {
		put(t, folder, fmt.Sprintf("job-%d.yaml", i), half)
	}
	o := smallOptions()
	o.MostOpen = 2
	d := opened(t, folder, o)
	var all sync.WaitGroup
	for who := range people {
		all.Go(func() {
			for n := range each * jobs {
				j, err := d.Job(fmt.Sprintf("job-%d.yaml", (n+who)%jobs))
				if !assert.NoError(t, err) {
					return
				}
				v, err := j.View()
				if !assert.NoError(t, err) {
					return
				}
				// Each names a piece of its own: on whatever revision, all of them stand.
				name := fmt.Sprintf("piece %d of %d", n, who)
				_, err = j.Set(v.Revision, "design.feed.runs[]", name)
				var conflict *desk.Conflict
				for errors.As(err, &conflict) || errors.Is(err, desk.ErrStale) {
					if v, err = j.View(); err == nil {
						_, err = j.Set(v.Revision, "design.feed.runs[]", name)
					}
				}
				assert.NoError(t, err)
				switch n % 5 {
				case 0:
					_, err = d.Jobs()
				case 1:
					v.Questions()
					v.BuyQuickly()
					_, err = j.History()
				case 2:
					v.Question("design.pump.place")
					v.Buy()
				case 3:
					v.Paper("parts")
					v.Readings()
				case 4:
					_, err = j.Try(v.Revision, desk.Try{Path: "design.title", Answer: name})
				}
				if !errors.Is(err, desk.ErrStale) {
					assert.NoError(t, err)
				}
			}
		})
	}
	all.Wait()
	named := 0
	for i := range jobs {
		_, v := job(t, d, fmt.Sprintf("job-%d.yaml", i))
		named += len(v.Design.Feed.Runs.Items)
		require.Equal(t, string(v.Text), text(t, folder, v.Name))
	}
	assert.Equal(t, people*each*jobs, named)
}
