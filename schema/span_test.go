package schema

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/quantity"
)

func si(t *testing.T, text string, d quantity.Dimension) float64 {
	v, err := quantity.Parse(text, d)
	require.NoError(t, err)
	return v.SI()
}

func TestAFactStatedAsARange(t *testing.T) {
	d, err := Load("d.yaml", []byte("plumbline: 1\nengine:\n  power: 280..320 hp\n  cylinders: 6..8\n  displacement: 4.1 L\nfuel: {ethanol: 10..12..15 %}\n"))
	require.NoError(t, err)

	_, known := d.Engine.Power.Get()
	assert.False(t, known)
	assert.False(t, d.Engine.Power.Known())
	assert.Nil(t, d.Engine.Power.Any())
	assert.True(t, d.Engine.Power.Ranged())
	assert.Equal(t, "280..320 hp", d.Engine.Power.Text())
	assert.Equal(t, 3, d.Engine.Power.Place().Line)
	low, usual, high, ok := d.Engine.Power.Span()
	require.True(t, ok)
	assert.Equal(t, si(t, "280 hp", quantity.DimPower), low.SI())
	assert.InEpsilon(t, si(t, "300 hp", quantity.DimPower), usual.SI(), 1e-12)
	assert.Equal(t, si(t, "320 hp", quantity.DimPower), high.SI())

	a, b, c, ok := d.Engine.Cylinders.Span()
	assert.Equal(t, [4]any{6, 7, 8, true}, [4]any{a, b, c, ok})
	_, middle, _, _ := d.Fuel.Ethanol.Span()
	assert.Equal(t, 0.12, middle.SI())
	_, _, _, ok = d.Engine.Displacement.Span()
	assert.False(t, ok)

	var paths []string
	for _, r := range d.Ranges() {
		paths = append(paths, r.Path())
	}
	assert.ElementsMatch(t, []string{"design.fuel.ethanol", "design.engine.power", "design.engine.cylinders"}, paths)

	require.NoError(t, d.Put("design.engine.cylinders", 6))
	n, known := d.Engine.Cylinders.Get()
	assert.True(t, known && n == 6)
	assert.False(t, d.Engine.Cylinders.Ranged())
}

// A range is refused where one value is meant, and each complaint says what to write.
func TestRangesRefused(t *testing.T) {
	for text, want := range map[string]string{
		"engine: {power: 320..280 hp}":                      "write 280 hp..320 hp",
		"engine: {power: 280..320 kg}":                      "a power is expected",
		"engine: {power: 280-320 hp}":                       "write 280..320 hp",
		"engine: {power: 300..90000 hp}":                    "write both ends of a range within that",
		"engine: {cylinders: 6..40}":                        "write both ends of a range within that",
		"engine: {cylinders: about 6}":                      "write the two ends, such as 4..8",
		"engine: {cylinders: 6-8}":                          "write 6..8",
		"vehicle: {model_year: about 1970}":                 "write the two ends, such as 1968..1972",
		"vehicle: {first_use_date: 1971-12-01..1972-01-01}": "day of the calendar",
		"vehicle: {air_conditioning: false..true}":          "true or false",
		"stage: planned..built":                             "is not one of",
	} {
		_, err := Load("d.yaml", []byte("plumbline: 1\n"+text+"\n"))
		assert.ErrorContains(t, err, want, text)
	}
}

func TestBetween(t *testing.T) {
	psi := func(n float64) quantity.Pressure {
		v, err := quantity.Parse("1 psi", quantity.DimPressure)
		require.NoError(t, err)
		return typed(reflect.TypeFor[quantity.Pressure](), quantity.MustNew(v.SI()*n, quantity.DimPressure)).(quantity.Pressure)
	}
	f := Between(psi(40), psi(43), psi(45))
	low, usual, high, ok := f.Span()
	assert.True(t, ok)
	assert.Equal(t, [3]quantity.Pressure{psi(40), psi(43), psi(45)}, [3]quantity.Pressure{low, usual, high})
	assert.False(t, f.Known())
	assert.True(t, IsStated(f))
	assert.Equal(t, "6..7..8", Between(6, 7, 8).Text())
	assert.Panics(t, func() { Between(8, 7, 6) })
	assert.Panics(t, func() { Between("a", "b", "c") })
}

// Of a template's value and the design's range the design's stands, and the other way round.
func TestRangesRestOnTemplates(t *testing.T) {
	files := shelf{"design.yaml": "based_on: t.yaml\nengine: {power: 280..320 hp}", "t.yaml": "engine: {power: 300 hp, displacement: 4.0..4.2 L}"}
	d, err := files.load()
	require.NoError(t, err)
	assert.Equal(t, "280..320 hp", d.Engine.Power.Text())
	assert.False(t, d.Engine.Power.Known())
	assert.Equal(t, "4.0..4.2 L", d.Engine.Displacement.Text())
	assert.Equal(t, "t.yaml", d.Engine.Displacement.Place().File)

	files["design.yaml"] = "based_on: t.yaml\nengine: {displacement: 4.1 L}"
	d, err = files.load()
	require.NoError(t, err)
	assert.True(t, d.Engine.Displacement.Known())
}

// What a design states, be it a range, is not filled from another; a range fills what is not stated.
func TestFillKeepsRanges(t *testing.T) {
	own, err := Load("a", []byte("plumbline: 1\nengine: {power: 280..320 hp}\n"))
	require.NoError(t, err)
	other, err := Load("b", []byte("plumbline: 1\nengine: {power: 300 hp, displacement: 4.0..4.2 L}\n"))
	require.NoError(t, err)
	out, filled := own.Fill([]*Design{other}, func(string, any, any) bool { return false })
	assert.Equal(t, [][]string{{"design.engine.displacement"}}, filled)
	assert.True(t, out.Engine.Power.Ranged() && out.Engine.Displacement.Ranged())
}
