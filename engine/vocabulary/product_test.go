package vocabulary

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/quantity"
)

// What comes out of products, by arithmetic that stands beside each.
func TestProductsFollowTheExponents(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	for _, text := range []string{
		"within(mm(100) * mm(200), cm2(200), cm2(0.001))",
		"within(cm2(20) * m(1), L(2), L(0.001))",
		"within(L(1) / L_per_h(120), s(30), s(0.001))",
		"within(A(10) * mohm(20), V(0.2), V(0.001))",
		"within(V(12) * A(10), W(120), W(0.01))",
		"within(W(120) / V(12), A(10), A(0.001))",
		"within(kPa(300) * L_per_h(120), W(10), W(0.001))", // 300e3 x 120e-3/3600
		"within(N(100) / cm2(1), bar(10), bar(0.001))",
		"within(N_m(100) * rpm(3000), kW(31.4159), W(1))", // 2 pi 50 /s x 100 N m
		"within(m(3) / s(2) / (m(1) / s(1)), 1.5, 0.0001)",
		"within(m(3) / s(2) * s(4), m(6), mm(1))",
		"within(kg(3) * m(1) * m(1) / (kg(1) * m(1)), m(3), mm(1))", // an anonymous product on the way
		"kg(2) * m(1) * m(1) > kg(1) * m(1) * m(1)",
		"within(percent(15) * L(60), L(9), L(0.001))",
		"within(L(9) / percent(15), L(60), L(0.001))",
		"within(percent(50) / percent(25), 2.0, 0.0001)",
		"within(1.0 / s(2), Hz(0.5), Hz(0.001))",
		"within(1 / s(2), Hz(0.5), Hz(0.001))",
		"within(2.0 * s(3), s(6), s(0.001))",
		"within(2 * s(3), s(6), s(0.001))",
		"within(deg(360) * Hz(50), rpm(3000), rpm(0.01))",
		"within(kPa_abs(100) * L(1), J(100), J(0.1))",
		"within(sum([mm(10), mm(20)]) * mm(100), cm2(30), cm2(0.01))",
		"within(size_of_change(kg(-3) * m(1)), kg(3) * m(1), kg(1) * mm(1))",
		"larger(kg(3) * m(1), kg(1) * m(1)) > kg(2) * m(1)",
		"greatest([1, 2].map(x, m(1) * kg(double(x)))) > kg(1) * m(1)",
	} {
		p, err := v.Compile(text, nil)
		if assert.NoError(t, err, text) {
			assert.Equal(t, true, p.Eval(valueNames{}).Value(), text)
		}
	}
}

// Wrong products are refused when the pack loads, with the dimensions named.
func TestWrongProductsAreRefused(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	for text, want := range map[string]string{
		"mm(3) * mm(4) > mm(3)": "mm(3) * mm(4) is an area, mm(3) is a length",
		"V(12) * A(10) > V(3)":  "a power",
		"kg(3) * m(2) > kPa(3)": "kg(3) * m(2) is a product in kg m, which has no name, kPa(3) is a pressure: they do not go together",
		"kg(3) * m(2) > 3.0":    "kg(3) * m(2) is a product in kg m, which has no name, 3.0 is a plain number: they do not go together",
		"dash * mm(3) > mm(3)":  "a dash size is a name of fittings",
		"m(1)*m(1)*m(1)*m(1)*m(1)*m(1)*m(1)*m(1)*m(1)*m(1) > m(1)": "a product of powers beyond 9 means nothing",
		"mm(design.pump.rated_flow) > mm(1)":                       "a unit has a plain number in its brackets, and this is a flow: write it without the unit",
		"kg(3) * m(2) == kg(3) * m(2)":                             "within",
	} {
		_, err := v.Compile(text, []Variable{NewVariable("dash", QuantityType(quantity.DimDashSize), nil)})
		if assert.Error(t, err, text) {
			assert.Contains(t, err.Error(), want, text)
		}
	}
}

// A pack that makes up dimensions without end is stopped, soon.
func TestMadeUpDimensionsEnd(t *testing.T) {
	v, err := New()
	require.NoError(t, err)
	units := []string{"kg(1)", "m(1)", "s(1)", "A(1)", "delta_K(1)", "rad(1)"}
	begin, refused := time.Now(), ""
	for i := 0; i < 4000 && refused == ""; i++ {
		var b strings.Builder
		b.WriteString("kg(1)")
		for n, k := i+1, 0; k < 12; n, k = n/3, k+1 {
			b.WriteString([]string{" * ", " / ", " * "}[n%3] + units[(n+k)%len(units)])
		}
		if _, err := v.Compile(b.String()+" > kg(1)", nil); err != nil && strings.Contains(err.Error(), "too many") {
			refused = err.Error()
		}
	}
	assert.Contains(t, refused, "the packs multiply and divide more than 150 pairs of dimensions")
	assert.Less(t, time.Since(begin), 2*time.Second)
	t.Log(time.Since(begin))
}
