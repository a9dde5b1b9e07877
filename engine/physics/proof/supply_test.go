package proof

import (
	"fmt"
	"math/rand/v2"

	"plumbline/engine/physics/fluid"
)

// piece is one link of a line: a pipe with the fittings on its bore, an orifice
// or a filter.
type piece struct {
	kind     fluid.ElementKind
	bore     float64 // m; of a filter, the bore of its line
	length   float64 // m
	wall     float64 // m, roughness
	rise     float64 // m
	fittings []string

	hole, discharge                    float64 // orifice
	ratedDrop, ratedFlow, ratedDensity float64 // filter
}

// supply is one generated fuel path.
type supply struct {
	name                string
	layout              fluid.Layout
	regulator           fluid.Regulator
	liquid              fluid.Liquid
	points              []fluid.CurvePoint
	speed               float64 // of the pump over that of its points, 0 for theirs
	demand              float64
	suction, feed, back []piece

	random *rand.Rand
}

// Liquids at the temperatures of the cases; round figures, only to calculate with.
var (
	petrol     = fluid.Liquid{Density: 745, Viscosity: 0.6e-6}
	hotPetrol  = fluid.Liquid{Density: 710, Viscosity: 0.42e-6}
	coldSpirit = fluid.Liquid{Density: 805, Viscosity: 2.2e-6}
	thick      = fluid.Liquid{Density: 840, Viscosity: 6e-6}
)

const litrePerHour = 1e-3 / 3600

// supplies returns the fuel paths: each style with its seeds.
func supplies() []supply {
	styles := []struct {
		name   string
		seeds  int
		liquid fluid.Liquid
		build  func(*supply)
	}{
		{"return-petrol", 4, petrol, (*supply).returnStyle},
		{"return-hot-petrol", 2, hotPetrol, (*supply).returnStyle},
		{"return-cold-spirit", 3, coldSpirit, (*supply).returnStyle},
		{"return-thick", 2, thick, (*supply).returnStyle},
		{"outlet-spring", 3, petrol, (*supply).outletSpring},
		{"in-tank", 3, petrol, (*supply).inTank},
		{"dead-head", 3, petrol, (*supply).deadHead},
		{"starved", 2, petrol, (*supply).starved},
		{"wide-open", 2, petrol, (*supply).wideOpen},
		{"slowed", 3, petrol, (*supply).slowed},
		{"slowed-in-tank", 2, hotPetrol, (*supply).slowedInTank},
		{"second-tank", 3, petrol, (*supply).secondTank},
	}
	var all []supply
	for i, style := range styles {
		for seed := 1; seed <= style.seeds; seed++ {
			s := supply{name: fmt.Sprintf("%s-%d", style.name, seed), liquid: style.liquid,
				random: rand.New(rand.NewPCG(uint64(seed), uint64(100+i)))}
			style.build(&s)
			all = append(all, s)
		}
	}
	return all
}

func (s *supply) between(low, high float64) float64 {
	return figures(low+(high-low)*s.random.Float64(), 4)
}

func (s *supply) one(values ...float64) float64 { return values[s.random.IntN(len(values))] }

// pump draws a curve that sags outward and reaches past the setting.
func (s *supply) pump(setting float64) {
	free, stall := s.between(160, 320)*litrePerHour, setting*s.between(1.5, 2.2)
	for _, p := range [][2]float64{{0, 1}, {0.4, 0.86}, {0.75, 0.64}, {1, 0.3}} {
		s.points = append(s.points, fluid.CurvePoint{Pressure: figures(stall*p[0], 6), Flow: figures(free*p[1], 6)})
	}
}

