package fluid

import (
	"fmt"
	"math"
)

// path is a line with a liquid in it, its elements checked and their constants worked out once, as a
// balance asks for the loss at many flows. Fittings, bore changes, holes and filters together cost
//
//	linear Q + square Q^2
//
// and each pipe has a friction factor of its own. The losses are those of LineLoss, to rounding.
type path struct {
	name     string // as errors call it
	elements []Element
	liquid   Liquid

	pipes          []pipeTerm
	linear, square float64 // Pa s/m3, Pa s2/m6
	static         float64 // Pa
	most           float64 // m3/s, up to which every Reynolds number is in its range
}

// pipeTerm is a pipe by its flow: Re = reynolds Q, and the loss is laminar Q below Re = 1 and f square Q^2
// from there on.
type pipeTerm struct {
	reynolds        float64 // s/m3
	roughness       float64 // 1, relative
	laminar, square float64 // Pa s/m3, Pa s2/m6
}

// drop is the loss of a line.
type drop struct{ friction, total float64 }

// newPath checks the elements as LineLoss does.
func newPath(name string, elements []Element, liquid Liquid) (path, error) {
	p := path{name: name, elements: elements, liquid: liquid, most: math.Inf(1)}
	still, err := LineLoss(elements, 0, liquid)
	if err != nil {
		return p, fmt.Errorf("%s: %w", name, err)
	}
	p.static = still.Static
	for i := range elements {
		p.add(&elements[i], still.Elements[i].K)
	}
	return p, nil
}

// add works out the constants of an element; k is the loss coefficient of a change of bore.
func (p *path) add(e *Element, k float64) {
	density, viscosity := p.liquid.Density, p.liquid.Viscosity
	bore := e.Bore
	if e.Kind == BoreChange {
		bore = min(e.Bore, e.BoreAfter)
	}
	perFlow := 4 / (math.Pi * bore * bore) // velocity
	dynamic := density / 2 * perFlow * perFlow
	switch e.Kind {
	case Pipe:
		multiplier := max(e.FrictionMultiplier, 1)
		if e.Length > 0 {
			p.pipes = append(p.pipes, pipeTerm{
				reynolds:  perFlow * bore / viscosity,
				roughness: e.Roughness / bore,
				laminar:   multiplier * 32 * density * viscosity * e.Length * perFlow / (bore * bore),
				square:    multiplier * e.Length / bore * dynamic,
			})
		}
	case Minor:
		count := float64(max(e.Count, 1))
		p.linear += count * density / 2 * e.Coefficient.Laminar * viscosity / bore * perFlow
		p.square += count * e.Coefficient.Turbulent * (1 + e.Coefficient.Size/bore) * dynamic
	case BoreChange:
		p.square += k * dynamic
	case Orifice:
		v := 1 / (e.Discharge * math.Pi * e.Hole * e.Hole / 4)
		p.square += density / 2 * v * v
		return
	case SquareLaw:
		p.square += e.RatedDrop / (e.RatedFlow * e.RatedFlow) * density / e.RatedDensity
		return
	}
	p.most = min(p.most, MaxReynolds*viscosity/(perFlow*bore))
}

// at returns the loss at a flow. Errors as LineLoss.
func (p *path) at(flow float64) (drop, error) {
	if !(flow >= 0 && flow <= p.most) {
		loss, err := LineLoss(p.elements, flow, p.liquid)
		if err != nil {
			return drop{}, fmt.Errorf("%s: %w", p.name, err)
		}
		return drop{friction: loss.Friction, total: loss.Total}, nil
	}
	lost := (p.linear + p.square*flow) * flow
	for i := range p.pipes {
		t := &p.pipes[i]
		if re := t.reynolds * flow; re < 1 {
			lost += t.laminar * flow
		} else {
			lost += friction(re, t.roughness) * t.square * flow * flow
		}
	}
	return drop{friction: lost, total: lost + p.static}, nil
}
