package proof

import (
	"fmt"
	"math"
	"strings"

	"plumbline/engine/physics/fluid"
)

// EPANET is made for water mains. Its penalty method lets about 1e-8 ft3/s leak
// through a closed or acting valve for each foot of head (found by experiment),
// which is a thousandth of the flow of a fuel line. The files are therefore written at ten times the
// size: bore, length, roughness and kinematic viscosity are ten times and flows
// a hundred times those of the fuel path, heights and pressures are the same.
// Velocities, Reynolds numbers, friction factors and pressure losses are then
// exactly those of the fuel path, and the leak shrinks to 1e-5 of the flow.
const (
	similarity = 10

	// litresPerMinute turns m3/s into the flow of the files, L/min.
	litresPerMinute = 60000.0 * similarity * similarity
)

// EPANET's own rounded constants, from its source (types.h, hydcoeffs.c, input
// of minor losses): psi to a foot of water, kPa to a psi, gravity in ft/s2, and
// 8/(pi^2 g) as it multiplies minor losses.
const (
	psiPerFoot    = 0.4333
	kPaPerPsi     = 6.895
	epanetGravity = 32.2
	epanetMinor   = 0.02517
	metrePerFoot  = 0.3048
	kPaPerMetre   = psiPerFoot * kPaPerPsi / metrePerFoot
)

// link ties a piece of the supply to its link in the file.
type link struct {
	id     string
	piece  piece
	before float64 // bore upstream, m, 0 for none
}

// model is a supply in the input format of EPANET.
type model struct {
	text  string
	links []link
}

type inpWriter struct {
	s                                   supply
	junctions, reservoirs, pipes, valve strings.Builder
	links                               []link
}

func (w *inpWriter) junction(id string, elevation, demand float64) {
	fmt.Fprintf(&w.junctions, "%s %s %s\n", id, ten(elevation), ten(demand*litresPerMinute))
}

// head turns a pressure, Pa, into metres of the liquid as EPANET weighs it.
func (w *inpWriter) head(pressure float64) float64 {
	return pressure / 1000 / (kPaPerMetre * w.s.liquid.Density / 1000)
}

// line writes pieces from one node to another and returns the height at its end.
func (w *inpWriter) line(prefix, from, to string, height float64, pieces []piece) float64 {
	before := 0.0
	for i, p := range pieces {
		next := to
		height += p.rise
		if i < len(pieces)-1 {
			next = fmt.Sprintf("%s%d", strings.ToLower(prefix), i+1)
			w.junction(next, height, 0)
		}
		id := fmt.Sprintf("%s%d", prefix, i+1)
		w.links = append(w.links, link{id: id, piece: p, before: before})
		k := p.fittingsK() + p.boreChangeK(before)
		switch p.kind {
		case fluid.Pipe:
			fmt.Fprintf(&w.pipes, "%s %s %s %s %s %s %s Open\n", id, from, next, ten(p.length*similarity),
				ten(p.bore*1000*similarity), ten(p.wall*1000*similarity), ten(k))
		case fluid.Orifice:
			w.throttle(id, from, next, p.hole, 1/(p.discharge*p.discharge))
		case fluid.SquareLaw:
			w.throttle(id, from, next, p.bore, dropK(p.ratedDrop, p.ratedFlow, p.ratedDensity, p.bore)+k)
		}
		before, from = p.bore, next
	}
	return height
}

func (w *inpWriter) throttle(id, from, to string, bore, k float64) {
	fmt.Fprintf(&w.valve, "%s %s %s %s TCV %s 0\n", id, from, to, ten(bore*1000*similarity), ten(k))
}

// dropK is the loss coefficient, on the velocity in a bore, of a part rated by
// one drop at one flow.
func dropK(drop, flow, density, bore float64) float64 {
	v := 4 * flow / (math.Pi * bore * bore)
	return 2 * drop / (density * v * v)
}

func (p piece) fittingsK() float64 {
	k := 0.0
	for _, kind := range p.fittings {
		k += coefficientOf(kind).Turbulent
	}
	return k
}

// boreChangeK is the loss coefficient, on the velocity in the piece's own bore,
// of the step from the bore before it: Borda-Carnot or Crane's contraction.
func (p piece) boreChangeK(before float64) float64 {
	switch {
	case before == 0 || before == p.bore:
		return 0
	case before < p.bore:
		beta := before / p.bore
		return math.Pow(1-beta*beta, 2) / math.Pow(beta, 4)
	}
	beta := p.bore / before
	return 0.5 * (1 - beta*beta)
}

