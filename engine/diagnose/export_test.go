package diagnose

import (
	"math"
	"slices"

	"plumbline/engine"
	"plumbline/schema"
)

// Bench is a vehicle with troubles planted in it: what readings would be with them.
type Bench struct{ vehicle *vehicle }

// NewBench makes a design ready.
func NewBench(lib *engine.Library, d *schema.Design, o engine.Options) *Bench {
	v, _ := newVehicle(lib, lib.UsualWays(d, o)[0], o)
	return &Bench{v}
}

// Troubles are those that can befall it.
func (b *Bench) Troubles() []*engine.Trouble {
	var out []*engine.Trouble
	for _, t := range b.vehicle.troubles {
		out = append(out, t.Trouble)
	}
	return out
}

// Plant makes a trouble of a size, in SI units, be there.
func (b *Bench) Plant(id string, size float64) {
	for _, t := range b.vehicle.troubles {
		if t.ID == id {
			b.vehicle.put(t, size)
		}
	}
}

// Margin is as far as nineteen of twenty sound vehicles and readings lie from what is computed; NaN where it cannot be taken.
func (b *Bench) Margin(fact string) float64 {
	at := slices.IndexFunc(b.vehicle.probes, func(p *probe) bool { return p.Fact == fact })
	if at < 0 {
		return math.NaN()
	}
	p := b.vehicle.probes[at]
	return 2 * p.sigma(p.as(p.sound))
}

// Shows is what a reading would be, by the path of its fact, and the fixed part of what its instrument may be off; NaN where it
// cannot be taken.
func (b *Bench) Shows(fact string) (value, floor float64) {
	at := slices.IndexFunc(b.vehicle.probes, func(p *probe) bool { return p.Fact == fact })
	if at < 0 {
		return math.NaN(), 0
	}
	p := b.vehicle.probes[at]
	return b.vehicle.shows([]*probe{p})[0], p.Error.Plus
}
