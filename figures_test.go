package plumbline_test

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/planted"
	"plumbline/engine/proof"
	"plumbline/engine/report"
	"plumbline/rules"
	"plumbline/testdata/proofs"
)

var updateFigures = flag.Bool("update-figures", false, "write the figures of the library into README.md anew")

var (
	figuresBlock = regexp.MustCompile(`(?s)<!-- figures -->\n(.*?)<!-- end of figures -->`)
	figuresDate  = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)
)

// README's figures of the library are what it gives now: cases run, rules mutated, mistakes planted, good builds judged.
// The date is the day they last changed.
func TestLibraryFigures(t *testing.T) {
	proofs.Only(t)
	table := figures(t)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	found := figuresBlock.FindSubmatchIndex(readme)
	require.NotNil(t, found, "README.md has no place for the figures")
	shown := string(readme[found[2]:found[3]])
	day := figuresDate.FindString(shown)
	t.Log("\n" + strings.Replace(table, "on DAY", "today", 1))
	if *updateFigures && shown != dated(table, day) {
		day = time.Now().UTC().Format(time.DateOnly)
		require.NoError(t, os.WriteFile("README.md", []byte(string(readme[:found[2]])+dated(table, day)+string(readme[found[3]:])), 0o644))
		return
	}
	_, err = time.Parse(time.DateOnly, day)
	require.NoError(t, err, "the figures in README.md have no date")
	assert.Equal(t, dated(table, day), shown, "run PLUMBLINE_PROOFS=all go test . -run LibraryFigures -update-figures")
}

// dated puts the day into a table's head.
func dated(table, day string) string { return strings.Replace(table, "DAY", day, 1) }

// figures computes every figure and writes the table; its head says DAY for the date.
func figures(t *testing.T) string {
	t.Helper()
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	equals, err := proof.Equals(rules.Files())
	require.NoError(t, err)
	m, err := proof.Measure(lib, equals)
	require.NoError(t, err)
	wrong := 0
	for _, c := range proof.Cases(lib) {
		if c.Problem != "" {
			wrong++
		}
	}
	failures, err := report.ReadFailures(rules.Files())
	require.NoError(t, err)
	known := report.Covered(lib, failures)

	designs := os.DirFS("designs")
	field := planted.New(lib, designs)
	list, err := fs.ReadFile(designs, "planted.txt")
	require.NoError(t, err)
	mistakes, err := planted.Read(string(list))
	require.NoError(t, err)
	results, err := planted.All(mistakes, field.Plant)
	require.NoError(t, err)
	var tally planted.Tally
	aimed := map[string]bool{}
	for i, m := range mistakes {
		_, rule, _ := strings.Cut(m.Finds, " ")
		aimed[rule] = true
		tally.Add(results[i])
		assert.True(t, results[i].Found, "%s: %s is expected; there are %v", m.Name, m.Finds, results[i].Fresh)
		assert.Empty(t, results[i].Strays, "%s: %s", m.Name, m.Change)
	}
	// Gross mistakes are easily found: at least a third are numbers near their limit, a tenth are made in another system of
	// the vehicle than the one whose rule must find it, and every system has some.
	assert.GreaterOrEqual(t, tally.Near*3, tally.Found, "near their limit")
	assert.GreaterOrEqual(t, tally.Across*10, tally.Found, "across two systems")
	for _, s := range planted.Systems() {
		assert.GreaterOrEqual(t, tally.Systems[s.Name], 10, s.Name)
	}
	list, err = fs.ReadFile(designs, "within.txt")
	require.NoError(t, err)
	changes, err := planted.ReadWithin(string(list))
	require.NoError(t, err)
	results, err = planted.All(changes, field.Within)
	require.NoError(t, err)
	quiet := 0
	for i, r := range results {
		assert.True(t, r.Found, "%s: %s is expected with a number near its limit", changes[i].Name, changes[i].Finds)
		assert.Empty(t, r.Fresh, "%s: %s", changes[i].Name, changes[i].Change)
		if r.Found && len(r.Fresh) == 0 {
			quiet++
		}
	}
	builds, clean := goodBuilds(t, designs), 0
	for _, name := range builds {
		ok, err := field.Clean(name)
		require.NoError(t, err)
		if ok {
			clean++
		}
	}

	var b strings.Builder
	b.WriteString("| on DAY | figure |\n|---|---|\n")
	row := func(what, format string, args ...any) {
		fmt.Fprintf(&b, "| %s | %s |\n", what, fmt.Sprintf(format, args...))
	}
	row("library", "%d rules in %d packs", len(m.Rules), len(lib.Packs()))
	row("cases of the rules that give what they must", "%d of %d", m.Cases-wrong, m.Cases)
	row("parts of the rules that the cases show both true and false", "%s", share(m.Shown, m.Parts))
	row("small mistakes in the rules that a case notices", "%s; %d more make no difference to any design", share(m.Killed, m.Mutants), m.Listed)
	row("known failures of conversions that a rule catches", "%d of %d; for %d stands why none can", known.Caught, known.Known, known.Unseen)
	row("mistakes planted in clean builds that their rule finds", "%d of %d, for %d rules", tally.Found, len(mistakes), len(aimed))
	row("of these, without any other complaint", "%d", tally.Alone)
	row("of these, numbers that miss their limit by 10 % of it or less", "%s", share(tally.Near, tally.Found))
	row("of these, made in another system of the vehicle than the one whose rule finds it", "%s", share(tally.Across, tally.Found))
	row("of these, in each system", "%s", tally.BySystem())
	row("changes that end just within a limit and draw no complaint", "%d of %d", quiet, len(changes))
	row("good builds without a complaint or an open point", "%d of %d", clean, len(builds))
	return b.String()
}

// goodBuilds lists the designs an experienced installer would sign off.
func goodBuilds(t *testing.T, designs fs.FS) []string {
	t.Helper()
	names, err := fs.Glob(designs, "good/*.yaml")
	require.NoError(t, err)
	return append(names, "demo/six-return.yaml", "demo/van-v6-in-tank.yaml")
}

// share writes a part of a whole in numbers and percent, rounded down.
func share(part, whole int) string {
	return fmt.Sprintf("%d of %d, %.1f %%", part, whole, float64(part*1000/max(whole, 1))/10)
}
