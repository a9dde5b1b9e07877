package sheet

import (
	"math"

	"plumbline/engine/pack"
	"plumbline/schema/quantity"
)

// reading is a step that a pack tells how far sound vehicles and the instrument may be off; none where the vehicle has nothing of
// the kind.
func (s *startUp) reading(fact, do, ifNot string) {
	for _, p := range s.Packs {
		for i := range p.Readings {
			r := &p.Readings[i]
			if r.Fact != fact {
				continue
			}
			expect := s.Session.Named(r.Expected())
			if expect == nil || expect.Absent != "" {
				return
			}
			s.measure(do, expect, func(value float64) band {
				b, off := noBand(), 0.0
				for _, m := range []*pack.Margin{&r.Error, &r.Scatter} {
					off = math.Hypot(off, s.off(p.Pack, m, value))
				}
				b.fineHigh, b.by = value+off, []string{"readings." + fact}
				if value < 0 || off < value { // what goes one way only has no lower end at nought
					b.fineLow = value - off
				}
				return b
			}, s.Design.FactAt("design."+fact), ifNot)
		}
	}
}

// off is how far a value may be off by one margin.
func (s *startUp) off(in string, m *pack.Margin, value float64) (out float64) {
	if m.Share.Text != "" {
		out = s.figure(in, m.Share.Text) * math.Abs(value)
	}
	if m.Plus.Text != "" {
		out += s.figure(in, m.Plus.Text)
	}
	return out
}

// warm is the temperature at which the warm coolant sensor is read.
func (s *startUp) warm() string {
	return s.note(quantity.MustNew(353.15, quantity.DimTemperature).Format(s.Units), "how warm")
}
