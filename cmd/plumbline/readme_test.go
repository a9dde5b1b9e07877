package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/rules"
)

var updateReadme = flag.Bool("update-readme", false, "write the outputs shown in README.md anew")

var shown = regexp.MustCompile("(?s)<!-- output of: plumbline ([^\n]*?) -->\n```text\n(.*?)```")

// Every output README shows is what the command prints.
func TestReadmeShowsRealOutput(t *testing.T) {
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	t.Chdir(root)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	found := shown.FindAllSubmatch(readme, -1)
	require.NotEmpty(t, found)
	if *updateReadme {
		updated := shown.ReplaceAllFunc(readme, func(block []byte) []byte {
			place := shown.FindSubmatchIndex(block)
			return slices.Concat(block[:place[4]], output(t, string(block[place[2]:place[3]])), block[place[5]:])
		})
		require.NoError(t, os.WriteFile("README.md", updated, 0o644))
		return
	}
	for _, m := range found {
		assert.Equal(t, string(m[2]), string(output(t, string(m[1]))), "run go test ./cmd/plumbline -run Readme -update-readme")
	}
}

// output is what the command prints for arguments written on one line.
func output(t *testing.T, arguments string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	c := &Command{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Rules: rules.Files(),
		Now: func() time.Time { return time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC) }, Getenv: func(string) string { return "" }}
	code := c.Run(strings.Fields(arguments))
	assert.Less(t, code, 2, "%s: %s", arguments, errs.String())
	return out.Bytes()
}

var firstRule = regexp.MustCompile("(?s)## A first rule\n.*?```yaml\n(.*?)```")

// The rule README teaches loads, and its cases hold.
func TestReadmeFirstRuleWorks(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	m := firstRule.FindSubmatch(readme)
	require.NotNil(t, m)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "pump.yaml"), m[1], 0o644))
	var out, errs bytes.Buffer
	c := &Command{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Rules: rules.Files(), Now: time.Now, Getenv: func(string) string { return "" }}
	assert.Zero(t, c.Run([]string{"pack", "check", dir}), "%s%s", out.String(), errs.String())
	code := c.Run([]string{"check", "--rules", dir, "../../designs/demo/six-return.yaml", "--verbose"})
	assert.Zero(t, code, errs.String())
	assert.True(t, strings.Contains(out.String(), "shop/pump.relay-primes-short"), "the rule is among those judged")
}
