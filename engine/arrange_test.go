package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// The worst come first: by outcome, danger, the rule's name, place and subject,
// and else as found; in the room foreseen or beyond it, with findings that no
// rule made among them.
func TestFindingsAreArrangedByTheirNames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := &Library{}
		for i := range rapid.IntRange(1, 8).Draw(t, "rules") {
			l.rules = append(l.rules, &rule.Rule{ID: fmt.Sprintf("p/%d.rule-%d", rapid.IntRange(0, 3).Draw(t, "pack"), i)})
		}
		l.number()
		n := rapid.IntRange(0, 40).Draw(t, "findings")
		j := &judging{library: l, design: &schema.Design{}}
		j.room = make([]Finding, 0, rapid.IntRange(0, 45).Draw(t, "room"))
		fill := func(f *Finding, rule string) {
			f.Rule, f.Title = rule, fmt.Sprint(len(j.found))
			f.Outcome = rapid.SampledFrom(outcomeOrder).Draw(t, "outcome")
			f.Danger = rapid.SampledFrom(pack.Dangers()).Draw(t, "danger")
			f.Place.Line = rapid.IntRange(0, 3).Draw(t, "line")
			f.Subject = rapid.SampledFrom([]string{"a", "b"}).Draw(t, "subject")
			j.found = append(j.found, f)
		}
		for range n {
			r := rapid.SampledFrom(l.rules).Draw(t, "rule")
			j.orders = append(j.orders, r.Order)
			fill(j.next(), r.ID)
		}
		for range rapid.IntRange(0, 3).Draw(t, "others") {
			fill(&Finding{}, rapid.SampledFrom([]string{"a/first", "p/1.s", "p/2.a", "z/last"}).Draw(t, "other"))
		}

		want := []Finding{}
		for _, f := range j.found {
			want = append(want, *f)
		}
		slices.SortStableFunc(want, func(a, b Finding) int {
			return cmp.Or(a.Outcome.Rank()-b.Outcome.Rank(), a.Danger.Rank()-b.Danger.Rank(), strings.Compare(a.Rule, b.Rule),
				a.Place.Compare(b.Place), strings.Compare(a.Subject, b.Subject))
		})
		got := j.arrange()
		assert.Len(t, got, len(want))
		for i := range want {
			assert.Equal(t, want[i], got[i])
		}
	})
}

// Readings cut from one room do not reach into each other.
func TestReadingsKeepTheirOwn(t *testing.T) {
	var room []int
	var lists [][]int
	for n := range 40 {
		room = grown(room, n)
		for i := range n {
			room = append(room, 100*n+i)
		}
		var own []int
		own, room = cut(room)
		lists = append(lists, own)
	}
	for n, own := range lists {
		assert.Len(t, own, n)
		_ = append(own, -1)
	}
	for n, own := range lists {
		for i, x := range own {
			assert.Equal(t, 100*n+i, x)
		}
	}
	assert.Nil(t, lists[0])
}
