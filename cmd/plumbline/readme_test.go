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

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
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
	c := &Command{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()},
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
	c := &Command{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()}, Now: time.Now, Getenv: func(string) string { return "" }}
	assert.Zero(t, c.Run([]string{"pack", "check", dir}), "%s%s", out.String(), errs.String())
	code := c.Run([]string{"check", "--rules", dir, "../../designs/demo/six-return.yaml", "--verbose"})
	assert.Zero(t, code, errs.String())
	assert.True(t, strings.Contains(out.String(), "shop/pump.relay-primes-short"), "the rule is among those judged")
}

var shopBlocks = regexp.MustCompile("(?s)## In a shop\n.*?```yaml\n(.*?)```.*?```yaml\n(.*?)```.*?```yaml\n(.*?)```")

// The settings, the design and the changes of limits and rules that README shows hold as they stand there.
func TestReadmeShopWorks(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	m := shopBlocks.FindSubmatch(readme)
	require.NotNil(t, m)
	template, err := os.ReadFile("../../designs/demo/six-return.yaml")
	require.NoError(t, err)
	dir := t.TempDir()
	write := func(name string, data []byte) {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	write("plumbline.yaml", m[1])
	write("templates/six-return.yaml", template)
	write("designs/truck.yaml", m[2])
	write("rules/house.yaml", append([]byte("pack: house/limits\ntitle: Limits of the house\nedition: 1\npart: Fuel pump\n"), m[3]...))
	t.Chdir(dir)
	var out, errs bytes.Buffer
	c := &Command{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Built: shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()},
		Now: func() time.Time { return time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC) }, Getenv: func(string) string { return "" }}
	assert.Less(t, c.Run([]string{"check", "designs"}), 2, errs.String())
	assert.Empty(t, errs.String())
	assert.Contains(t, out.String(), "the job is ordered", "the shop's stage, not the template's")
	out.Reset()
	assert.Zero(t, c.Run([]string{"pack", "list"}), errs.String())
	assert.Contains(t, out.String(), "tightened to 1.3 at rules/house.yaml:")
	assert.Contains(t, out.String(), "raised by house/limits")
}
