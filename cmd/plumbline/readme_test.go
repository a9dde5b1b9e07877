package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
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
	updated := readme
	for _, m := range found {
		var out, errs bytes.Buffer
		c := &Command{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Rules: rules.Files(),
			Now: func() time.Time { return time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC) }, Getenv: func(string) string { return "" }}
		code := c.Run(strings.Fields(string(m[1])))
		assert.Less(t, code, 2, "%s: %s", m[1], errs.String())
		if *updateReadme {
			block := bytes.Replace(m[0], m[2], out.Bytes(), 1)
			updated = bytes.Replace(updated, m[0], block, 1)
			continue
		}
		assert.Equal(t, string(m[2]), out.String(), "run go test ./cmd/plumbline -run Readme -update-readme")
	}
	if *updateReadme {
		require.NoError(t, os.WriteFile("README.md", updated, 0o644))
	}
}
