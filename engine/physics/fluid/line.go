package fluid

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// ElementKind says how the loss of a line element is computed.
type ElementKind string

// The kinds of line element and the fields each reads.
const (
	Pipe       ElementKind = "pipe"        // Bore, Length, Roughness, FrictionMultiplier, Rise
	Minor      ElementKind = "fitting"     // Bore, Coefficient, Count
	BoreChange ElementKind = "bore_change" // Bore before, BoreAfter
	Orifice    ElementKind = "orifice"     // Hole, Discharge
	SquareLaw  ElementKind = "square_law"  // RatedDrop, RatedFlow, RatedDensity
)

// Element is one piece of a line, in SI units. Only the fields its kind reads
// matter. FrictionMultiplier and Count of zero stand for one.
type Element struct {
	Name string
	Kind ElementKind

	Bore      float64 // m
	BoreAfter float64 // m

	Length             float64 // m
	Roughness          float64 // m, absolute
	FrictionMultiplier float64 // 1, for convoluted hose
	Rise               float64 // m, height gained in the direction of flow

	Coefficient LossCoefficient
	Count       int

	Hole      float64 // m
	Discharge float64 // 1

	RatedDrop    float64 // Pa
	RatedFlow    float64 // m3/s
	RatedDensity float64 // kg/m3
}

// Liquid is the liquid in a line.
type Liquid struct {
	Density   float64 // kg/m3
	Viscosity float64 // m2/s, kinematic
}

func (l Liquid) check() error {
	return domain.First(
		domain.CheckPositive("density", l.Density, "kg/m3"),
		domain.CheckPositive("kinematic viscosity", l.Viscosity, "m2/s"),
	)
}

// ElementLoss is the loss of one element at one flow. Velocity, Reynolds,
// FrictionFactor and K are zero where the kind has none.
type ElementLoss struct {
	Name           string
	Kind           ElementKind
	Velocity       float64 // m/s
	Reynolds       float64 // 1
	FrictionFactor float64 // 1, Darcy, with the multiplier
	K              float64 // 1, all fittings of the element together
	Friction       float64 // Pa, the dissipated part
	Static         float64 // Pa, the part spent on height
}

// LineDrop is the loss of a whole line. Total = Friction + Static.
type LineDrop struct {
	Friction float64 // Pa
	Static   float64 // Pa
	Total    float64 // Pa
	Elements []ElementLoss
}

// LineLoss returns the pressure needed to drive a flow, m3/s, through elements
// in series, with the share of each. Friction factors are those of FrictionFactor. The
// total never falls as the flow rises; with a negative Rise it may be negative.
//
// Domain: flow >= 0 and that of the formula of each element. Errors name the
// element.
func LineLoss(elements []Element, flow float64, liquid Liquid) (LineDrop, error) {
	if err := domain.First(domain.CheckNotNegative("flow", flow, "m3/s"), liquid.check()); err != nil {
		return LineDrop{}, err
	}
	drop := LineDrop{Elements: make([]ElementLoss, 0, len(elements))}
	for i := range elements {
		element := &elements[i]
		loss, err := element.loss(flow, liquid)
		if err != nil {
			name := element.Name
			if name == "" {
				name = fmt.Sprintf("number %d", i+1)
			}
			return LineDrop{}, fmt.Errorf("line element %s: %w", name, err)
		}
		drop.Friction += loss.Friction
		drop.Static += loss.Static
		drop.Elements = append(drop.Elements, loss)
	}
	drop.Total = drop.Friction + drop.Static
	return drop, nil
}

func (e *Element) loss(flow float64, liquid Liquid) (ElementLoss, error) {
	loss := ElementLoss{Name: e.Name, Kind: e.Kind}
	var err error
	switch e.Kind {
	case Pipe:
		err = e.pipe(&loss, flow, liquid)
	case Minor:
		err = e.fitting(&loss, flow, liquid)
	case BoreChange:
		err = e.boreChange(&loss, flow, liquid)
	case Orifice:
		loss.Friction, err = OrificeLoss(flow, e.Hole, e.Discharge, liquid.Density)
	case SquareLaw:
		loss.Friction, err = SquareLawLoss(e.RatedDrop, e.RatedFlow, e.RatedDensity, flow, liquid.Density)
	default:
		err = &domain.UnknownName{Table: "the list of line elements", Name: string(e.Kind),
			Known: []string{string(Pipe), string(Minor), string(BoreChange), string(Orifice), string(SquareLaw)}}
	}
	return loss, err
}

