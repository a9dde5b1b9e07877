package whatif

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// draw is one number of a design that scatters from build to build, with those that scatter as it does.
type draw struct {
	*mover
	row *ScatterRow
}

// at is the value of the lead where it lies at a number of scatters z from what is stated; of what lies anywhere between two ends, at
// the share of the way between them that a normal z has below it.
func (w *draw) at(z float64) float64 {
	base, s := w.lead.base, w.row
	switch {
	case s.share > 0:
		base *= 1 + s.share*z
	case s.by > 0:
		base += s.by * z
	case s.times > 0:
		base *= math.Pow(s.times, z)
	default:
		base *= 1 + s.low + (s.high-s.low)*math.Erfc(-z/math.Sqrt2)/2
	}
	return min(max(base, w.lead.low), w.lead.high)
}

// draws are the numbers of a design about which rows of scatter are, in the order of the design. What moves with one moves with it
// here too, unless it scatters by itself.
func (n *Numbers) draws(d *schema.Design, units quantity.System) (out []*draw, fixed int) {
	visits := map[string][]moved{}
	var order []moved
	schema.Walk(d, func(v schema.Visit) {
		if x, ok := movedBy(d.Declared(), v); ok && !slices.Contains(ofTheFile, schema.Path(v.Path).Section()) {
			visits[v.Type+"."+v.Key] = append(visits[v.Type+"."+v.Key], x)
			order = append(order, x)
		}
	})
	done := map[string]bool{}
	for _, x := range order {
		row := n.scatterOf(d, x.Visit)
		switch {
		case done[x.Path]:
			continue
		case row == nil || x.base == 0 && row.by == 0:
			fixed++
			continue
		}
		w := &draw{&mover{lead: x, units: units}, row}
		n.join(w.mover, visits)
		w.with = slices.DeleteFunc(w.with, func(y moved) bool {
			alike := y.Type+"."+y.Key == x.Type+"."+x.Key
			return !alike && n.scatterOf(d, y.Visit) != nil
		})
		for _, y := range w.with {
			done[y.Path] = true
		}
		out = append(out, w)
	}
	return out, fixed
}

// build draws how many scatters each number of one build lies from what is stated. Those of a row that are alike share the draw, or
// half of its variance.
func build(draws []*draw, seed uint64, number int) []float64 {
	r := rand.New(rand.NewPCG(seed, uint64(number)))
	common, out := map[*ScatterRow]float64{}, make([]float64, len(draws))
	for i, w := range draws {
		if w.row.Alike != "" {
			if _, drawn := common[w.row]; !drawn {
				common[w.row] = r.NormFloat64()
			}
		}
		switch w.row.Alike {
		case "all":
			out[i] = common[w.row]
		case "half":
			out[i] = (common[w.row] + r.NormFloat64()) / math.Sqrt2
		default:
			out[i] = r.NormFloat64()
		}
	}
	return out
}

// changesAt are the changes that make a build of a design.
func changesAt(draws []*draw, z []float64) []engine.Change {
	var out []engine.Change
	for i, w := range draws {
		out = append(out, w.mover.at(w.at(z[i]))...)
	}
	return out
}

// Drawn is one row of what scatters, and how many numbers of a design it is about.
type Drawn struct {
	Facts   []string      `json:"facts"`
	Numbers int           `json:"numbers"`
	Scatter string        `json:"scatter"`
	Because []pack.Reason `json:"because"`
}

// drawn lists the rows that count for a design, in their order.
func (n *Numbers) drawn(draws []*draw) []Drawn {
	var out []Drawn
	for i := range n.Scatter {
		s := &n.Scatter[i]
		count := 0
		for _, w := range draws {
			if w.row == s {
				count++
			}
		}
		if count > 0 {
			out = append(out, Drawn{s.Facts, count, s.words(), s.Because})
		}
	}
	return out
}

// words say how much a row scatters, as it is written.
func (s *ScatterRow) words() string {
	switch {
	case s.Share != "":
		return s.Share + " of the value"
	case s.By != "":
		return s.By
	case s.Times != "":
		return "times " + s.Times
	}
	return strings.Join(s.Between, " to ") + " of the value, anywhere between"
}
