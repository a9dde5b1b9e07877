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

// misfit is the sum of squares of how far the readings are off, each over its margin.
func misfit(taken []*probe, shows []float64) float64 {
	sum := 0.0
	for i, p := range taken {
		off := off(p, shows[i])
		sum += off * off
	}
	return sum
}

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

// The search for the size that fits best: an even grid, in which no dip of interest is lost, then golden section round its best.
const (
	gridSteps   = 7
	goldenSteps = 8
	// tooMuch is how far the misfit rises over a sound vehicle's where a size changes too much.
	tooMuch = 4
)

var golden = (math.Sqrt(5) - 1) / 2

// fit tries a trouble alone, and leaves the vehicle sound.
func (v *vehicle) fit(t *trouble, taken []*probe, sound []float64) {
	t.samples = t.samples[:0]
	at := func(along float64) float64 {
		v.put(t, t.size(along))
		shows := v.shows(taken)
		t.samples = append(t.samples, sample{along, shows, misfit(taken, shows)})
		return t.samples[len(t.samples)-1].misfit
	}
	v.search(at, misfit(taken, sound))
	v.put(t, t.Sound)
	slices.SortFunc(t.samples, func(a, b sample) int { return cmpFloat(a.along, b.along) })
}

// search looks for the least of a function over (0, 1]. Where it is nowhere on the grid below the sound vehicle's misfit, a dip may
// lie before the step from what changes nothing to what changes too much, as of a return that is wide enough until it is not.
func (v *vehicle) search(of func(along float64) float64, sound float64) {
	along, least := 0.0, math.Inf(1)
	before, edge := sound, -1
	for k := range gridSteps {
		y := of(float64(k+1) / gridSteps)
		if y < least {
			along, least = float64(k+1)/gridSteps, y
		}
		if y > sound+tooMuch && before <= sound+tooMuch {
			edge = k
		}
		before = y
	}
	switch {
	case least < sound-1:
		narrow(of, math.Max(along-1.0/gridSteps, 0), math.Min(along+1.0/gridSteps, 1), along, least)
	case edge >= 0:
		narrow(of, float64(edge)/gridSteps, float64(edge+1)/gridSteps, along, least)
	}
}

// narrow is golden section between two ends.
func narrow(of func(float64) float64, low, high, along, least float64) (float64, float64) {
	a, b := high-golden*(high-low), low+golden*(high-low)
	ya, yb := of(a), of(b)
	for range goldenSteps {
		if ya < least {
			along, least = a, ya
		}
		if yb < least {
			along, least = b, yb
		}
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
	return along, least
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
