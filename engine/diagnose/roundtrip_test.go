package diagnose_test

import (
	"fmt"
	"math/rand/v2"
	"sort"
	"testing"
	"time"

	"plumbline/engine"
	"plumbline/engine/diagnose"
)

func TestExplore(t *testing.T) {
	lib := library(t)
	names, builds := goodBuilds(t)
	tally := map[string][8]int{}
	begin, runs := time.Now(), 0
	for i, d := range builds {
		if i%15 != 0 {
			continue
		}
		d = unmeasured(t, lib, d)
		b := diagnose.NewBench(lib, d, engine.Options{})
		for _, x := range append([]*engine.Trouble{nil}, b.Troubles()...) {
			id := "sound"
			if x != nil {
				id = x.ID
				b.Plant(id, x.Usual)
			}
			r := &planted{b, rand.New(rand.NewPCG(1, uint64(i)))}
			given := d.Clone()
			for _, fact := range startUp {
				r.measure(t, given, "design."+fact)
			}
			found := diagnose.Run(lib, given, engine.Options{})
			runs++
			c := tally[id]
			c[0]++
			at := -1
			for k, x := range found.Candidates {
				if len(x.Troubles) == 0 && id == "sound" || len(x.Troubles) == 1 && x.Troubles[0].ID == id {
					at = k
					break
				}
			}
			switch {
			case at == 0:
				c[1]++
			case at > 0 && at < found.Apart:
				c[2]++
			case at > 0 && at < 3:
				c[3]++
			default:
				c[4]++
				first := "sound"
				if f := found.Candidates[0].Troubles; len(f) > 0 {
					first = f[0].ID
					if len(f) > 1 {
						first += "+" + f[1].ID
					}
				}
				t.Logf("%s %s at %d, first %s misfit %.1f explained %v", names[i], id, at, first, found.Candidates[0].Misfit, found.Explained)
			}
			tally[id] = c
			if x != nil {
				b.Plant(id, x.Sound)
			}
		}
	}
	var ids []string
	for id := range tally {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	for _, id := range ids {
		t.Log(fmt.Sprintf("%-45s %v", id, tally[id]))
	}
	t.Log(runs, time.Since(begin), time.Since(begin)/time.Duration(runs))
}
