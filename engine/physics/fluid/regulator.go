package fluid

import (
	"math"

	"plumbline/engine/physics/domain"
)

// RegulatorKind says how a bypass regulator answers to pressure at its outlet.
type RegulatorKind string

// The kinds of bypass regulator.
const (
	// Diaphragm has its spring in a chamber vented to the air or manifold.
	Diaphragm RegulatorKind = "diaphragm"
	// OutletSpring is a relief valve with its spring on the outlet side.
	OutletSpring RegulatorKind = "outlet_spring"
)

// Regulator is a bypass regulator: it spills what keeps the pressure before it
// at its setting. In a dead-head layout it is a reducing one: state it as
// Diaphragm; the setting and the reference then count, the seat does not.
type Regulator struct {
	Kind      RegulatorKind
	Setting   float64 // Pa gauge, with no reference and no outlet pressure
	Reference float64 // Pa gauge in the spring chamber, negative for manifold vacuum
	// SeatRatio is seat area over diaphragm area, 0 if unknown.
	SeatRatio float64
	// WideOpen is the drop across the open seat at WideOpenFlow of a liquid of
	// WideOpenDensity. A WideOpenFlow of 0 leaves the drop out.
	WideOpen, WideOpenFlow, WideOpenDensity float64
}

func (r Regulator) check() error {
	if r.Kind != Diaphragm && r.Kind != OutletSpring {
		return &domain.UnknownName{Table: "the list of regulator kinds", Name: string(r.Kind),
			Known: []string{string(Diaphragm), string(OutletSpring)}}
	}
	low, high := math.Inf(-1), math.Inf(1)
	if r.Kind == OutletSpring {
		// It has no chamber a reference could act in.
		low, high = 0, 0
	}
	return domain.First(
		domain.CheckPositive("regulator setting", r.Setting, "Pa"),
		domain.Check("regulator reference", r.Reference, low, high, "Pa"),
		domain.Check("seat area over diaphragm area", r.SeatRatio, 0, 0.5, "1"),
	)
}

// Hold returns the pressure before the regulator, Pa gauge, with a pressure
// behind it in Pa gauge and a flow through it in m3/s, and whether it still
// controls. The setting follows the force balance
//
//	diaphragm:     p = set + (ref - r p_out)/(1 - r),  r = seat/diaphragm area
//	outlet spring: p = set + p_out
//
// and cannot be less than p_out plus the drop of the wide-open seat; at that
// floor the regulator has lost control. Domain: flow >= 0, density > 0, 0 <= r
// <= 0.5. Source: balance of forces on the diaphragm or valve.
func (r Regulator) Hold(outlet, flow, density float64) (pressure float64, controls bool, err error) {
	if err := domain.First(r.check(), domain.CheckFinite("regulator outlet pressure", outlet, "Pa")); err != nil {
		return 0, false, err
	}
	return r.hold(outlet, flow, density)
}

// hold is Hold for a regulator and a pressure already checked.
func (r *Regulator) hold(outlet, flow, density float64) (pressure float64, controls bool, err error) {
	seat := 0.0
	if r.WideOpenFlow != 0 {
		if seat, err = SquareLawLoss(r.WideOpen, r.WideOpenFlow, r.WideOpenDensity, flow, density); err != nil {
			return 0, false, err
		}
	}
	set := r.Setting + outlet
	if r.Kind == Diaphragm {
		set = r.Setting + (r.Reference-r.SeatRatio*outlet)/(1-r.SeatRatio)
	}
	floor := outlet + seat
	if floor >= set {
		return floor, false, nil
	}
	return set, true, nil
}
