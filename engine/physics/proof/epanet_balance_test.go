package proof

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
)

// lineLoss is the pressure over the links of one line, by the prefix of their
// names, with the loss of EPANET's formula: friction and height.
func (s supply) lineLoss(links []link, prefix string, flow float64, c constants) float64 {
	sum := 0.0
	for _, l := range links {
		if !strings.HasPrefix(l.id, prefix) {
			continue
		}
		sum += l.loss(flow, s.liquid, c) + c.weight*s.liquid.Density*l.piece.rise
	}
	return sum
}

// supplyBalance is a working point found apart from fluid.Solve.
type supplyBalance struct{ pumpFlow, returnFlow, outlet, throttleBody float64 }

// balance finds the working point with EPANET's formula, by halving the range of
// the pump flow: what the lines ask for rises with it, the pump's pressure falls.
func (s supply) balance(t *testing.T, c constants) supplyBalance {
	system, err := s.system()
	require.NoError(t, err, s.name)
	links := s.inp().links
	pressure := func(flow float64) float64 {
		p, err := system.Pump.PressureAt(flow)
		require.NoError(t, err, s.name)
		return p
	}
	at := func(flow float64) (b supplyBalance, asked float64) {
		spill, suction := flow-s.demand, s.lineLoss(links, "S", flow, c)
		b = supplyBalance{pumpFlow: flow, returnFlow: spill}
		switch s.layout {
		case fluid.ReturnStyle:
			b.throttleBody = s.held(s.lineLoss(links, "R", spill, c), spill, c)
			b.outlet = b.throttleBody + s.lineLoss(links, "F", flow, c)
		case fluid.InTank:
			b.outlet = s.held(0, spill, c)
			b.throttleBody = b.outlet - s.lineLoss(links, "F", s.demand, c)
		}
		return b, b.outlet + suction
	}

	// Where no flow can be spilled the pump gives just the demand.
	least, most := system.Pump.FlowRange()
	starved := s.demand >= least
	if starved {
		_, asked := at(s.demand)
		starved = asked > pressure(s.demand)
	}
	if s.layout == fluid.DeadHead || starved {
		outlet := pressure(s.demand) - s.lineLoss(links, "S", s.demand, c)
		arrives := outlet - s.lineLoss(links, "F", s.demand, c)
		if s.layout == fluid.DeadHead {
			arrives = min(arrives, s.regulator.Setting+s.regulator.Reference)
		}
		return supplyBalance{pumpFlow: s.demand, outlet: outlet, throttleBody: arrives}
	}
	low, high := max(least, s.demand), most
	for range 200 {
		middle := (low + high) / 2
		if _, asked := at(middle); asked < pressure(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	b, _ := at((low + high) / 2)
	return b
}

// held is the pressure before the regulator: its setting, or the drop of its
// open seat where that is more.
func (s supply) held(outlet, flow float64, c constants) float64 {
	r := s.regulator
	set := r.Setting + r.Reference
	if r.Kind == fluid.OutletSpring {
		set = r.Setting + outlet
	}
	seat := 0.0
	if r.WideOpenFlow != 0 {
		seat = c.minor * r.WideOpen * math.Pow(flow/r.WideOpenFlow, 2) * s.liquid.Density / r.WideOpenDensity
	}
	return max(set, outlet+seat)
}