// pipe uses Hagen-Poiseuille below Re = 1, where it equals Churchill, so that
// the loss goes to zero with the flow.
func (e *Element) pipe(loss *ElementLoss, flow float64, liquid Liquid) error {
	multiplier := e.FrictionMultiplier
	if multiplier == 0 {
		multiplier = 1
	}
	if err := domain.First(
		domain.CheckNotNegative("length", e.Length, "m"),
		domain.CheckNotNegative("roughness", e.Roughness, "m"),
		domain.Check("friction multiplier", multiplier, 1, 10, "1"),
	); err != nil {
		return err
	}
	if err := e.motion(loss, flow, liquid); err != nil {
		return err
	}
	relative := e.Roughness / e.Bore
	if err := domain.Check("relative roughness", relative, 0, MaxRelativeRoughness, "1"); err != nil {
		return err
	}
	var err error
	if loss.Static, err = HydrostaticHead(liquid.Density, e.Rise); err != nil {
		return err
	}
	if loss.Reynolds < 1 {
		if loss.Reynolds >= minChurchillReynolds {
			loss.FrictionFactor = multiplier * 64 / loss.Reynolds
		}
		loss.Friction = multiplier * 32 * liquid.Density * liquid.Viscosity * e.Length * loss.Velocity / (e.Bore * e.Bore)
		return nil
	}
	factor, err := FrictionFactor(loss.Reynolds, relative)
	if err != nil {
		return err
	}
	loss.FrictionFactor = multiplier * factor
	loss.Friction, err = DarcyLoss(loss.FrictionFactor, e.Length, e.Bore, liquid.Density, loss.Velocity)
	return err
}

// fitting multiplies out K V^2 so that the laminar term stays finite at rest.
func (e *Element) fitting(loss *ElementLoss, flow float64, liquid Liquid) error {
	count := float64(e.Count)
	if e.Count == 0 {
		count = 1
	}
	if err := domain.First(e.Coefficient.check(), domain.Check("count", count, 1, 1000, "1")); err != nil {
		return err
	}
	if err := e.motion(loss, flow, liquid); err != nil {
		return err
	}
	v := loss.Velocity
	laminar := e.Coefficient.Laminar * liquid.Viscosity / e.Bore * v
	turbulent := e.Coefficient.Turbulent * (1 + e.Coefficient.Size/e.Bore) * v * v
	loss.Friction = count * liquid.Density / 2 * (laminar + turbulent)
	if loss.Reynolds >= minChurchillReynolds {
		k, err := e.Coefficient.At(loss.Reynolds, e.Bore)
		if err != nil {
			return err
		}
		loss.K = count * k
	}
	return nil
}

func (e *Element) boreChange(loss *ElementLoss, flow float64, liquid Liquid) error {
	small := math.Min(e.Bore, e.BoreAfter)
	var err error
	if e.Bore <= e.BoreAfter {
		loss.K, err = SuddenExpansion(e.Bore, e.BoreAfter, 1)
	} else {
		loss.K, err = SuddenContraction(e.BoreAfter, e.Bore)
	}
	if err != nil {
		return err
	}
	if err := (&Element{Bore: small}).motion(loss, flow, liquid); err != nil {
		return err
	}
	loss.Friction, err = MinorLoss(loss.K, liquid.Density, loss.Velocity)
	return err
}

func (e *Element) motion(loss *ElementLoss, flow float64, liquid Liquid) error {
	var err error
	if loss.Velocity, err = Velocity(flow, e.Bore); err != nil {
		return err
	}
	if loss.Reynolds, err = Reynolds(loss.Velocity, e.Bore, liquid.Viscosity); err != nil {
		return err
	}
	return domain.Check("Reynolds number", loss.Reynolds, 0, MaxReynolds, "1")
}
