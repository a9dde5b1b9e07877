package report_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// A planned job has one headline, whatever is printed of it: the slip, all of it, the job sheet, its line in a list.
func TestOneHeadline(t *testing.T) {
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	files, err := filepath.Glob("../../testdata/counter/*.yaml")
	require.NoError(t, err)
	heads := map[string]bool{}
	for i, file := range files {
		if i%9 > 0 {
			continue // what is tried is the printing
		}
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		var list struct {
			Design yaml.Node `yaml:"design"`
		}
		require.NoError(t, yaml.Unmarshal(data, &list))
		text, err := yaml.Marshal(&list.Design)
		require.NoError(t, err)
		d, err := schema.Load(file, text)
		require.NoError(t, err)
		item := report.Item{Name: file, Report: lib.Judge(d, engine.Options{Patterns: patterns}), Design: d}
		written := func(format string, verbose bool, items int) []string {
			var b bytes.Buffer
			form := report.NewForm(format, report.About{}, report.TextOptions{Verbose: verbose})
			for range items {
				require.NoError(t, form.Add(&b, form.Piece(item)))
			}
			require.NoError(t, form.Tail(&b))
			return strings.Split(b.String(), "\n")
		}
		head := strings.TrimSuffix(written("text", false, 1)[0], ".")
		heads[head[:6]] = true
		assert.Equal(t, head+".", written("text", true, 1)[0], file)
		assert.True(t, strings.HasPrefix(written("sheet", false, 1)[0], head+". "), file)
		several := strings.Join(strings.Fields(strings.Join(written("text", false, 2), " ")), " ")
		assert.Contains(t, several, strings.ToLower(head[:1])+head[1:], file)
	}
	assert.Greater(t, len(heads), 1)
}
