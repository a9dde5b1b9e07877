package report

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"plumbline/engine"
)

func TestMatch(t *testing.T) {
	at := func(i int) string { return fmt.Sprintf("%s[%d]", hoses, i) }
	for name, c := range map[string]struct {
		then, now []engine.Finding
		want      []int
	}{
		"names stay when an item is inserted": {
			[]engine.Finding{thing(engine.Fail, at(0), "tank hose"), thing(engine.Pass, at(1), "tube")},
			[]engine.Finding{thing(engine.Pass, at(0), "filter"), thing(engine.Pass, at(1), "tank hose"), thing(engine.Fail, at(2), "tube")},
			[]int{-1, 0, 1},
		},
		"another name at the same place is another thing": {
			[]engine.Finding{thing(engine.Fail, at(0), "tank hose")},
			[]engine.Finding{thing(engine.Fail, at(0), "engine hose")},
			[]int{-1},
		},
		"without a name the path decides": {
			[]engine.Finding{thing(engine.Fail, at(0), ""), thing(engine.Pass, at(1), "")},
			[]engine.Finding{thing(engine.Pass, at(0), ""), thing(engine.Fail, at(1), "")},
			[]int{0, 1},
		},
		"a name was given": {
			[]engine.Finding{thing(engine.Fail, at(0), "")},
			[]engine.Finding{thing(engine.Fail, at(0), "tank hose")},
			[]int{0},
		},
		"another rule": {
			[]engine.Finding{thing(engine.Fail, at(0), "hose")},
			[]engine.Finding{thing(engine.Fail, at(0), "hose", ruled("fuel.late"))},
			[]int{-1},
		},
		"the same name in another list": {
			[]engine.Finding{thing(engine.Fail, at(0), "hose")},
			[]engine.Finding{thing(engine.Fail, "design.return_line.runs[0]", "hose")},
			[]int{-1},
		},
		"two of one name, one inserted before": {
			[]engine.Finding{thing(engine.Pass, at(0), "hose", text("60 mm")), thing(engine.Fail, at(1), "hose", text("12 mm"))},
			[]engine.Finding{thing(engine.Pass, at(0), "hose", text("90 mm")), thing(engine.Pass, at(1), "hose", text("60 mm")), thing(engine.Fail, at(2), "hose", text("12 mm"))},
			[]int{-1, 0, 1},
		},
		"two of one name, one changed": {
			[]engine.Finding{thing(engine.Pass, at(0), "hose", text("60 mm")), thing(engine.Fail, at(1), "hose", text("12 mm"))},
			[]engine.Finding{thing(engine.Pass, at(0), "hose", text("60 mm")), thing(engine.Pass, at(1), "hose", text("70 mm"))},
			[]int{0, 1},
		},
		"a new failure does not hide behind a name": {
			[]engine.Finding{thing(engine.Pass, at(0), "hose", text("60 mm")), thing(engine.Fail, at(3), "hose", text("12 mm"))},
			[]engine.Finding{thing(engine.Fail, at(0), "hose", text("8 mm")), thing(engine.Pass, at(1), "hose", text("60 mm"))},
			[]int{-1, 0},
		},
		"items of named items": {
			[]engine.Finding{
				thing(engine.Fail, "design.circuits[0]", "pump", ruled("wire.fuse")), thing(engine.Fail, "design.circuits[0].joints[0]", "splice"),
				thing(engine.Pass, "design.circuits[1]", "coil", ruled("wire.fuse")), thing(engine.Pass, "design.circuits[1].joints[0]", "splice"),
			},
			[]engine.Finding{
				thing(engine.Pass, "design.circuits[0]", "fan", ruled("wire.fuse")), thing(engine.Fail, "design.circuits[0].joints[0]", "splice"),
				thing(engine.Fail, "design.circuits[1]", "pump", ruled("wire.fuse")), thing(engine.Fail, "design.circuits[1].joints[0]", "splice"),
				thing(engine.Pass, "design.circuits[2]", "coil", ruled("wire.fuse")), thing(engine.Pass, "design.circuits[2].joints[0]", "splice"),
			},
			[]int{-1, -1, 0, 1, 2, 3},
		},
		"no list at all": {
			[]engine.Finding{thing(engine.Fail, "design.pump", "")},
			[]engine.Finding{thing(engine.Pass, "design.pump", "")},
			[]int{0},
		},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, c.want, match(pointers(c.then), pointers(c.now)))
		})
	}
}

// The order of a list of named items, and what is inserted into it, changes nothing about the others; every stored
// finding is used at most once, and a report compared with itself has nothing new and nothing mended.
func TestMatchLaws(t *testing.T) {
	outcomes := rapid.SampledFrom([]engine.Outcome{engine.Pass, engine.Warn, engine.Open, engine.Fail, engine.NotApplicable})
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z]{1,4}`), 1, 6, rapid.ID[string]).Draw(t, "names")
		outcome := map[string]engine.Outcome{}
		for _, n := range names {
			outcome[n] = outcomes.Draw(t, n)
		}
		list := func(names []string) []engine.Finding {
			var out []engine.Finding
			for i, n := range names {
				out = append(out, thing(outcome[n], fmt.Sprintf("%s[%d]", hoses, i), n))
			}
			return out
		}
		moved := rapid.Permutation(names).Draw(t, "moved")
		outcome["INSERTED"] = engine.Fail
		moved = append([]string{"INSERTED"}, moved...)
		p := NewProgress("b", then(report("a", list(names)...)), []*engine.Report{report("a", list(moved)...)}, library("00"))
		if n := p.counts(); n.New != 1 || n.Mended+n.Milder+n.Worse != 0 {
			t.Fatalf("%+v", n)
		}

		odd := rapid.SliceOfNDistinct(rapid.Custom(func(t *rapid.T) engine.Finding {
			return thing(outcomes.Draw(t, "outcome"), fmt.Sprintf("%s[%d]", hoses, rapid.IntRange(0, 3).Draw(t, "at")),
				rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "name"), text(rapid.SampledFrom([]string{"x", "y"}).Draw(t, "text")))
		}), 0, 4, func(f engine.Finding) string { return f.Subject })
		one, two := odd.Draw(t, "one"), odd.Draw(t, "two")
		used := map[int]bool{}
		for _, at := range match(pointers(one), pointers(two)) {
			if at >= 0 && used[at] {
				t.Fatalf("%d is used twice", at)
			}
			used[at] = true
		}
		same := NewProgress("b", then(report("a", one...)), []*engine.Report{report("a", one...)}, library("00")).counts()
		if same.New+same.Worse+same.Milder+same.Mended != 0 {
			t.Fatalf("compared with itself: %+v", same)
		}
	})
}
