package report

import (
	"bytes"
	"encoding/json"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
)

var update = flag.Bool("update", false, "rewrite the golden reports")

const goldenDir = "../../testdata/golden"

func about() About {
	return About{Version: "test", Digest: "00", Packs: []*pack.Pack{{Pack: "fuel/lines", Title: "Fuel lines", Edition: 2}}}
}

func TestGolden(t *testing.T) {
	two := []*engine.Report{sample(), clearReport()}
	for name, write := range map[string]func(w io.Writer) error{
		"sheet.txt":         func(w io.Writer) error { return Text(w, two, TextOptions{}) },
		"sheet-narrow.txt":  func(w io.Writer) error { return Text(w, two[:1], TextOptions{Width: 44}) },
		"sheet-verbose.txt": func(w io.Writer) error { return Text(w, two, TextOptions{Verbose: true}) },
		"report.json":       func(w io.Writer) error { return JSON(w, two, about()) },
		"report.sarif":      func(w io.Writer) error { return SARIF(w, two, about()) },
		"summary.md":        func(w io.Writer) error { return Markdown(w, two) },
	} {
		t.Run(name, func(t *testing.T) {
			var b, again bytes.Buffer
			require.NoError(t, write(&b))
			require.NoError(t, write(&again))
			assert.Equal(t, b.String(), again.String(), "the same reports give the same bytes")
			file := filepath.Join(goldenDir, name)
			if *update {
				require.NoError(t, os.MkdirAll(goldenDir, 0o755))
				require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), b.String(), "run go test ./engine/report -update and read the difference")
		})
	}
}

func TestColourOnlyRepeatsWords(t *testing.T) {
	var plain, coloured bytes.Buffer
	require.NoError(t, Text(&plain, []*engine.Report{sample()}, TextOptions{}))
	require.NoError(t, Text(&coloured, []*engine.Report{sample()}, TextOptions{Colour: true}))
	text := coloured.String()
	assert.Contains(t, text, styleFail+"1. Wrong:"+styleEnd)
	for _, style := range []string{styleEnd, styleBold, styleFail, styleWarn, styleOpen} {
		text = strings.ReplaceAll(text, style, "")
	}
	assert.Equal(t, plain.String(), text)
}

// No text of a design reaches the terminal as a control sequence, and no line is wider than asked.
func TestTextIsSafeAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := sample()
		odd := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune{'\x1b', '\n', '\u202e', ' ', 'a', '\u200b'})))
		r.Title, r.File = odd.Draw(t, "title"), odd.Draw(t, "file")
		for i := range r.Findings {
			f := &r.Findings[i]
			f.Text, f.Remedy, f.SubjectName, f.Part = odd.Draw(t, "text"), odd.Draw(t, "remedy"), odd.Draw(t, "name"), odd.Draw(t, "part")
			f.Place.File = r.File
		}
		r.Asked[0].Example = odd.Draw(t, "example")
		r.Assumed[0].Value = odd.Draw(t, "value")
		width := rapid.IntRange(leastWidth, 120).Draw(t, "width")
		var b bytes.Buffer
		if err := Text(&b, []*engine.Report{r}, TextOptions{Width: width, Verbose: rapid.Bool().Draw(t, "verbose")}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > width {
				t.Fatalf("%d characters in %q", n, line)
			}
			if line != "" && clean(line) != strings.Join(strings.Fields(line), " ") {
				t.Fatalf("control characters in %q", line)
			}
		}
	})
}

func TestJSONFollowsItsSchema(t *testing.T) {
	compiler := jsonschema.NewCompiler()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.ReportSchema()))
	require.NoError(t, err)
	require.NoError(t, compiler.AddResource("report.json", doc))
	compiled, err := compiler.Compile("report.json")
	require.NoError(t, err)
	for name, reports := range map[string][]*engine.Report{"none": nil, "sample": {sample()}, "clear": {clearReport()}, "empty": {{}}} {
		var b bytes.Buffer
		require.NoError(t, JSON(&b, reports, about()))
		value, err := jsonschema.UnmarshalJSON(&b)
		require.NoError(t, err)
		assert.NoError(t, compiled.Validate(value), name)
	}
	assert.Error(t, compiled.Validate(map[string]any{"format": 1}), "the check can fail")
}

// The JSON report of the engine's own numbers reads back unchanged.
func TestJSONKeepsNumbers(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, JSON(&b, []*engine.Report{sample()}, about()))
	var d Document
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	assert.Equal(t, 0.031, d.Reports[0].Findings[0].Measured.Value)
	assert.Equal(t, -0.38, *d.Reports[0].Findings[0].Bounds[0].Margin)
	assert.Equal(t, Counts{Pass: 1, Warn: 1, Fail: 4, Open: 3, NotApplicable: 1, Blocking: 3}, d.Reports[0].Counts)
}

func TestMarginWords(t *testing.T) {
	margin := func(f float64) *float64 { return &f }
	for want, b := range map[string]engine.BoundFound{
		"must be at most 34 kPa (21 % over)":                {Of: "must", Op: "at_most", Bound: engine.Number{Text: "34 kPa"}, Margin: margin(-0.2059)},
		"must be at least 34 kPa (2.6 % short)":             {Of: "must", Op: "at_least", Bound: engine.Number{Text: "34 kPa"}, Margin: margin(-0.0261)},
		"should be less than 3 (12 % in hand)":              {Of: "should", Op: "less_than", Bound: engine.Number{Text: "3"}, Met: true, Margin: margin(0.12)},
		"must be at most 120 degC (not met)":                {Of: "must", Op: "at_most", Bound: engine.Number{Text: "120 degC"}},
		"must be at least 0 V (met)":                        {Of: "must", Op: "at_least", Bound: engine.Number{Text: "0 V"}, Met: true},
		"must be more than 3 (just not met)":                {Of: "must", Op: "more_than", Bound: engine.Number{Text: "3"}, Margin: margin(0)},
		"must be at least 3 (met with nothing in hand)":     {Of: "must", Op: "at_least", Bound: engine.Number{Text: "3"}, Met: true, Margin: margin(0)},
		"must be at most 0.001 A (more than 10 times over)": {Of: "must", Op: "at_most", Bound: engine.Number{Text: "0.001 A"}, Margin: margin(-5000)},
		"must be at most 34 kPa (under 0.1 % over)":         {Of: "must", Op: "at_most", Bound: engine.Number{Text: "34 kPa"}, Margin: margin(-0.0001)},
	} {
		assert.Equal(t, want, boundWords(b))
	}
}

func TestMarkdownTextCannotMarkUp(t *testing.T) {
	assert.Equal(t, `a \| b \[x\](y) &lt;img&gt;`, strings.ReplaceAll(MarkdownText("a | b [x](y) <img>"), ">", "&gt;"))
}
