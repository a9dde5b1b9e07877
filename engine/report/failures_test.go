package report_test

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/report"
)

// failuresIn is a folder with a list of known failures.
func failuresIn(text string) fs.FS {
	return fstest.MapFS{"failures.txt": {Data: []byte(text)}}
}

// Each folder adds its own known failures, and one without the list adds none.
func TestReadFailuresOfFolders(t *testing.T) {
	got, err := report.ReadFailures(failuresIn("FM001\tthe pump is weak\r\n"), fstest.MapFS{}, failuresIn("S1\tthe bench was wet\tno design shows it\n"))
	require.NoError(t, err)
	assert.Equal(t, []report.Failure{{ID: "FM001", Words: "the pump is weak"}, {ID: "S1", Words: "the bench was wet", Unseen: "no design shows it"}}, got)
	assert.Equal(t, []string{"the bench was wet (S1)", "FM009"}, report.FailureWords(got, []string{"S1", "FM009"}))
}

func TestReadFailuresRefuses(t *testing.T) {
	for name, text := range map[string]string{
		"no words":         "FM001\n",
		"empty number":     "\twords\n",
		"empty reason":     "FM001\twords\t\n",
		"too many cells":   "FM001\twords\treason\tmore\n",
		"one number twice": "FM001\twords\nFM001\tother\n",
		"nothing":          "",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := report.ReadFailures(failuresIn(text))
			assert.Error(t, err)
		})
	}
}
