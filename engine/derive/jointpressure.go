package derive

import (
	"plumbline/engine/physics/fluid"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// jointPressureEntries are what a gauge on a tee in a joint would read.
func jointPressureEntries() []Entry {
	return []Entry{{Name: "pressure", On: "LineEnd", PerPoint: true, Kind: Quantity, Dimension: quantity.DimPressure,
		Meaning: "gauge pressure of the fuel at the joint, as on a tee in it",
		Formula: "feed: pressure at the pump's outlet, suction: nothing less the strainer's loss, return: pressure behind the regulator; less the losses of the pieces before it and their share of the line's climb, which is shared out over hose and tube by length; " +
			"behind a regulator that stands in the line the pressure at the throttle body",
		Needs:   append(balanceNeeds(), "run.at.<point>.loss", "run.length", "design.feed.rise", "design.return_line.rise", "design.suction.rise"),
		Sources: append(balanceSources(), practice("where a line climbs is seldom measured: its pieces climb evenly")),
		Working: workJointPressure,
		Compute: func(c *Calc) any {
			terms := jointPressure(c)
			if c.Lacks() {
				return nil
			}
			return terms.at()
		}}}
}

// pressureTerms are what makes up the pressure at a joint, Pa.
type pressureTerms struct {
	begins         string
	begin          float64
	friction, rise float64
}

func (t pressureTerms) at() float64 { return t.begin - t.friction - t.rise }

// jointPressure finds the pressure at the joint of the calculation.
func jointPressure(c *Calc) pressureTerms {
	end := Part[schema.LineEnd](c)
	line, before := jointPlace(c, end)
	if line == nil {
		return pressureTerms{}
	}
	s := fuelSupplyAt(c, c.point)
	if c.Lacks() {
		return pressureTerms{}
	}
	c.Unreachable(s.failure)
	runs := Items(c, &line.line.Runs)
	rise := SI(c, &line.line.Rise)
	if c.Lacks() {
		return pressureTerms{}
	}
	out := pressureTerms{}
	switch line.name {
	case feedLine:
		out.begins, out.begin = "at the pump's outlet", s.state.PumpOutletPressure
	case returnLine:
		out.begins, out.begin = "behind the regulator", s.state.ReturnBackPressure
	default:
		out.begins = "in the tank"
		out.friction = strainerLoss(c, s)
	}
	shares := climbShares(c, runs)
	for i := range before {
		if word(c, &runs[i].Kind) == "fitting" && word(c, &runs[i].Fitting) == "pressure_regulator" {
			return pressureTerms{begins: "behind the regulator in the line", begin: s.state.ThrottleBodyPressure}
		}
		out.friction += c.ValueOn(&runs[i], c.point, "loss")
		out.rise += c.result(fluid.HydrostaticHead(s.system.Liquid.Density, rise*shares[i]))
	}
	return out
}

// jointPlace finds the line a joint lies in, and how many of its pieces lie before it. The pieces of a second tank have flows
// of their own and no pressures here.
func jointPlace(c *Calc, end *schema.LineEnd) (line *fuelLine, before int) {
	if joint(c) == nil {
		return nil, 0
	}
	for _, l := range linesOf(c.Design()) {
		runs := l.line.Runs.Items
		for i := range runs {
			switch end {
			case &runs[i].Inlet:
				line, before = &l, i
			case &runs[i].Outlet:
				line, before = &l, i+1
			}
		}
	}
	if line == nil || line.second {
		c.notThere(end.Path())
		return nil, 0
	}
	return line, before
}

// strainerLoss is what the strainer costs before the suction line.
func strainerLoss(c *Calc, s *fuelSupply) float64 {
	d := c.Design()
	if Fitted(c, &d.SurgeTank) || !Fitted(c, &d.Tank.Strainer) {
		return 0
	}
	e, ok := filterElement(c, "strainer", &d.Tank.Strainer.Part)
	if !ok || c.Lacks() {
		return 0
	}
	drop, err := fluid.LineLoss([]fluid.Element{e}, s.state.PumpFlow, s.system.Liquid)
	c.Unreachable(err)
	return drop.Friction
}

// climbShares are the shares of a line's climb that its pieces have: by length, those of a line without lengths alike.
func climbShares(c *Calc, runs []schema.Run) []float64 {
	out, whole := make([]float64, len(runs)), 0.0
	for i := range runs {
		if kind := word(c, &runs[i].Kind); kind == "hose" || kind == "tube" {
			out[i] = SI(c, &runs[i].Length)
			whole += out[i]
		}
	}
	for i := range out {
		if whole > 0 {
			out[i] /= whole
		} else {
			out[i] = 1 / float64(len(out))
		}
	}
	return out
}

func workJointPressure(w *Work) {
	terms := jointPressure(w.Calc)
	w.comes(terms.at(), "%s", w.sum(quantity.DimPressure, []term{
		{terms.begins, terms.begin}, {"lost in the pieces before it", -terms.friction}, {"climb", -terms.rise}}, 3))
}
