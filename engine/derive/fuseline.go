package derive

import (
	"math"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
)

// FuseLine is a fuse against the weakest wire behind it over time, to be drawn.
type FuseLine struct {
	// Band is when the fuse opens, by rising current.
	Band []circuit.Opening
	// Withstands is the energy that heats the weakest feed wire from its class to the end of its insulation, in A2 s: at a current I
	// it lasts Withstands / I^2, while that is no more than the 5 s in which no heat escapes to speak of (IEC 60364-4-43).
	Withstands float64
	// Through is the most energy the fuse lets through at the fault current, in A2 s; 0 where it is not bound to open.
	Through float64
	// Fault is the current when the load is shorted, in A.
	Fault float64
}

// FuseLine is that of a circuit; empty while the fuse, the wires or the fault current are not known, or for a fuse of a kind whose
// band is not at hand.
func (s *Session) FuseLine(me *schema.Circuit) FuseLine {
	c := s.begin(nil, me, NoPoint)
	defer s.end(c, &Result{})
	fuse := Require(c, &me.Fuse)
	if c.absent != "" {
		return FuseLine{}
	}
	rating, kind := SI(c, &fuse.Rating), word(c, &fuse.Kind)
	fault := c.Value("fault_current")
	wires := Items(c, &me.FeedWires)
	least := math.Inf(1)
	for i := range wires {
		size, class, clad := SI(c, &wires[i].Size), SI(c, &wires[i].InsulationRating), word(c, &wires[i].Conductor) == cladAluminium
		if c.Lacks() {
			return FuseLine{}
		}
		if share, err := circuit.ShortCircuitHeating(1, size, class, clad); err == nil && share > 0 {
			least = math.Min(least, 1/share)
		}
	}
	if c.Lacks() || math.IsInf(least, 0) || kind != "blade" && kind != "mini_blade" {
		return FuseLine{}
	}
	band, err := circuit.Blade.Band(rating)
	if err != nil {
		return FuseLine{}
	}
	through, err := circuit.Blade.LetThrough(rating, fault)
	if err != nil {
		through = 0
	}
	return FuseLine{band, least, through, fault}
}