// pipe draws a hose or tube with fittings whose loss coefficient is constant.
func (s *supply) pipe(bore, low, high float64) piece {
	p := piece{kind: fluid.Pipe, bore: bore, length: s.between(low, high), wall: s.one(0.1e-6, 1.5e-6, 10e-6, 45e-6)}
	kinds := []string{"union_straight", "return_bend_180", "valve_ball", "hose_barb", "quick_connector", "quick_connector_90", "banjo"}
	for range 1 + s.random.IntN(3) {
		p.fittings = append(p.fittings, kinds[s.random.IntN(len(kinds))])
	}
	return p
}

// lines draws suction, feed and return with a filter; the heights add up to nothing.
func (s *supply) lines(returnBore float64) {
	lift, climb := s.between(-0.4, 0.1), s.between(0.3, 0.9)
	strainer := s.pipe(s.one(9.5e-3, 12.7e-3), 0.1, 0.6)
	strainer.rise = lift
	s.suction = []piece{strainer}

	wide, narrow := s.pipe(9.5e-3, 0.3, 1), s.pipe(s.one(6.5e-3, 7.1e-3, 8.1e-3), 2, 5)
	narrow.rise = climb
	filter := piece{kind: fluid.SquareLaw, bore: narrow.bore, ratedDrop: s.between(5e3, 20e3), ratedFlow: figures(200*litrePerHour, 6), ratedDensity: 750}
	s.feed = []piece{wide, filter, narrow, s.pipe(8.1e-3, 0.2, 0.6)}
	if s.layout != fluid.ReturnStyle {
		return
	}
	down := s.pipe(returnBore, 2, 4)
	down.rise = -climb
	end := s.pipe(returnBore, 0.2, 0.8)
	end.rise = -lift
	end.fittings = append(end.fittings, "exit")
	s.back = []piece{down, end}
	if s.random.IntN(2) == 0 {
		s.back = append([]piece{{kind: fluid.Orifice, bore: returnBore, hole: s.between(2.5e-3, 3.5e-3), discharge: s.one(0.61, 0.65, 0.8)}}, s.back...)
	}
}

// flowAt is the flow the pump gives at a pressure.
func (s *supply) flowAt(pressure float64) float64 {
	curve, err := fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: s.points})
	if err != nil {
		panic(err)
	}
	flow, err := curve.Flow(pressure)
	if err != nil {
		panic(err)
	}
	return flow
}

func (s *supply) controlled(layout fluid.Layout, kind fluid.RegulatorKind, returnBore float64) {
	setting := s.one(90e3, 105e3, 300e3, 400e3)
	s.layout = layout
	s.regulator = fluid.Regulator{Kind: kind, Setting: setting}
	s.pump(setting)
	s.demand = figures(s.flowAt(setting)*s.between(0.15, 0.55), 4)
	s.lines(returnBore)
}

// returnStyle has a diaphragm regulator, referenced to the air or to vacuum.
func (s *supply) returnStyle() {
	s.controlled(fluid.ReturnStyle, fluid.Diaphragm, s.one(6.5e-3, 8.1e-3))
	if s.regulator.Setting > 200e3 {
		s.regulator.Reference = -s.one(0, 20e3, 45e3)
	}
}

// outletSpring has a regulator that adds its outlet pressure to its setting.
func (s *supply) outletSpring() {
	s.controlled(fluid.ReturnStyle, fluid.OutletSpring, s.one(6.5e-3, 8.1e-3))
}

func (s *supply) inTank() { s.controlled(fluid.InTank, fluid.Diaphragm, 0) }

// deadHead has a reducing regulator and no return; the demand is what the pump
// gives between its points.
func (s *supply) deadHead() {
	s.controlled(fluid.DeadHead, fluid.Diaphragm, 0)
	last := s.points[len(s.points)-1]
	s.demand = figures(s.between(1.15, 1.8)*last.Flow, 4)
}

// starved asks for more than the pump gives at the setting.
func (s *supply) starved() {
	s.controlled(fluid.ReturnStyle, fluid.Diaphragm, 6.5e-3)
	s.demand = figures(1.12*s.flowAt(s.regulator.Setting), 4)
}

