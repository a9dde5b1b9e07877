package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/testdata/proofs"
)

// A real editor takes what it is told: neovim, whose own client of the protocol turns positions into bytes of its lines.
func TestARealEditorIsServed(t *testing.T) {
	nvim := proofs.Program(t, "nvim", "Debian: neovim")
	dir := t.TempDir()
	file, result := filepath.Join(dir, "truck.yaml"), filepath.Join(dir, "result.json")
	require.NoError(t, os.WriteFile(file, []byte("plumbline: 1\nstage: planned\ntitle: a truck\n# ä\npump:\n  kidn: turbine\n  place: frame_rail\nfuel: {ethanol: 10 %}\n"+
		"feed: {runs: [{name: \"ä 😀\", kind: hose, mark: sae_j30_r7}]}\nregulator: {setting: 300 kPa}\n"), 0o600))
	cmd := exec.Command(nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n", "-S", "testdata/editor.lua")
	cmd.Env = append(os.Environ(), "PROGRAM="+built(t), "FILE="+file, "RESULT="+result, "XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_CONFIG_HOME="+dir)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	var seen struct {
		Err   string
		First []struct {
			Line, From, To, Severity int
			Code, Message            string
		}
		Hover   string
		Offered []string
		Stopped bool
	}
	data, err := os.ReadFile(result)
	require.NoError(t, err, "%s", out)
	require.NoError(t, json.Unmarshal(data, &seen))
	require.Empty(t, seen.Err)
	keys, hoses := 0, 0
	for _, d := range seen.First {
		switch {
		case d.Message == "unknown key kidn; did you mean kind?":
			keys++
			assert.Equal(t, [4]int{5, 2, 6, 1}, [4]int{d.Line, d.From, d.To, d.Severity})
		case d.Code == "fuel/hose.injection-grade":
			hoses++
			// In bytes the letter before it counts two and the emoji four.
			assert.Equal(t, [4]int{8, 50, 60, 1}, [4]int{d.Line, d.From, d.To, d.Severity})
		}
	}
	assert.Equal(t, [2]int{1, 1}, [2]int{keys, hoses}, "%+v", seen.First)
	assert.Contains(t, seen.Hover, "design.pump")
	assert.Contains(t, seen.Offered, "gerotor")
	assert.True(t, seen.Stopped)
	proofs.Ran(t, "neovim")
}
