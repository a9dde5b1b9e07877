package engine

import (
	"cmp"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// number the rules by their names, which findings are sorted by.
func (l *Library) number() {
	l.order = make([]string, 0, len(l.rules))
	for _, r := range l.rules {
		l.order = append(l.order, r.ID)
	}
	slices.Sort(l.order)
	for _, r := range l.rules {
		r.Order = l.orderOf(r.ID)
	}
}

// orderOf is where a name stands among those of the rules: odd for the name of
// a rule, even for one between two.
func (l *Library) orderOf(rule string) int {
	at, is := slices.BinarySearch(l.order, rule)
	if is {
		return 2*at + 1
	}
	return 2 * at
}

// mostRoom is how many findings room is made for beforehand; the library makes some thousand.
const mostRoom = 20_000

// foresee evaluates the lists that rules go through, and makes room for the
// findings there will be.
func (j *judging) foresee(rules []*rule.Rule) (lists []ref.Val) {
	lists = make([]ref.Val, len(rules))
	n := 0
	for i, r := range rules {
		size := 1
		if r.Each != nil {
			j.of(r)
			j.scope.Start()
			lists[i] = r.Each.Eval(&j.names)
			j.mark(r, "", j.scope.Reads())
			if items, ok := vocabulary.ItemsOf(lists[i]); ok {
				size = max(1, len(items))
			}
		}
		n += size
	}
	// Besides, each concession and each region may bring one.
	most := min(n, mostRoom) + len(j.design.Concessions.Items) + len(j.named)
	j.room, j.found = make([]Finding, 0, most), make([]*Finding, 0, most)
	j.orders = make([]int, 0, min(n, mostRoom))
	return lists
}

// next is room for one more finding.
func (j *judging) next() *Finding {
	if len(j.room) == cap(j.room) {
		return &Finding{}
	}
	j.room = j.room[:len(j.room)+1]
	return &j.room[len(j.room)-1]
}

// rank is a finding's place in the report, as far as one number tells it.
type rank struct{ key, at int }

// arrange puts the worst first: outcome, danger, then names.
func (j *judging) arrange() []Finding {
	ranks := make([]rank, len(j.found))
	for i, f := range j.found {
		order := 0
		if i < len(j.orders) {
			order = j.orders[i]
		} else {
			order = j.library.orderOf(f.Rule)
		}
		ranks[i] = rank{(f.Outcome.Rank()*(len(pack.Dangers())+1)+f.Danger.Rank()+1)*(2*len(j.library.order)+1) + order, i}
	}
	slices.SortFunc(ranks, func(a, b rank) int {
		if a.key != b.key {
			return a.key - b.key
		}
		x, y := j.found[a.at], j.found[b.at]
		return cmp.Or(strings.Compare(x.Rule, y.Rule), x.Place.Compare(y.Place), strings.Compare(x.Subject, y.Subject), a.at-b.at)
	})
	if len(j.found) <= cap(j.room) {
		for _, f := range j.found[len(j.room):] {
			j.room = append(j.room, *f)
		}
		reorder(j.room, ranks)
		return j.room
	}
	out := make([]Finding, len(j.found))
	for i, r := range ranks {
		out[i] = *j.found[r.at]
	}
	return out
}

// reorder moves each finding to where its rank stands, in place.
func reorder(list []Finding, ranks []rank) {
	for i := range ranks {
		if ranks[i].at < 0 || ranks[i].at == i {
			continue
		}
		// Follow the circle of moves that begins here.
		first, to := list[i], i
		for {
			from := ranks[to].at
			ranks[to].at = -1
			if from == i {
				list[to] = first
				break
			}
			list[to] = list[from]
			to = from
		}
	}
}
