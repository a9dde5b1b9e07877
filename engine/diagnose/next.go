package diagnose

import (
	"math"
	"slices"

	"plumbline/schema/quantity"
)

// sizeLeft is how much worse than its best a size may fit and still be one the readings leave.
const sizeLeft = 4

// spans finds for each of the first candidates what every reading, taken or not, would show over the sizes that the readings
// leave it.
func (r *running) spans() {
	for _, c := range r.all[:r.first()] {
		r.span(c, c.along)
		if len(c.troubles) != 1 {
			continue
		}
		low, high := c.along[0], c.along[0]
		for _, s := range c.troubles[0].samples {
			if s.misfit <= c.misfit+sizeLeft {
				low, high = math.Min(low, s.along), math.Max(high, s.along)
			}
		}
		for _, along := range []float64{low, high} {
			if along != c.along[0] {
				r.span(c, []float64{along})
			}
		}
	}
}

// span widens what a candidate would show by some sizes.
func (r *running) span(c *candidate, along []float64) {
	r.with(c, along, func() {
		shows := r.asTaken(r.shows(r.probes))
		if c.least == nil {
			c.least, c.most = slices.Clone(shows), shows
			return
		}
		for i, x := range shows {
			c.least[i], c.most[i] = math.Min(c.least[i], x), math.Max(c.most[i], x)
		}
	})
}

// asTaken is what readings would show with usual values where those that were taken put them.
func (r *running) asTaken(shows []float64) []float64 {
	var taken []float64
	for i, p := range r.probes {
		if p.taken() {
			taken = append(taken, shows[i])
		}
	}
	if len(taken) == 0 {
		return shows
	}
	lying := r.weigh.lying(r.weigh.apart(taken))
	for i, p := range r.probes {
		shows[i] += dot(p.moves, lying)
	}
	return shows
}

// A measurement settles what it shows this many standard deviations apart; one that settles at least enough of what the best
// does is as good, if it is less work or less dangerous. mostNext are told.
const (
	settles  = 4.0
	enough   = 0.7
	mostNext = 3
	// leastWorth is the share of the doubt below which a measurement is not worth its while.
	leastWorth = 0.1
)

// next are the measurements that tell the first candidates apart.
func (r *running) next(first int) []Measurement {
	if first < 2 {
		return nil
	}
	type offer struct {
		m    Measurement
		cost int
	}
	var offers []offer
	most := 0.0
	for i, p := range r.probes {
		if p.taken() {
			continue
		}
		doubt := r.weigh.doubt(p)
		worth := r.worth(p, doubt, i, r.all[:first])
		if worth < leastWorth {
			continue
		}
		m := Measurement{Fact: p.Fact, Title: p.Decl.Title, How: p.Decl.How, Effort: p.Decl.Effort, Danger: p.Decl.Danger.Words(), Worth: worth}
		for k, c := range r.all[:first] {
			least, most := c.least[i]-endsAt*doubt, c.most[i]+endsAt*doubt
			if p.sound > 0 && !p.Decl.Tuned && p.Dimension != quantity.DimTemperature {
				least, most = math.Max(least, 0), math.Max(most, 0) // what goes one way does not turn round within what is usual
			}
			m.Would = append(m.Would, Would{Candidate: k, Least: r.reading(p, least), Most: r.reading(p, most)})
		}
		cost := p.Decl.Effort
		if p.Decl.Danger.Grave() {
			cost++
		}
		offers, most = append(offers, offer{m, cost}), math.Max(most, worth)
	}
	slices.SortStableFunc(offers, func(a, b offer) int {
		good := func(o offer) int {
			if o.m.Worth >= enough*most {
				return 0
			}
			return 1
		}
		if by := good(a) - good(b); by != 0 {
			return by
		}
		if a.cost != b.cost && good(a) == 0 {
			return a.cost - b.cost
		}
		return cmpFloat(b.m.Worth, a.m.Worth)
	})
	var out []Measurement
	for _, o := range offers[:min(mostNext, len(offers))] {
		out = append(out, o.m)
	}
	return out
}

// mostToBegin is how many readings are named where none was taken.
const mostToBegin = 8

// begin are the readings to begin with where none was taken, the cheap and safe ones first.
func (r *running) begin() []Measurement {
	probes := slices.Clone(r.probes)
	slices.SortStableFunc(probes, func(a, b *probe) int {
		if a.Decl.Effort != b.Decl.Effort {
			return a.Decl.Effort - b.Decl.Effort
		}
		return b.Decl.Danger.Rank() - a.Decl.Danger.Rank()
	})
	var out []Measurement
	for _, p := range probes[:min(mostToBegin, len(probes))] {
		out = append(out, Measurement{Fact: p.Fact, Title: p.Decl.Title, How: p.Decl.How, Effort: p.Decl.Effort, Danger: p.Decl.Danger.Words(), Worth: 1, Would: []Would{}})
	}
	return out
}

// worth is the share of the doubt between candidates that a reading settles: of each two, by how likely they are, as far as what
// they would show lies apart.
func (r *running) worth(p *probe, usual float64, i int, list []*candidate) float64 {
	doubt, settled := 0.0, 0.0
	for k, a := range list {
		for _, b := range list[:k] {
			weight := math.Exp((2*list[0].score() - a.score() - b.score()) / 4)
			doubt += weight
			settled += weight * apart(p, usual, a, b, i)
		}
	}
	return settled / doubt
}

// apart is how well a reading tells two candidates apart, from 0 to 1; usual is the doubt that usual values leave it.
func apart(p *probe, usual float64, a, b *candidate, i int) float64 {
	if math.IsNaN(a.least[i]) || math.IsNaN(b.least[i]) || math.IsNaN(a.most[i]) || math.IsNaN(b.most[i]) {
		return 0
	}
	gap := math.Max(a.least[i]-b.most[i], b.least[i]-a.most[i])
	if gap <= 0 {
		return 0
	}
	sigma := math.Hypot(p.sigma(math.Max(math.Abs(a.most[i]), math.Abs(b.most[i]))), usual)
	return math.Min(gap/sigma/settles, 1)
}
