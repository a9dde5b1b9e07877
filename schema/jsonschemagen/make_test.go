package jsonschemagen

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// report stands for a root type of another kind: plain Go fields and a quantity.
type report struct {
	Name  string            `json:"name"`
	Limit quantity.Pressure `json:"limit,omitzero"`
	Lines []line            `json:"lines,omitempty"`
}

type line struct {
	Text string `json:"text"`
}

func makeAndCompile(t *testing.T, e Entry) (*jsonschema.Schema, string) {
	dir, err := ModuleDir()
	require.NoError(t, err)
	text, err := Make(dir, e)
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("x.json", doc))
	compiled, err := compiler.Compile("x.json")
	require.NoError(t, err)
	return compiled, string(text)
}

func accepts(t *testing.T, s *jsonschema.Schema, text string) bool {
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	require.NoError(t, err)
	return s.Validate(doc) == nil
}

func TestMakePlainTypes(t *testing.T) {
	s, _ := makeAndCompile(t, Entry{Title: "Report", Root: report{}})
	assert.True(t, accepts(t, s, `{"name": "x", "limit": "58 psi", "lines": [{"text": "y"}]}`))
	assert.False(t, accepts(t, s, `{"name": "x", "limit": "58"}`), "a quantity needs a unit")
	assert.False(t, accepts(t, s, `{"limit": "58 psi"}`), "a field without omitempty is required")
	assert.False(t, accepts(t, s, `{"name": "x", "colour": 1}`))
}

func TestMakeDesign(t *testing.T) {
	s, text := makeAndCompile(t, Entry{Title: "Design", Root: schema.Design{}, Required: []string{"plumbline"}})
	for doc, want := range map[string]bool{
		`{"plumbline": 1}`: true,
		`{}`:               false,
		`{"plumbline": 2}`: false,
		`{"plumbline": 1, "return_line": "none", "circuits": "none", "regions": "none"}`:             true,
		`{"plumbline": 1, "return_line": {}, "circuits": [{}], "regions": ["us"]}`:                   true,
		`{"plumbline": 1, "pump": "none"}`:                                                           false,
		`{"plumbline": 1, "regions": [1]}`:                                                           false,
		`{"plumbline": 1, "fuel": {"ethanol": 0.1}}`:                                                 false,
		`{"plumbline": 1, "fuel": {"ethanol": "0.1"}}`:                                               false,
		`{"plumbline": 1, "fuel": {"ethanol": "10 %"}}`:                                              true,
		`{"plumbline": 1, "fuel": {"ethanol": "E10"}}`:                                               true,
		`{"plumbline": 1, "engine": {"volumetric_efficiency": 0.8}}`:                                 true,
		`{"plumbline": 1, "fuel": {"ethanol": "much"}}`:                                              false,
		`{"plumbline": 1, "sensors": {"manifold_pressure": {"shared_with": ["brake_booster"]}}}`:     true,
		`{"plumbline": 1, "sensors": {"manifold_pressure": {"shared_with": ["brake_boosters"]}}}`:    false,
		`{"plumbline": 1, "circuits": [{"load": {"runs_at": ["idle"]}}]}`:                            true,
		`{"plumbline": 1, "circuits": [{"load": {"runs_at": ["brake_booster"]}}]}`:                   false,
		`{"plumbline": 1, "circuits": [` + strings.TrimSuffix(strings.Repeat("{},", 64), ",") + `]}`: true,
		`{"plumbline": 1, "circuits": [` + strings.TrimSuffix(strings.Repeat("{},", 65), ",") + `]}`: false,
	} {
		assert.Equal(t, want, accepts(t, s, doc), "%.80s", doc)
	}
	assert.NotContains(t, text, "Maybe[")
	assert.NotContains(t, text, "Fact[")
	assert.NotContains(t, text, "List[")
	assert.Contains(t, text, "Gauge pressure it holds.\\n\\nFrom 1 kPa to 1500 kPa.")
}

