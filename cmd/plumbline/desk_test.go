package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	desks "plumbline/cmd/plumbline/internal/desk"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/designs"
	"plumbline/engine/report"
	"plumbline/rules"
	"plumbline/testdata/proofs"
)

// What the page says of a design is what the commands say: the first line of check, and the question that new asks first.
func TestTheDeskSaysWhatTheCommandsSay(t *testing.T) {
	built := shop.Built{Rules: rules.Files(), Image: rules.Image(), Patterns: designs.Patterns(), Series: designs.Series(), Numbers: designs.Numbers()}
	good, err := filepath.Glob("../../designs/good/*/*.yaml")
	require.NoError(t, err)
	demo, err := filepath.Glob("../../designs/demo/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, demo)
	folder := t.TempDir()
	d, err := desks.Open(folder, desks.Options{Shop: shop.New(built, nil), Now: today})
	require.NoError(t, err)
	defer func() { require.NoError(t, d.Close()) }()
	for _, file := range append(demo, proofs.Sample(good, 8)...) {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		if strings.Contains(string(data), "based_on:") {
			continue
		}
		name := filepath.Base(file)
		at := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(at, data, 0o644))
		j, err := d.Job(name)
		require.NoError(t, err)
		v, err := j.View()
		require.NoError(t, err)

		c, out, errs := command("")
		c.Built = built
		c.Run([]string{"check", at})
		assert.Empty(t, errs.String())
		said := strings.Join(strings.Fields(out.String()), " ")
		assert.True(t, strings.HasPrefix(said, v.Headline+". "), "%s: %s; %.100s", name, v.Headline, said)

		c, out, _ = command("stop\n")
		c.Built = built
		c.Run([]string{"new", at})
		if q := v.Questions(); len(q) > 0 {
			var asked strings.Builder
			p := report.NewPrinter(&asked, report.DefaultWidth, false)
			report.Ask(p, q[0])
			require.NoError(t, p.Flush())
			assert.Contains(t, out.String(), strings.TrimSpace(asked.String()), name)
		}
	}
}
