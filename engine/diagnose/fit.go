package diagnose

import (
	"math"
	"slices"
)

// sample is one size that was tried: how far along the way from sound to worst, and what the readings taken would be.
type sample struct {
	along  float64
	shows  []float64
	misfit float64
}

// lostReading is how far off, in standard deviations, a reading counts that was taken and could not have been with a trouble.
const lostReading = 6

// off is how many standard deviations a reading lies over what would be shown.
func off(p *probe, shown float64) float64 {
	if math.IsNaN(shown) {
		return lostReading
	}
	return (p.measured - shown) / p.sigma(p.measured)
}

// stretched is from how many times its sound size the way to the worst is gone in equal steps of its logarithm.
const stretched = 2.5

// size is that at a share of the way from sound to worst: small sizes are looked at more closely than large ones.
func (t *trouble) size(along float64) float64 {
	size := t.anySize(along)
	if t.whole == 0 {
		return size
	}
	n := float64(t.whole)
	return math.Max(1, math.Round(size*n)) / n
}

// anySize is the size where it need not be a whole share.
func (t *trouble) anySize(along float64) float64 {
	ratio := t.Worst / t.Sound
	switch {
	case t.Sound != 0 && ratio > 0 && (ratio > stretched || ratio < 1/stretched):
		return t.Sound * math.Pow(ratio, along)
	case t.Sound == 0:
		return t.Worst * along * along
	}
	return t.Sound + (t.Worst-t.Sound)*along
}

// The search for the size that fits best: an even grid; where what a reading would show passes what was measured between two of
// its steps, halving finds where, as a pressure that holds until a line is too narrow falls within a hundredth of the way; then
// golden section round the best.
const (
	gridSteps   = 7
	halfSteps   = 7
	goldenSteps = 8
)

var golden = (math.Sqrt(5) - 1) / 2

// fit tries a trouble alone, and leaves the vehicle sound.
func (v *vehicle) fit(t *trouble, weigh *scale, sound []float64) {
	t.samples = t.samples[:0]
	v.search(t, weigh, sample{0, sound, weigh.misfit(sound)}, func(s sample) { t.samples = append(t.samples, s) })
	v.put(t, t.Sound)
	slices.SortFunc(t.samples, func(a, b sample) int { return cmpFloat(a.along, b.along) })
}

// search tries sizes of a trouble, whatever else is wrong with the vehicle; none is what it shows without the trouble.
func (v *vehicle) search(t *trouble, weigh *scale, none sample, tried func(sample)) {
	taken := weigh.taken
	var all []sample
	at := func(along float64) sample {
		v.put(t, t.size(along))
		shows := v.shows(taken)
		s := sample{along, shows, weigh.misfit(shows)}
		all = append(all, s)
		tried(s)
		return s
	}
	before := none
	for k := range gridSteps {
		s := at(float64(k+1) / gridSteps)
		if i := passed(taken, before, s); i >= 0 {
			halve(at, before, s, i, taken[i].measured)
		}
		before = s
	}
	best := slices.MinFunc(all, func(a, b sample) int { return cmpFloat(a.misfit, b.misfit) })
	if best.misfit >= none.misfit-1 {
		return
	}
	low, high := 0.0, 1.0
	for _, s := range all {
		switch {
		case s.along < best.along:
			low = math.Max(low, s.along)
		case s.along > best.along:
			high = math.Min(high, s.along)
		}
	}
	narrow(func(along float64) float64 { return at(along).misfit }, low, high)
}

// passed is the reading, off on both sides, that lies between what two sizes would show; the furthest off of them, -1 for none.
func passed(taken []*probe, a, b sample) int {
	found, most := -1, 1.0
	for i, p := range taken {
		x, y := off(p, a.shows[i]), off(p, b.shows[i])
		if least := math.Min(math.Abs(x), math.Abs(y)); x*y < 0 && least > most {
			found, most = i, least
		}
	}
	return found
}

// halve closes in on the size at which a reading would show what was measured.
func halve(at func(along float64) sample, a, b sample, reading int, measured float64) {
	for range halfSteps {
		mid := at((a.along + b.along) / 2)
		if (mid.shows[reading] > measured) == (a.shows[reading] > measured) {
			a = mid
		} else {
			b = mid
		}
	}
}

// narrow is golden section between two ends.
func narrow(of func(float64) float64, low, high float64) {
	a, b := high-golden*(high-low), low+golden*(high-low)
	ya, yb := of(a), of(b)
	for range goldenSteps {
		if ya < yb {
			high, b, yb = b, a, ya
			a = high - golden*(high-low)
			ya = of(a)
		} else {
			low, a, ya = a, b, yb
			b = low + golden*(high-low)
			yb = of(b)
		}
	}
}

// best is the sample that fits best.
func (t *trouble) best() sample {
	return slices.MinFunc(t.samples, func(a, b sample) int { return cmpFloat(a.misfit, b.misfit) })
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