// The pattern of a dimension lets through every spelling of its units, in the forms quantities are written in.
func TestPatternsAreNotStricterThanParse(t *testing.T) {
	forms := []string{"3 %s", "3%s", "-3.5 %s", "1e3 %s", "3/8 %s", "1 1/2 %s", "\u00bd %s", "1\u00bd\u00a0%s", " 3 %s ", "\u22123 %s", "3-%s", "3 (%s)"}
	read := 0
	for _, u := range quantity.Units() {
		s := dimensionSchema(u.Dimension)
		if u.Dimension == quantity.DimRatio {
			s = s.OneOf[1]
		}
		pattern := regexp.MustCompile(s.Pattern)
		for _, spelling := range append([]string{u.Symbol}, u.Aliases...) {
			variants := []string{spelling, strings.ToUpper(spelling), strings.ToLower(spelling), "\u00b5" + strings.TrimPrefix(spelling, "u"),
				strings.Replace(spelling, "ohm", "\u03a9", 1), strings.Replace(spelling, "deg", "\u00b0", 1), spelling + " " + spelling}
			for _, variant := range variants {
				for _, form := range forms {
					text := strings.Replace(form, "%s", variant, 1)
					if _, err := quantity.Parse(text, u.Dimension); err == nil {
						read++
						assert.Regexp(t, pattern, text, u.Dimension)
					}
				}
			}
		}
	}
	assert.Greater(t, read, 1000)
	for text, d := range map[string]quantity.Dimension{"14 ft 6 in": quantity.DimLength, "14' 6\u2033": quantity.DimLength, "#12 AWG": quantity.DimWireSize,
		"AWG 1/0": quantity.DimWireSize, "-6": quantity.DimDashSize, "E10": quantity.DimShare, "e 85": quantity.DimShare, "14.7:1": quantity.DimRatio} {
		pattern := dimensionSchema(d).Pattern
		if d == quantity.DimRatio {
			pattern = dimensionSchema(d).OneOf[1].Pattern
		}
		_, err := quantity.Parse(text, d)
		require.NoError(t, err, text)
		assert.Regexp(t, pattern, text)
	}
}

// The same of what a design may state as a range, with every spelling of the units and of the marks.
func TestPatternsLetRangesThrough(t *testing.T) {
	forms := []string{"3..4 %s", "3 %s..4 %s", "3 .. 3.5..4%s", "3\u20264 %s", "\u22123..4 %s", "3/8..1/2 %s", "\u00bd..1\u00bd %s", ".5..1e3 %s", "3 %s +- 5 %", "3 %s \u00b1 1 %s", "3\u00b11 %s", "3 +/- 1 %s", "3 +\u2212 1 %s",
		"about 3 %s", "ABOUT\u00a03 %s", " approx. 3 %s", "approximately 3 %s", "Approx 3 %s", "ca. 3 %s", "ca 3 %s", "circa 3 %s", "~3 %s", "~ 3 %s", "\u22483 %s", "E10..E20", "4..3 %s", "-3 %s..-2 %s"}
	read := map[string]int{}
	for _, u := range quantity.Units() {
		s := statedSchema(u.Dimension)
		if u.Dimension == quantity.DimRatio {
			s = s.OneOf[1]
		}
		pattern := regexp.MustCompile(s.Pattern)
		for _, spelling := range append([]string{u.Symbol}, u.Aliases...) {
			for _, form := range forms {
				text := strings.ReplaceAll(form, "%s", spelling)
				if _, is, err := quantity.ParseRange(text, u.Dimension); is && err == nil {
					read[form]++
					assert.Regexp(t, pattern, text, u.Dimension)
				}
			}
		}
	}
	for _, form := range forms {
		assert.NotZero(t, read[form], "%s is read in no unit", form)
	}
	for _, text := range []string{"6..8", "6..7..8", " 6 .. 8 ", "7 +- 1", "7\u00b11", "7+/-1", "6\u20268", "\u22123..3"} {
		_, _, _, is, err := quantity.ParseWholeRange(text)
		require.True(t, is && err == nil, text)
		assert.Regexp(t, wholeRange, text)
	}
	for _, text := range []string{"6", "six", "1971-12-01", "6-8"} {
		assert.NotRegexp(t, wholeRange, text)
	}
}

func TestPatternsCatchTheUsualSlips(t *testing.T) {
	for text, d := range map[string]quantity.Dimension{"58": quantity.DimPressure, "psi": quantity.DimPressure, "58 V": quantity.DimPressure,
		"12 psi": quantity.DimVoltage, "high": quantity.DimFlow, "12": quantity.DimWireSize, "": quantity.DimLength} {
		assert.NotRegexp(t, dimensionSchema(d).Pattern, text, d)
	}
}

func TestDimensionExamplesFit(t *testing.T) {
	for _, d := range quantity.Dimensions() {
		text, err := json.Marshal(dimensionSchema(d).Examples[0])
		require.NoError(t, err)
		compiler := jsonschema.NewCompiler()
		definition, err := json.Marshal(dimensionSchema(d))
		require.NoError(t, err)
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(definition))
		require.NoError(t, err)
		require.NoError(t, compiler.AddResource("d.json", doc))
		assert.True(t, accepts(t, compiler.MustCompile("d.json"), string(text)), "%s: %s", d, text)
	}
}

// A definition has the name of its type without the package: two types of one name cannot both have one.
func TestMakeRefusesTwoTypesOfOneName(t *testing.T) {
	type line struct {
		Length string `json:"length"`
	}
	type twice struct {
		Lines []line `json:"lines"`
		Of    report `json:"of"`
	}
	dir, err := ModuleDir()
	require.NoError(t, err)
	_, err = Make(dir, Entry{Title: "Twice", Root: twice{}})
	assert.ErrorContains(t, err, "two types have one name in a schema")
}
