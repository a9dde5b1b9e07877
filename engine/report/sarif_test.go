package report

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
)

// oasis is the schema that OASIS publishes with SARIF 2.1.0, errata 01, as it was published: its id is its address.
const oasis = "../../testdata/sarif-schema-2.1.0.json"

// sarifStandard compiles the schema of the standard.
func sarifStandard(t *testing.T) *jsonschema.Schema {
	text, err := os.ReadFile(oasis)
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	require.NoError(t, compiler.AddResource("sarif.json", doc))
	standard, err := compiler.Compile("sarif.json")
	require.NoError(t, err)
	return standard
}

func TestSARIFFollowsTheStandard(t *testing.T) {
	standard := sarifStandard(t)
	odd := sample()
	odd.File, odd.Title = "/home/shop/job 1/a:b%.yaml", "\x1b[2J"
	odd.Findings[0].Place.File = odd.File
	for name, reports := range map[string][]*engine.Report{"none": nil, "sample": {sample()}, "clear": {clearReport()}, "odd": {odd}} {
		var b bytes.Buffer
		require.NoError(t, SARIF(&b, reports, about()))
		value, err := jsonschema.UnmarshalJSON(&b)
		require.NoError(t, err)
		assert.NoError(t, standard.Validate(value), name)
	}
	assert.Error(t, standard.Validate(map[string]any{"version": "2.1.0"}), "the check can fail")
}

// SARIF 2.1.0, 3.27.10: a level other than none goes with kind fail only; 3.52.3: ruleIndex points into driver.rules;
// 3.30.8: endColumn is one beyond the last character.
func TestSARIFResults(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, SARIF(&b, []*engine.Report{sample()}, about()))
	var log sarifLog
	require.NoError(t, json.Unmarshal(b.Bytes(), &log))
	run := log.Runs[0]
	require.Len(t, run.Results, 6)
	assert.Equal(t, 2, run.Properties.OpenNotListed)
	levels := map[string]int{}
	for _, r := range run.Results {
		assert.Equal(t, r.RuleID, run.Tool.Driver.Rules[r.RuleIndex].ID)
		assert.Equal(t, r.Kind != "fail", r.Level == "none", r.RuleID)
		levels[r.Kind+" "+r.Level]++
	}
	assert.Equal(t, map[string]int{"fail error": 4, "fail warning": 1, "open none": 1}, levels)
	assert.Equal(t, &sarifRegion{StartLine: 31, StartColumn: 26, EndColumn: 31}, run.Results[0].Locations[0].Physical.Region)
	assert.Equal(t, "accepted", run.Results[3].Suppressions[0].Status)
}

func TestFileURI(t *testing.T) {
	for file, want := range map[string]string{
		"van.yaml":            "van.yaml",
		"./jobs/van 1.yaml":   "jobs/van%201.yaml",
		"../van.yaml":         "../van.yaml",
		"a:b.yaml":            "./a:b.yaml",
		`jobs\van.yaml`:       "jobs/van.yaml",
		"/home/shop/van.yaml": "file:///home/shop/van.yaml",
		`C:\jobs\van.yaml`:    "file:///C:/jobs/van.yaml",
		"":                    "stdin",
	} {
		assert.Equal(t, want, fileURI(file), file)
	}
}
