//go:build unix

package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
)

// hostile is what no text may do to whoever reads it: speak to the job's runner, clear the screen, turn the line round.
const hostile = "::error file=a::x ##[error]y ##vso[task.complete]z \x1b[2J\x1b]0;t\x07 \u202etxt\u2066 \u009b2J \u200b\r::add-mask::q"

// hostileLines is the same over lines.
const hostileLines = hostile + "\n::stop-commands::x\n  ::error::y"

// spoken is what the logs of jobs are searched for.
var spoken = regexp.MustCompile(`(?m)^\s*::|##[a-z]*\[`)

// quotedYAML is a text as double-quoted YAML.
func quotedYAML(text string) string { return strconv.QuoteToASCII(text) }

// harmless fails where an output would do something.
func harmless(t *testing.T, args []string, output string) {
	t.Helper()
	for _, r := range output {
		if !unicode.IsGraphic(r) && r != '\n' && r != '\t' {
			assert.Fail(t, "a character that is not seen", "%q: %q", args, r)
			return
		}
	}
	assert.NotRegexp(t, spoken, output, "%q", args)
}

// Every verb in every format, with a hostile design, pack, list, settings and file name.
func TestNothingSpeaksToTheLog(t *testing.T) {
	library, err := filepath.Abs(filepath.Join(scripts, "library"))
	require.NoError(t, err)
	inFolder(t)
	ended := func(t *testing.T, args ...string) (int, string, string) {
		return endedBy(t, &Command{Built: shop.Built{Rules: os.DirFS(library)}}, args...)
	}
	bad := quotedYAML(hostile)
	long := quotedYAML(hostileLines)
	name := "::error::n##[x]\u202e\x1b[2J\n::warning::m.yaml"
	design := fmt.Sprintf("plumbline: 1\ntitle: %s\nnotes: %s\npump: {stop_control: ignition_key_only, place: in_tank, prime_time: 30 s}\n"+
		"circuits: [{name: %s, purpose: fuel_pump}]\npassages: [{name: %s, hole: 10 mm, carries: fuel_hose}]\nregions: [us]\n"+
		"concessions: [{rule: shop/hostile.one, reason: %s, granted_by: %s, until: 2027-03-31}, {rule: %s, reason: %s, granted_by: %s, until: 2027-03-31}]\n", bad, long, bad, bad, bad, bad, bad, bad, bad)
	pack := fmt.Sprintf("pack: shop/hostile\ntitle: %[1]s\nedition: 1\npart: %[1]s\nlimits: {most: {is: 3 s, because: [{practice: %[1]s}]}}\n"+
		"tables: {t: {key: k, columns: {n: text}, rows: [{k: in_tank, n: %[1]s}, {k: boot, n: x}], because: [{practice: %[1]s}]}}\n"+
		"assumptions: [{fact: design.pump.check_valve, is: %[3]s, because: [{practice: %[1]s}]}]\n"+
		"cautions: [{id: c, parts: [pump], say: %[1]s, because: [{practice: %[1]s}]}]\n"+
		"rules:\n  - {id: one, title: %[1]s, danger: none, due: planned, about: design.pump, measure: design.pump.prime_time, must: {at_most: limit.most}, say: %[2]s, met: %[1]s, mend: %[1]s, because: [{practice: %[1]s}],\n"+
		"     cases: [{name: %[1]s, given: {pump: {prime_time: 30 s}}, expect: pass}]}\n"+
		"  - {id: two, title: t, danger: none, due: planned, about: design.pump, applies: design.pump.place in table.t, must: \"table.t[design.pump.place].n == 'x'\", say: \"It is {table.t[design.pump.place].n}.\", met: m, mend: m, because: [{practice: p}]}\n", bad, long, "SHOWN")
	pack = strings.Replace(pack, "assumptions: [{fact: design.pump.check_valve, is: SHOWN,", "assumptions: [{fact: design.pump.rated_flow, is: 190 L/h,", 1)
	other := strings.NewReplacer("shop/hostile", "shop/other", "at_most: limit.most", "at_mst: limit.most").Replace(pack)
	for _, dir := range []string{"rules", "wrong", "designs", "shop", "rules ::error::d\n::x"} {
		require.NoError(t, os.Mkdir(dir, 0o700))
	}
	for file, text := range map[string]string{
		"h.yaml": design, name: design, "designs/" + name: "plumbline: 1\ntitel: " + bad + "\n", "broken.yaml": "plumbline: 1\ntitle: [\n" + hostileLines,
		"rules/h.yaml": pack, "wrong/" + name: other, "rules ::error::d\n::x/" + name: pack, "list.txt": hostileLines + "\n190 L/h pump " + hostile,
		"shop/" + shop.SettingsName: "shop: 1\n" + bad + ": 2\nstage: " + bad + "\n", "shop/d.yaml": "plumbline: 1\n", "answers": hostileLines + "\nin tank\n",
		"survivors.txt": hostileLines,
	} {
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600), "%q", file)
	}
	code, stored, errs := ended(t, "check", "--format", "json", "--rules", "rules", "h.yaml")
	require.Equal(t, exit.Blocked, code, errs)
	require.NoError(t, os.WriteFile("before.json", []byte(stored), 0o600))
	require.NoError(t, os.WriteFile("odd.json", []byte("{\"format\": 2, "+bad+": 1}"), 0o600))

	var runs [][]string
	for _, format := range []string{"text", "sheet", "markdown", "json", "sarif", "lines"} {
		runs = append(runs,
			[]string{"check", "--format", format, "--rules", "rules", "h.yaml", name, "broken.yaml", "designs"},
			[]string{"check", "--format", format, "-v", "--rules", "rules", "h.yaml"},
			[]string{"check", "--format", format, "--rules", "rules", "--output", "out-" + format, "h.yaml", name},
		)
		if format != "lines" {
			runs = append(runs, []string{"check", "--format", format, "--rules", "rules", "--since", "before.json", "d.yaml", "h.yaml", name})
		}
	}
	runs = append(runs,
		[]string{"check", "--color", "always", "--rules", "rules", "h.yaml"},
		[]string{"check", "--rules", "wrong", "h.yaml"}, []string{"check", "--rules", "rules ::error::d\n::x", "h.yaml"}, []string{"check", "--since", "odd.json", "h.yaml"},
		[]string{"check", "x\n::error::y.yaml"}, []string{"check", "--stage", hostile, "h.yaml"}, []string{"check", "--region", hostile, "h.yaml"}, []string{"check", "--output", "no/" + name, "h.yaml"}, []string{"check", "shop"},
		[]string{hostile}, []string{"help", hostile}, []string{"check", "--" + hostile}, []string{"schema", hostile},
		[]string{"explain", "--rules", "rules", "shop/hostile"}, []string{"explain", "--rules", "rules", "shop/hostile.one"}, []string{"explain", "--rules", "rules", "shop/hostile.one", "h.yaml"},
		[]string{"explain", "--rules", "rules", "shop/hostile.two", "h.yaml"}, []string{"explain", "--rules", "rules", "limit.most"}, []string{"explain", "--rules", "rules", "shop/hostile.most"},
		[]string{"explain", "--rules", "rules", "1", "h.yaml"}, []string{"explain", "--rules", "rules", "--all", "h.yaml"}, []string{"explain", "--rules", "rules", "design.pump.rated_flow", "h.yaml"},
		[]string{"explain", "--rules", "rules", hostile, "h.yaml"}, []string{"explain", "--json", "--rules", "rules", "shop/hostile.one", "h.yaml"},
		[]string{"new", "n1.yaml", "--lines", "list.txt"}, []string{"new", "::error::o.yaml", "--lines", "list.txt"}, []string{"new", name + "2.yaml"}, []string{"new", "h.yaml"},
		[]string{"size", "h.yaml"}, []string{"size", name}, []string{"size", "broken.yaml"},
		[]string{"compare", "--rules", "rules", "--regions", "gb,us", "h.yaml"}, []string{"compare", "--json", "--rules", "rules", "--regions", "gb,us", "h.yaml"}, []string{"compare", "--regions", "gb," + hostile, "h.yaml"},
		[]string{"pack", "list", "--rules", "rules"}, []string{"pack", "list", "--rules", "wrong"}, []string{"pack", "list", "--limits", "--rules", "rules"}, []string{"pack", "check", "rules"}, []string{"pack", "check", "--mutants", "rules"}, []string{"pack", "check", "wrong"},
		[]string{"pack", "new", hostile}, []string{"pack", "new", "house/x", "--region", hostile}, []string{"pack", "new", "house/x", "--in", "::error::folder"},
	)
	for _, args := range runs {
		_, out, errs := ended(t, args...)
		if args[0] == "check" && strings.Contains(strings.Join(args, " "), "always") {
			out = regexp.MustCompile(`\x1b\[[0-9;]*m`).ReplaceAllString(out, "")
		}
		harmless(t, args, out)
		harmless(t, args, errs)
	}
	for _, format := range []string{"text", "sheet", "markdown", "json", "sarif", "lines"} {
		data, err := os.ReadFile("out-" + format)
		require.NoError(t, err)
		harmless(t, []string{"out-" + format}, string(data))
	}

	// What is stored says what was written all the same.
	var doc struct{ Reports []struct{ Title string } }
	require.NoError(t, json.Unmarshal([]byte(stored), &doc))
	assert.Contains(t, doc.Reports[0].Title, "\u202etxt")
}