// regulator writes the valve that stands for the regulator: a pressure
// sustaining valve for a diaphragm, a pressure breaker for a spring on the
// outlet side, a pressure reducing valve for a dead-head supply.
func (w *inpWriter) regulator(from, to string) {
	r, kind := w.s.regulator, "PSV"
	switch {
	case w.s.layout == fluid.DeadHead:
		kind = "PRV"
	case r.Kind == fluid.OutletSpring:
		kind = "PBV"
	}
	bore, k := w.s.feed[len(w.s.feed)-1].bore, 0.0
	if r.WideOpenFlow != 0 {
		k = dropK(r.WideOpen, r.WideOpenFlow, r.WideOpenDensity, bore)
	}
	fmt.Fprintf(&w.valve, "REG %s %s %s %s %s %s\n", from, to, ten(bore*1000*similarity), kind, ten((r.Setting+r.Reference)/1000), ten(k))
}

// inp writes the supply: TANK, suction, pump from IN to OUT, feed to TB, the
// regulator REG, and the return from RB to BACK. In a dead-head supply the feed
// ends at AR, before the regulator. A valve must not touch a reservoir, so the
// regulator in the tank spills through a stub too wide to matter.
func (s supply) inp() model {
	w := &inpWriter{s: s}
	inlet := w.line("S", "TANK", "IN", 0, s.suction)
	w.junction("IN", inlet, 0)
	w.junction("OUT", inlet, 0)
	end, stub := "TB", ""
	if s.layout == fluid.DeadHead {
		end = "AR"
	}
	top := w.line("F", "OUT", end, inlet, s.feed)
	w.junction("TB", top, s.demand)
	switch s.layout {
	case fluid.ReturnStyle:
		w.regulator("TB", "RB")
		w.junction("RB", top, 0)
		bottom := w.line("R", "RB", "BACK", top, s.back)
		fmt.Fprintf(&w.reservoirs, "BACK %s\n", ten(bottom))
	case fluid.InTank:
		w.regulator("OUT", "RB")
		w.junction("RB", inlet, 0)
		stub = "STUB RB BACK 0.1 1000 0.001 0 Open\n"
		fmt.Fprintf(&w.reservoirs, "BACK %s\n", ten(inlet))
	case fluid.DeadHead:
		w.junction("AR", top, 0)
		w.regulator("AR", "TB")
	}

	var b strings.Builder
	fmt.Fprintf(&b, "[TITLE]\nfuel supply %s, generated, at %d times its size\n", s.name, similarity)
	fmt.Fprintf(&b, "\n[JUNCTIONS]\n%s", w.junctions.String())
	fmt.Fprintf(&b, "\n[RESERVOIRS]\nTANK 0\n%s", w.reservoirs.String())
	fmt.Fprintf(&b, "\n[PIPES]\n%s%s", w.pipes.String(), stub)
	b.WriteString("\n[PUMPS]\nPUMP IN OUT HEAD CURVE")
	if s.speed != 0 {
		b.WriteString(" SPEED " + ten(s.speed))
	}
	b.WriteString("\n")
	fmt.Fprintf(&b, "\n[VALVES]\n%s", w.valve.String())
	b.WriteString("\n[CURVES]\n")
	for i := range s.points {
		p := s.points[len(s.points)-1-i]
		fmt.Fprintf(&b, "CURVE %s %s\n", ten(p.Flow*litresPerMinute), ten(w.head(p.Pressure)))
	}
	fmt.Fprintf(&b, "\n[OPTIONS]\nUNITS LPM\nPRESSURE KPA\nHEADLOSS D-W\nVISCOSITY %s\nSPECIFIC GRAVITY %s\n", ten(s.liquid.Viscosity*similarity), ten(s.liquid.Density/1000))
	b.WriteString("TRIALS 500\nACCURACY 0.00001\nHEADERROR 0.0001\nFLOWCHANGE 0.01\nUNBALANCED STOP\n\n[TIMES]\nDURATION 0\n\n[END]\n")
	return model{text: b.String(), links: w.links}
}

// ten writes a value to ten figures.
func ten(x float64) string { return number(figures(x, 10)) }
