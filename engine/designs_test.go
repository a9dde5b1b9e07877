package engine_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/engine/planted"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/testdata/builds"
)

const designsFolder = "../designs"

// packs are the rules of the program compiled from their packs, once: judging changes nothing of them.
var packs = sync.OnceValues(func() (*engine.Library, error) { return engine.Load(rules.Files()) })

// library gives the rules the program ships with.
func library(t testing.TB) *engine.Library {
	t.Helper()
	lib, err := packs()
	require.NoError(t, err)
	return lib
}

// designText reads a design of the designs folder, with what it takes from others written out.
func designText(t testing.TB, name string) []byte {
	t.Helper()
	return builds.Text(t, filepath.Join(designsFolder, name))
}

// judged judges a design given as text.
func judged(t testing.TB, lib *engine.Library, name string, text []byte) *engine.Report {
	t.Helper()
	design, err := schema.Load(name, text)
	require.NoError(t, err)
	return lib.Judge(design, engine.Options{})
}

// having lists the findings of one of the outcomes.
func having(r *engine.Report, outcomes ...engine.Outcome) []engine.Finding {
	var out []engine.Finding
	for _, f := range r.Findings {
		if slices.Contains(outcomes, f.Outcome) {
			out = append(out, f)
		}
	}
	return out
}

// lines writes findings for the message of a failed test.
func lines(found []engine.Finding) string {
	var b strings.Builder
	for _, f := range found {
		fmt.Fprintf(&b, "\n%s %s on %s %s: %s %v %v", f.Outcome, f.Rule, f.Subject, f.SubjectName, f.Text, f.Missing, f.Unreachable)
	}
	return b.String()
}

// An experienced installer would sign these off: no rule may complain, and as every fact that matters is stated
// none may stay open, but for what a build that is not that far yet cannot know.
func TestCleanDesigns(t *testing.T) {
	t.Parallel()
	lib := library(t)
	names := []string{"demo/six-return.yaml", "demo/van-v6-in-tank.yaml"}
	good, err := filepath.Glob(filepath.Join(designsFolder, "good", "*.yaml"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(good), 4)
	for _, file := range good {
		names = append(names, "good/"+filepath.Base(file))
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			design, err := schema.Load(name, designText(t, name))
			require.NoError(t, err)
			report := lib.Judge(design, engine.Options{Today: planted.Day()})
			left := planted.Left(report)
			assert.Empty(t, left, lines(left))
			assert.Zero(t, report.Blocking())
		})
	}
}

// Builds that rest on others are planned: no rule may complain, and only what is asked of the finished vehicle may be open.
func TestPlannedDesigns(t *testing.T) {
	t.Parallel()
	lib := library(t)
	files, err := filepath.Glob(filepath.Join(designsFolder, "good", "planned", "*.yaml"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 16)
	later := regexp.MustCompile(`^design\.(registration|papers|condition|procedure|measured)\b`)
	for _, file := range files {
		name := "good/planned/" + filepath.Base(file)
		t.Run(name, func(t *testing.T) {
			design, err := schema.LoadBased(name, designText(t, name), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(designsFolder, name)) })
			require.NoError(t, err)
			report := lib.Judge(design, engine.Options{})
			bad := having(report, engine.Fail, engine.Warn)
			assert.Empty(t, bad, lines(bad))
			for _, f := range having(report, engine.Open) {
				for _, missing := range f.Missing {
					assert.Regexp(t, later, missing, f.Rule)
				}
				assert.NotEmpty(t, f.Missing, "%s is open without a question: %v", f.Rule, f.Unreachable)
			}
		})
	}
}

// fault is one mistake of a design and the findings it is known by.
type fault struct {
	// note is how the line of the design that holds it begins.
	note string
	// rules are the rules that must find it.
	rules []string
	// subject is the part they must find it on, when the rule judges several.
	subject string
}

