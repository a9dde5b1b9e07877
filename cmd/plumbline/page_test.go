package main

import (
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/designs"
	"plumbline/rules"
)

// The verb prints where it serves, answers there, and ends when it is told to.
func TestPageServesUntilItIsEnded(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "job.yaml"), []byte("plumbline: 1\ntitle: a job\n"), 0o644))
	c, _, errs := command("")
	c.Rules, c.Image, c.Patterns, c.Series, c.Numbers = rules.Files(), rules.Image(), designs.Patterns(), designs.Series(), designs.Numbers()
	out, in := io.Pipe()
	c.Stdout = in
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	c.Context = ctx
	ended := make(chan int, 1)
	go func() { ended <- c.Run([]string{"page", folder}) }()
	said := make([]byte, 400)
	n, err := out.Read(said)
	require.NoError(t, err)
	go func() { _, _ = io.Copy(io.Discard, out) }()
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(string(said[:n]))
	require.NotEmpty(t, address, "%s", said[:n])
	res, err := http.Get(address)
	require.NoError(t, err)
	text, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	require.NoError(t, res.Body.Close())
	assert.Contains(t, string(text), "a job")
	stop()
	select {
	case code := <-ended:
		assert.Equal(t, 0, code, errs.String())
	case <-time.After(20 * time.Second):
		assert.Fail(t, "it does not end")
	}
}

// What cannot be served is told in a line, with exit code 2.
func TestPageRefuses(t *testing.T) {
	file := filepath.Join(t.TempDir(), "job.yaml")
	require.NoError(t, os.WriteFile(file, []byte("plumbline: 1\n"), 0o644))
	for args, want := range map[string]string{
		"page nowhere":                       "cannot be read",
		"page " + file:                       "is no folder",
		"page . --address 0.0.0.0:0":         "every address",
		"page . --address shop.example:8080": "no address of this machine",
		"page . --units furlongs":            "units",
	} {
		c, _, errs := command("")
		c.Rules, c.Image = rules.Files(), rules.Image()
		assert.Equal(t, exit.Input, c.Run(strings.Fields(args)), args)
		assert.Contains(t, errs.String(), want, args)
	}
}