// wideOpen has a return line too narrow for the pump and a setting so low that
// the regulator stands wide open.
func (s *supply) wideOpen() {
	s.controlled(fluid.ReturnStyle, fluid.Diaphragm, s.one(3.2e-3, 3.5e-3))
	s.regulator.Setting, s.regulator.Reference = 60e3, 0
	s.regulator.WideOpen, s.regulator.WideOpenFlow, s.regulator.WideOpenDensity = s.between(10e3, 30e3), figures(150*litrePerHour, 6), 750
	s.points = nil
	s.pump(300e3)
	s.demand = figures(s.between(20, 50)*litrePerHour, 4)
}

// slowed has a pump at a part of the speed its points were taken at, the voltage lowered in proportion; it still makes the setting.
func (s *supply) slowed() {
	s.returnStyle()
	s.speed = s.between(0.82, 0.95)
	s.demand = figures(0.3*s.demand, 4)
}

func (s *supply) slowedInTank() {
	s.inTank()
	s.speed = s.between(0.82, 0.95)
	s.demand = figures(0.3*s.demand, 4)
}

// secondTank draws from a tank further off and lower, by lines of its own before and behind the selector.
func (s *supply) secondTank() {
	s.returnStyle()
	drop := s.between(0.1, 0.3)
	own, shared := s.pipe(s.one(8.1e-3, 9.5e-3), 2, 4), s.suction[0]
	own.rise = drop
	s.suction = []piece{own, shared}
	end := s.pipe(s.one(6.5e-3, 8.1e-3), 2, 4)
	end.rise = -drop
	end.fittings = append(end.fittings, "exit")
	s.back = append(s.back, end)
}

// elements writes pieces as line elements. before is the bore the line comes
// from, 0 for none; a change of bore between pipes is an element of its own.
func elements(pieces []piece, before float64) []fluid.Element {
	var all []fluid.Element
	for _, p := range pieces {
		if before != 0 && before != p.bore {
			all = append(all, fluid.Element{Kind: fluid.BoreChange, Bore: before, BoreAfter: p.bore})
		}
		before = p.bore
		switch p.kind {
		case fluid.Pipe:
			all = append(all, fluid.Element{Kind: fluid.Pipe, Bore: p.bore, Length: p.length, Roughness: p.wall, Rise: p.rise})
			for _, kind := range p.fittings {
				all = append(all, fluid.Element{Name: kind, Kind: fluid.Minor, Bore: p.bore, Coefficient: coefficientOf(kind)})
			}
		case fluid.Orifice:
			all = append(all, fluid.Element{Kind: fluid.Orifice, Hole: p.hole, Discharge: p.discharge})
		case fluid.SquareLaw:
			all = append(all, fluid.Element{Kind: fluid.SquareLaw, RatedDrop: p.ratedDrop, RatedFlow: p.ratedFlow, RatedDensity: p.ratedDensity})
		}
	}
	return all
}

// coefficientOf is the constant coefficient of a fitting: EPANET knows no other kind.
func coefficientOf(kind string) fluid.LossCoefficient {
	fitting, err := fluid.FittingOf(kind)
	if err != nil {
		panic(err)
	}
	if fitting.Coefficient.Laminar != 0 || fitting.Coefficient.Size != 0 {
		panic("the coefficient of " + kind + " is not constant")
	}
	return fitting.Coefficient
}

// system is the supply as package fluid takes it.
func (s supply) system() (fluid.System, error) {
	curve, err := fluid.NewCurve(fluid.CurveData{Kind: fluid.Turbine, Voltage: 12, Points: s.points})
	if err == nil && s.speed != 0 {
		curve, err = curve.AtVoltage(12 * s.speed)
	}
	return fluid.System{Layout: s.layout, Pump: curve, Suction: elements(s.suction, 0), Feed: elements(s.feed, 0),
		Return: elements(s.back, 0), Regulator: s.regulator, Liquid: s.liquid, Demand: s.demand}, err
}