func TestFaultyDesign(t *testing.T) {
	const name = "demo/four-faulty.yaml"
	faults := []fault{
		{"the old vent pipe", []string{"fuel/tank.breathes"}, ""},
		{"pumps on with", []string{"fuel/delivery.stops-with-engine"}, ""},
		{"carburettor hose at injection pressure", []string{"fuel/hose.injection-grade"}, "engine hose"},
		{"the carburettor regulator was left", []string{"fuel/regulator.old-one-removed"}, ""},
		{"one spring, and", []string{"throttle/control.two-springs"}, ""},
		{"hangs below the pipe", []string{"sensors/oxygen.not-hanging"}, "front pipe"},
		{"the old ported drilling", []string{"air/vacuum.pressure-port"}, ""},
		{"the box puts some 400 V", []string{"sensors/speed.no-discharge-coil"}, ""},
		{"weights free while", []string{"ignition/modes.advance-locked"}, ""},
		{"copper wire beside", []string{"ignition/interference.suppressed-wires"}, ""},
		{"rain runs down", []string{"body/controller.connectors-not-up"}, ""},
		{"taken from the coil", []string{"electrical/power.key-feed-source"}, ""},
		{"40 A on a wire", []string{"electrical/fusing.fuse-within-wire"}, "fuel pump"},
		{"30 in of bare wire", []string{"electrical/fusing.fuse-near-source"}, "controller power"},
		{"the fuel line carries", []string{"body/clearances.not-on-fuel-line"}, ""},
		{"two live ends", []string{"body/routing.unused-wires"}, ""},
		{"the controller's plug", []string{"body/passages.hole-large-enough"}, "firewall, harness"},
		{"wire on a bare edge", []string{"body/passages.edge-lined"}, "floor, pump wire"},
	}
	text := designText(t, name)
	assert.Equal(t, len(faults), strings.Count(string(text), "# fault: "), "every planted fault has a row here and a note in the file")
	report := judged(t, library(t), name, text)
	found := having(report, engine.Fail, engine.Warn)

	wanted := map[string]bool{}
	for _, f := range faults {
		assert.Contains(t, string(text), "# fault: "+f.note)
		for _, rule := range f.rules {
			wanted[rule] = true
			assert.True(t, slices.ContainsFunc(found, func(x engine.Finding) bool {
				return x.Rule == rule && (f.subject == "" || x.SubjectName == f.subject)
			}), "%s is not found by %s", f.note, rule)
		}
	}
	for _, f := range found {
		assert.True(t, wanted[f.Rule], "no fault was planted for this: %s", lines([]engine.Finding{f}))
	}
	assert.Positive(t, report.Blocking())
	for _, f := range having(report, engine.Open) {
		assert.False(t, f.Blocks, "the design is complete for its stage: %s", lines([]engine.Finding{f}))
	}
}

func TestCounterDesign(t *testing.T) {
	const name = "demo/counter-half-known.yaml"
	report := judged(t, library(t), name, designText(t, name))

	fails := having(report, engine.Fail)
	require.Len(t, fails, 1, lines(fails))
	assert.Equal(t, "fuel/hose.injection-grade", fails[0].Rule)
	assert.Equal(t, "hose from the parts box", fails[0].SubjectName)
	assert.Equal(t, pack.Fire, fails[0].Danger)
	assert.NotZero(t, fails[0].Place.Line)

	assert.Empty(t, having(report, engine.Warn))
	assert.GreaterOrEqual(t, report.Count(engine.Pass), 5, "what is known is judged")
	assert.Greater(t, report.Count(engine.Open), report.Count(engine.Pass), "most is not known yet")

	require.NotEmpty(t, report.Asked)
	assert.True(t, report.Asked[0].Danger.Grave(), "questions behind a grave danger come first")
	for _, q := range report.Asked {
		assert.NotEmpty(t, q.Ask, q.Path)
		assert.NotEmpty(t, q.Rules, q.Path)
	}
}
