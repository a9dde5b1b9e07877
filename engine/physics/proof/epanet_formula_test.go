package proof

import (
	"math"

	"plumbline/engine/physics/fluid"
)

// epanetFactor is the friction factor EPANET takes: Hagen and Poiseuille up to
// Reynolds 2000, Swamee and Jain from 4000, and between them the cubic of E.
// Dunlop that joins the two. Source: EPANET users manual, analysis algorithms.
func epanetFactor(re, relative float64) float64 {
	switch {
	case re <= 2000:
		return 64 / re
	case re >= 4000:
		y := -2 / math.Ln10 * math.Log(relative/3.7+5.74/math.Pow(re, 0.9))
		return 1 / (y * y)
	}
	y2 := relative/3.7 + 5.74/math.Pow(4000, 0.9)
	y3 := -2 / math.Ln10 * math.Log(y2)
	fa := 1 / (y3 * y3)
	fb := fa * (2 - 3.6/math.Ln10*5.74/math.Pow(4000, 0.9)/(y2*y3))
	r := re / 2000
	x1 := 7*fa - fb
	x2 := 0.128 - 17*fa + 2.5*fb
	x3 := -0.128 + 13*fa - 2*fb
	x4 := 0.032 - 3*fa + 0.5*fb
	return x1 + r*(x2+r*(x3+r*x4))
}

// constants turns velocities and heights into pressure: factors on rho V^2/2 of
// friction and of minor losses, and the weight of a density of one in N/m3.
type constants struct{ friction, minor, weight float64 }

// exactConstants are those of SI; roundedConstants are EPANET's, whose weight
// of water, gravity and 8/(pi^2 g) do not quite fit together.
func exactConstants() constants {
	return constants{friction: 1, minor: 1, weight: fluid.StandardGravity}
}

func roundedConstants() constants {
	return constants{
		friction: kPaPerMetre / (epanetGravity * metrePerFoot),
		minor:    kPaPerMetre * epanetMinor * math.Pi * math.Pi / 8 / metrePerFoot,
		weight:   kPaPerMetre,
	}
}

// loss is the pressure loss of a piece at a flow in m3/s by EPANET's formula.
func (l link) loss(flow float64, liquid fluid.Liquid, c constants) float64 {
	if flow == 0 {
		return 0
	}
	p, bore := l.piece, l.piece.bore
	if p.kind == fluid.Orifice {
		bore = p.hole
	}
	v := 4 * flow / (math.Pi * bore * bore)
	velocityPressure := liquid.Density * v * v / 2
	k := p.fittingsK() + p.boreChangeK(l.before)
	switch p.kind {
	case fluid.Orifice:
		return c.minor * velocityPressure / (p.discharge * p.discharge)
	case fluid.SquareLaw:
		return c.minor * velocityPressure * (k + dropK(p.ratedDrop, p.ratedFlow, p.ratedDensity, bore))
	}
	factor := epanetFactor(v*bore/liquid.Viscosity, p.wall/bore)
	return velocityPressure * (c.friction*factor*p.length/bore + c.minor*k)
}

// reynolds is that of the flow in the piece's bore.
func (l link) reynolds(flow float64, liquid fluid.Liquid) float64 {
	return 4 * flow / (math.Pi * l.piece.bore * liquid.Viscosity)
}
