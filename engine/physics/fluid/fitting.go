package fluid

import (
	"slices"
	"sync"

	"plumbline/engine/physics/domain"
)

// LossCoefficient is the minor loss of a fitting, on the velocity in its bore:
//
//	K = Laminar/Re + Turbulent (1 + Size/D)
//
// with Hooper's two constants and Size = 25.4 mm, or a constant coefficient
// with Laminar = Size = 0.
type LossCoefficient struct {
	Laminar   float64 // 1
	Turbulent float64 // 1
	Size      float64 // m
}

// ConstantK returns a loss coefficient that depends on neither Reynolds number
// nor size.
func ConstantK(k float64) LossCoefficient { return LossCoefficient{Turbulent: k} }

// TwoK returns a loss coefficient by Hooper's two constants. Source: W. B.
// Hooper, Chemical Engineering, 24 August 1981, p. 97.
func TwoK(k1, kInfinity float64) LossCoefficient {
	return LossCoefficient{Laminar: k1, Turbulent: kInfinity, Size: 0.0254}
}

// At returns K at a Reynolds number in a bore in m. Domain: Re > 0, bore > 0,
// no negative constant.
func (c LossCoefficient) At(re, bore float64) (float64, error) {
	if err := domain.First(
		c.check(),
		domain.Check("Reynolds number", re, minChurchillReynolds, MaxReynolds, "1"),
		domain.CheckPositive("bore", bore, "m"),
	); err != nil {
		return 0, err
	}
	return c.Laminar/re + c.Turbulent*(1+c.Size/bore), nil
}

func (c LossCoefficient) check() error {
	return domain.First(
		domain.CheckNotNegative("laminar loss constant", c.Laminar, "1"),
		domain.CheckNotNegative("turbulent loss constant", c.Turbulent, "1"),
		domain.CheckNotNegative("size of the loss constant", c.Size, "m"),
	)
}

// Fitting is one row of the table of fittings: K is the handbook constant for
// turbulent flow, Coefficient the form the model uses. They are the same
// unless two-K constants are published, which small bores and cold or ethanol
// fuel call for.
type Fitting struct {
	Kind        string
	K           float64
	Coefficient LossCoefficient
	Source      string
}

// Fittings returns the table of fittings in a fixed order. Elbows and tees are
// the threaded kind.
func Fittings() []Fitting { return slices.Clone(fittings()) }

var fittings = sync.OnceValue(func() []Fitting {
	const (
		munson = "Munson, Fundamentals of Fluid Mechanics, table 8.2 (threaded)"
		hooper = "; two-K: Hooper, Chemical Engineering, 24 Aug 1981"
		valves = "Crane TP-410"
	)
	constant := func(kind string, k float64, source string) Fitting {
		return Fitting{Kind: kind, K: k, Coefficient: ConstantK(k), Source: source}
	}
	twoK := func(kind string, k, k1, kInfinity float64, source string) Fitting {
		return Fitting{Kind: kind, K: k, Coefficient: TwoK(k1, kInfinity), Source: source + hooper}
	}
	return []Fitting{
		constant("union_straight", 0.08, munson),
		twoK("elbow_45", 0.4, 500, 0.2, munson),
		twoK("elbow_90", 1.5, 800, 0.4, munson),
		twoK("elbow_90_long", 0.7, 800, 0.2, munson),
		constant("return_bend_180", 1.5, munson),
		twoK("tee_run", 0.9, 200, 0.1, munson),
		twoK("tee_branch", 2.0, 500, 0.7, munson),
		constant("valve_ball", 0.05, munson+" (open)"),
		constant("valve_gate", 0.15, munson+" (open)"),
		twoK("valve_check_swing", 2.0, 1500, 1.5, munson+" (forward)"),
		twoK("valve_check_lift", 10, 2000, 10, "K taken as the two-K infinity value"),
		constant("entrance_flush", 0.5, valves+" (sharp edge)"),
		constant("entrance_rounded", 0.04, valves+" (edge radius 0.15 bore or more)"),
		constant("entrance_projecting", 0.78, valves),
		constant("exit", 1.0, valves+"; loss of the whole kinetic energy"),
		constant("hose_barb", 0.5, "common practice: as a sharp entrance, on the bore of the barb"),
		constant("quick_connector", 0.5, "common practice: as a sharp entrance"),
		constant("quick_connector_90", 2.0, "common practice: sharp entrance and a 90 degree elbow"),
		constant("banjo", 3.5, "common practice: tee branch and a 90 degree elbow"),
	}
})

// FittingOf returns the row of a kind of fitting, or *domain.UnknownName with
// the kinds there are.
func FittingOf(kind string) (Fitting, error) {
	for _, fitting := range fittings() {
		if fitting.Kind == kind {
			return fitting, nil
		}
	}
	var known []string
	for _, fitting := range fittings() {
		known = append(known, fitting.Kind)
	}
	return Fitting{}, &domain.UnknownName{Table: "the table of fittings", Name: kind, Known: known}
}
