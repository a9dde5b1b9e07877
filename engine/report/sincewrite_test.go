package report

import (
	"bytes"
	"encoding/json"
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
	"plumbline/schema"
)

// changed compares the sample with an earlier state of it: the hose without a name was not there, the return line's
// back-pressure was only doubtful, the coolant sensor was wrong, the clamp rule is gone, the age of the hose was not conceded.
func changed() *Progress {
	old := sample()
	old.Stage = "planned"
	list := old.Findings
	list[2].Outcome, list[2].Blocks = engine.Warn, false
	list[3].Conceded = nil
	list[7].Outcome = engine.Fail
	list[8].Outcome, list[8].Blocks = engine.Fail, true
	list[8].Place = schema.Place{File: "truck.yaml", Line: 55, Column: 3}
	clamp := list[8]
	clamp.Rule, clamp.Subject, clamp.SubjectName = "fuel/lines.clamps", "design.feed.runs[0]", "tank \x1b[2J hose"
	old.Findings = append([]engine.Finding{list[0], clamp}, list[2:]...)
	stored := NewDocument([]*engine.Report{old, {File: "gone.yaml"}}, About{Digest: "ff", Packs: about().Packs})
	stored.Library.Packs = append(stored.Library.Packs, Pack{Name: "fuel/lines"})
	return NewProgress("before.json", &stored, []*engine.Report{sample(), clearReport()}, about())
}

func TestSinceGolden(t *testing.T) {
	for name, write := range map[string]func(p *Progress, w io.Writer) error{
		"since.txt":   func(p *Progress, w io.Writer) error { return p.Text(w, TextOptions{}) },
		"since.json":  (*Progress).JSON,
		"since.sarif": (*Progress).SARIF,
		"since.md":    (*Progress).Markdown,
	} {
		t.Run(name, func(t *testing.T) {
			var b, again bytes.Buffer
			require.NoError(t, write(changed(), &b))
			require.NoError(t, write(changed(), &again))
			assert.Equal(t, b.String(), again.String(), "the same input gives the same bytes")
			file := filepath.Join(goldenDir, name)
			if *update {
				require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), b.String(), "run go test ./engine/report -run SinceGolden -update and read the difference")
		})
	}
}

func TestSinceCounts(t *testing.T) {
	assert.Equal(t, Changes{New: 1, Worse: 1, Milder: 1, Mended: 3, Gone: 1, Unchanged: 4, Blocking: 1, Dangerous: 2}, changed().counts())
	assert.True(t, changed().Blocks())
}

func TestSinceJSONFollowsItsSchema(t *testing.T) {
	compiler := jsonschema.NewCompiler()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.ReportSchema()))
	require.NoError(t, err)
	require.NoError(t, compiler.AddResource("report.json", doc))
	compiled, err := compiler.Compile("report.json")
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, changed().JSON(&b))
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	assert.NoError(t, compiled.Validate(value))

	// The report of a comparison is a report, and can be stored in its turn.
	var stored Document
	require.NoError(t, json.Unmarshal(b.Bytes(), &stored))
	again := NewProgress("after.json", &stored, []*engine.Report{sample(), clearReport()}, about())
	assert.Equal(t, Changes{Unchanged: 8, Dangerous: 3}, again.counts())
	lead, rest := again.headline()
	assert.Equal(t, "Nothing is new since after.json.", lead)
	assert.Equal(t, "0 mended, 8 stay. 3 old dangers of fire, poisoning or loss of control still stop it.", rest)
}

// The outside check is the schema that OASIS publishes with SARIF 2.1.0; 3.27.24: baselineState is new, unchanged,
// updated or absent, and stands on every result of a run or on none.
func TestSinceSARIFFollowsTheStandard(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, changed().SARIF(&b))
	var log sarifLog
	require.NoError(t, json.Unmarshal(b.Bytes(), &log))
	states := map[string][]string{}
	for _, r := range log.Runs[0].Results {
		states[r.Baseline] = append(states[r.Baseline], r.RuleID)
		assert.Equal(t, r.RuleID, log.Runs[0].Tool.Driver.Rules[r.RuleIndex].ID)
		assert.Equal(t, r.Kind != "fail", r.Level == "none", r.RuleID)
		if r.Baseline == "absent" {
			assert.False(t, r.Properties.Blocks)
			assert.Equal(t, "truck.yaml", r.Locations[0].Physical.Artifact.URI)
		}
	}
	assert.Equal(t, map[string][]string{
		"new":       {"fuel/lines.exhaust-clearance"},
		"unchanged": {"fuel/lines.exhaust-clearance", "wiring/fuse.pump-feed"},
		"updated":   {"fuel/return.back-pressure", "fuel/return.hose-age", "fuel/delivery.flow-at-full-load"},
		"absent":    {"sensors/coolant.place", "fuel/lines.clamps"},
	}, states)

	b.Reset()
	require.NoError(t, SARIF(&b, []*engine.Report{sample()}, about()))
	assert.NotContains(t, b.String(), "baselineState")

	standard := sarifStandard(t)
	b.Reset()
	require.NoError(t, changed().SARIF(&b))
	value, err := jsonschema.UnmarshalJSON(&b)
	require.NoError(t, err)
	assert.NoError(t, standard.Validate(value))
}

// No text of a stored report reaches the terminal as a control sequence, and no line is wider than asked.
func TestSinceTextIsSafeAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		odd := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune{'\x1b', '\n', '\u202e', ' ', 'a', '[', ']'})))
		old := sample()
		for i := range old.Findings {
			f := &old.Findings[i]
			f.Rule, f.Title, f.Subject, f.SubjectName = odd.Draw(t, "rule"), odd.Draw(t, "title"), odd.Draw(t, "subject"), odd.Draw(t, "name")
			if f.Conceded != nil {
				f.Conceded.Until = odd.Draw(t, "until")
			}
		}
		old.Stage = odd.Draw(t, "stage")
		stored := NewDocument([]*engine.Report{old, {File: odd.Draw(t, "file")}}, about())
		width := rapid.IntRange(leastWidth, 120).Draw(t, "width")
		var b bytes.Buffer
		if err := NewProgress(odd.Draw(t, "report"), &stored, []*engine.Report{sample()}, about()).Text(&b, TextOptions{Width: width}); err != nil {
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
