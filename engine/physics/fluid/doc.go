// Package fluid computes the flow of a liquid through small pipes, hoses,
// fittings, filters and pumps, and the working point of a fuel supply.
//
// All values are SI: Pa, m, m3/s, m/s, kg/m3, m2/s. Friction factors are
// Darcy's (four times Fanning's). Pressures of a supply are gauge, above the
// pressure of the tank's vapour space.
//
//	loss, err := fluid.LineLoss([]fluid.Element{
//		{Name: "feed", Kind: fluid.Pipe, Bore: 8.1e-3, Length: 5, Roughness: 1.5e-6},
//	}, flow, fluid.Liquid{Density: 745, Viscosity: 0.6e-6})
//
// The main types are Element (one piece of a line), Curve (a pump) and System
// (pump, lines, regulator and demand, solved together by Solve).
//
// Limits: steady flow of one liquid phase; no pulsation, no vapour, no heat.
// Between Reynolds 2000 and 4000 the friction factor is uncertain by tens of
// per cent whatever the formula; Churchill's passes through without a jump and is
// brought to Colebrook's at 4000, which is used from there up.
package fluid
