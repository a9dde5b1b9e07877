package fluid

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func drawElement(t *rapid.T) Element {
	bore := rapid.Float64Range(0.002, 0.02).Draw(t, "bore")
	switch rapid.SampledFrom([]ElementKind{Pipe, Minor, BoreChange, Orifice, SquareLaw}).Draw(t, "kind") {
	case Pipe:
		return Element{Kind: Pipe, Bore: bore, Length: rapid.Float64Range(0, 5).Draw(t, "length"), Rise: rapid.Float64Range(-1, 1).Draw(t, "rise"),
			Roughness: rapid.Float64Range(0, 5e-5).Draw(t, "roughness"), FrictionMultiplier: rapid.SampledFrom([]float64{0, 1, 3}).Draw(t, "multiplier")}
	case Minor:
		return Element{Kind: Minor, Bore: bore, Count: rapid.IntRange(0, 4).Draw(t, "count"), Coefficient: TwoK(rapid.Float64Range(0, 2000).Draw(t, "k1"), 0.4)}
	case BoreChange:
		return Element{Kind: BoreChange, Bore: bore, BoreAfter: rapid.Float64Range(0.002, 0.02).Draw(t, "bore after")}
	case Orifice:
		return Element{Kind: Orifice, Hole: bore, Discharge: 0.6}
	}
	return Element{Kind: SquareLaw, RatedDrop: rapid.Float64Range(0, 1e4).Draw(t, "rated drop"), RatedFlow: 5e-5, RatedDensity: 745}
}

// The constants of a path give what LineLoss gives, from a standing liquid to a
// racing one.
func TestPathEqualsLineLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		elements := rapid.SliceOfN(rapid.Custom(drawElement), 0, 5).Draw(t, "elements")
		liquid := Liquid{Density: rapid.Float64Range(600, 900).Draw(t, "density"), Viscosity: rapid.Float64Range(3e-7, 3e-6).Draw(t, "viscosity")}
		p, err := newPath("line", elements, liquid)
		require.NoError(t, err)
		flow := rapid.OneOf(rapid.Float64Range(0, 2e-4), rapid.Float64Range(0, 1e-9)).Draw(t, "flow")
		want, err := LineLoss(elements, flow, liquid)
		require.NoError(t, err)
		have, err := p.at(flow)
		require.NoError(t, err)
		assert.InDelta(t, want.Friction, have.friction, 1e-12*want.Friction+1e-300)
		assert.InDelta(t, want.Total, have.total, 1e-12*(want.Friction+9e3))
	})
}

// What LineLoss refuses a path refuses in the same words, with the line's name.
func TestPathRefusesWhatLineLossRefuses(t *testing.T) {
	liquid := Liquid{Density: 745, Viscosity: 5e-7}
	for _, test := range []struct {
		name    string
		element Element
		flow    float64
	}{
		{"no bore", Element{Name: "hose", Kind: Pipe, Length: 1}, 0},
		{"unknown kind", Element{Name: "hose", Kind: "sponge"}, 0},
		{"against the flow", Element{Name: "hose", Kind: Pipe, Bore: 0.008, Length: 1}, -1e-6},
		{"Reynolds number above the chart", Element{Name: "hose", Kind: Pipe, Bore: 0.008, Length: 1}, 1},
		{"Reynolds number of a fitting", Element{Name: "elbow", Kind: Minor, Bore: 0.008, Coefficient: ConstantK(1)}, 1},
	} {
		t.Run(test.name, func(t *testing.T) {
			elements := []Element{test.element}
			_, want := LineLoss(elements, test.flow, liquid)
			require.Error(t, want)
			p, err := newPath("feed line", elements, liquid)
			if err == nil {
				_, err = p.at(test.flow)
			}
			assert.EqualError(t, err, "feed line: "+want.Error())
		})
	}
}

// A prepared supply solved at one voltage after another gives what a new one
// gives.
func TestPreparedSupplyRemembersNothing(t *testing.T) {
	base, err := NewCurve(CurveData{Kind: PositiveDisplacement, Voltage: 13.5,
		Points: []CurvePoint{{2e5, 5.4e-5, 5.4}, {3e5, 5e-5, 6.6}, {4e5, 4.5e-5, 7.9}, {5e5, 3.9e-5, 9.3}}})
	require.NoError(t, err)
	s := System{Layout: ReturnStyle, Liquid: Liquid{Density: 745, Viscosity: 5e-7}, Demand: 1e-5,
		Feed:      []Element{{Kind: Pipe, Bore: 0.008, Length: 4, Roughness: 4.5e-5}},
		Return:    []Element{{Kind: Pipe, Bore: 0.0065, Length: 4, Roughness: 4.5e-5}},
		Regulator: Regulator{Kind: Diaphragm, Setting: 3e5}}
	p, err := Prepare(s)
	require.NoError(t, err)
	_, err = p.Solve(Curve{})
	require.ErrorContains(t, err, "no pump curve")
	for _, volts := range []float64{14, 11, 13.5, 14} {
		s.Pump, err = base.AtVoltage(volts)
		require.NoError(t, err)
		want, err := Solve(s)
		require.NoError(t, err)
		have, err := p.Solve(s.Pump)
		require.NoError(t, err)
		assert.Equal(t, want, have)
	}
}
