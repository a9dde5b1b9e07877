package engine

import (
	"math"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// turn finds the one unknown that decides most and the value at which the finding turns, with the others at their worst.
func (l *leaner) turn(t *tried, about pointKey) *Turn {
	at := t.worst()
	b, from := t.boxes[at], t.points[at]
	r := l.rules[about.rule]
	judged := func(point []float64) *Finding {
		return l.judgedAt(derive.NewSession(b.point(point), l.values), []*rule.Rule{r}, false)[about]
	}
	bad := func(f *Finding) bool { return f == nil || f.Outcome == Fail || f.Outcome == Warn || f.Outcome == Open }
	if !bad(t.at[at]) {
		return nil
	}
	deciding, good, most := -1, 0.0, math.Inf(-1)
	for i := range b.dims {
		if !t.rests[b.dims[i].path] || b.dims[i].with != i {
			continue
		}
		end := 1.0
		if from[i] > 0 || from[i] == 0 && b.dims[i].bad() > 0 {
			end = -1
		}
		f := judged(b.moved(from, i, end))
		if bad(f) {
			continue
		}
		m := marginOf(f)
		if b.dims[i].from == nil {
			m = math.Inf(1) // the reader's own range first
		}
		if deciding < 0 || m > most {
			deciding, good, most = i, end, m
		}
	}
	if deciding < 0 {
		return nil
	}
	lo, hi := from[deciding], good // bad at lo, good at hi
	for range 12 {
		mid := (lo + hi) / 2
		if bad(judged(b.moved(from, deciding, mid))) {
			lo = mid
		} else {
			hi = mid
		}
	}
	x := b.dims[deciding]
	fact := b.point(b.moved(from, deciding, hi)).FactAt(x.path)
	turn := &Turn{Path: x.path, At: Number{Text: l.factText(fact), Value: sizeOf(fact.Any()), Dimension: x.dimension.String()}, Better: "at_least", Stated: x.from == nil}
	if good < from[deciding] {
		turn.Better = "at_most"
	}
	return turn
}
func (l *leaner) factText(fact schema.Reading) string {
	if q, ok := fact.Any().(interface {
		Format(quantity.System) string
	}); ok {
		return q.Format(l.options.Units)
	}
	return spoken(fact.Text())
}
