package whatif

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine"
)

// A finding may fail between two values at which it passes: then what is told of the values looked at is not true of those between. What
// a rule measures tells where to look: where the distance from its bound is less at one stop than at those on both sides of it, it is
// least somewhere between these, and is sought there. So nothing is missed of a rule with a number whose distance falls and rises
// once at most from one stop to the next but one. A rule of conditions alone has no such distance: where they may turn more than once it is looked at
// at even steps.

// margins are how far the numbers of findings lie inside their bounds, by finding and bound; less than nothing outside.
type margins map[string]float64

func marginsOf(found []engine.Finding) margins {
	out := margins{}
	for i := range found {
		f := &found[i]
		bounds := f.Bounds
		if f.Outcome == engine.Open && f.Leaning != nil {
			bounds = f.Leaning.Bounds
		}
		for k := range bounds {
			b := &bounds[k]
			key := f.Key() + " " + b.Of + strconv.Itoa(k)
			switch {
			case b.Margin != nil:
				out[key] = *b.Margin
			case f.Measured != nil && b.Met:
				out[key] = math.Abs(f.Measured.Value - b.Bound.Value)
			case f.Measured != nil:
				out[key] = -math.Abs(f.Measured.Value - b.Bound.Value)
			}
		}
	}
	return out
}

// dipSteps is how often a least distance is closed in on at most, by golden section, until only a few values that a meter shows are left; it ends
// once no distance can come down to nothing there, were it twice as steep as it was seen to be.
const dipSteps, steeper = 30, 2

// evenSteps is how many even steps to an end a rule of conditions alone is looked at.
const evenSteps = 12

// dips looks between the stops, up to the one by its place, for a value at which something is worse; not ok where nothing is.
func (t *track) dips(stops []float64, last int) (bad float64, ok bool) {
	last = min(last, len(stops)-1)
	at := append([]float64{t.lead.base}, stops[:last+1]...)
	bad = math.Inf(1)
	if at[len(at)-1] < t.lead.base {
		bad = math.Inf(-1)
	}
	nearer := func(x float64) bool { return math.Abs(x-t.lead.base) < math.Abs(bad-t.lead.base) }
	for i := 1; i+1 < len(at); i++ {
		before, here, after := t.look(at[i-1]).margins, t.look(at[i]).margins, t.look(at[i+1]).margins
		var rules []string
		for key, m := range here {
			a, known := before[key]
			b, also := after[key]
			if known && also && m > 0 && a > m*(1+1e-9) && b >= m {
				rules = append(rules, key)
			}
		}
		slices.Sort(rules)
		for _, key := range rules {
			if x, found := t.deepest(key, at[i-1], at[i+1]); found && nearer(x) {
				bad, ok = x, true
			}
		}
	}
	for _, x := range t.evenly(at[len(at)-1]) {
		if nearer(x) && t.worseBy(t.bent(), x) {
			bad, ok = x, true
			break
		}
	}
	return bad, ok
}

// deepest seeks where a margin is least between two values, and stops where its rule is worse.
func (t *track) deepest(key string, from, to float64) (float64, bool) {
	only := map[string]bool{key[:strings.IndexByte(key, ' ')]: true}
	d := &descent{}
	found, bad := 0.0, false
	of := func(x float64) float64 {
		x = t.inside(x)
		t.bench.Only(only)
		turned, all := t.bench.TurnedAndFound(engine.Glance, t.at(x)...)
		if slices.ContainsFunc(turned, engine.Turned.Worse) {
			found, bad = x, true
		}
		m, known := marginsOf(all)[key]
		if !known {
			m = math.Inf(1)
		}
		d.add(x, m)
		return m
	}
	d.add(from, t.look(from).margins[key])
	d.add(to, t.look(to).margins[key])
	low, high := min(from, to), max(from, to)
	golden := (math.Sqrt(5) - 1) / 2
	a, b := high-golden*(high-low), low+golden*(high-low)
	ya, yb := of(a), of(b)
	for range dipSteps {
		if bad || !d.mayReachNothing(low, high) {
			return found, bad
		}
		if t.few(low, high) {
			break
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
	if !t.few(low, high) {
		return found, bad
	}
	for x := t.inside(low); !bad; {
		next := t.next(x, true)
		if next <= x || next >= high {
			break
		}
		x = next
		of(x)
	}
	return found, bad
}

// ticks is how many values that a meter shows are tried one after the other.
const ticks = 8

// few reports whether a meter shows no more than those between two values.
func (t *track) few(low, high float64) bool {
	x := t.inside(low)
	for range ticks {
		if next := t.next(x, true); next > x && next < high {
			x = next
			continue
		}
		return true
	}
	return false
}

// descent are the margins seen, by value.
type descent struct{ at, margin []float64 }

func (d *descent) add(x, m float64) {
	i, known := slices.BinarySearch(d.at, x)
	if known || math.IsInf(m, 1) {
		return
	}
	d.at, d.margin = slices.Insert(d.at, i, x), slices.Insert(d.margin, i, m)
}

// mayReachNothing reports whether a margin between two values may be nothing, were it so much steeper than it was seen to be.
func (d *descent) mayReachNothing(low, high float64) bool {
	steep := 0.0
	for i := 1; i < len(d.at); i++ {
		steep = max(steep, steeper*math.Abs(d.margin[i]-d.margin[i-1])/(d.at[i]-d.at[i-1]))
	}
	for i := 1; i < len(d.at); i++ {
		if d.at[i] > low && d.at[i-1] < high && (d.margin[i]+d.margin[i-1]-steep*(d.at[i]-d.at[i-1]))/2 <= 0 {
			return true
		}
	}
	return false
}

// bent are the rules without a number that rest on what moves and may turn more than once on the way.
func (t *track) bent() map[string]bool {
	if t.bends == nil {
		t.bends = map[string]bool{}
		paths := t.paths()
		for _, f := range t.bench.Findings(engine.Glance) {
			if !f.Numeric && !f.Sense && !t.leaves[f.Rule] && t.bench.Rests(f.Rule, paths) && !t.bench.Straight(f.Rule, t.lead.Path) {
				t.bends[f.Rule] = true
			}
		}
	}
	return t.bends
}

// evenly are even steps to a value.
func (t *track) evenly(end float64) []float64 {
	if len(t.bent()) == 0 {
		return nil
	}
	var out []float64
	for k := range evenSteps - 1 {
		if x := t.inside(t.lead.base + (end-t.lead.base)*float64(k+1)/evenSteps); x != t.lead.base && !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// worseBy reports whether any of some rules is worse at a value.
func (t *track) worseBy(rules map[string]bool, x float64) bool {
	t.bench.Only(rules)
	return slices.ContainsFunc(t.bench.TurnedOnly(engine.Glance, t.at(x)...), engine.Turned.Worse)
}
