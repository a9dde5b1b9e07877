package jsonschemagen

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// Where a value is wrong, an editor's server shows the words that the command says, and a validator does not mind them.
func TestWrongValuesAreToldInOurWords(t *testing.T) {
	entry := Entry{Title: "Design", Root: schema.Design{}, Required: []string{"plumbline"}, Written: true}
	compiled, text := makeAndCompile(t, entry)
	assert.True(t, accepts(t, compiled, `{"plumbline": 1, "pump": {"place": "in_tank"}, "regulator": {"setting": "58 psi"}}`))
	assert.False(t, accepts(t, compiled, `{"plumbline": 1, "pump": {"place": "in_tnk"}}`))
	var doc struct {
		Defs map[string]struct {
			ErrorMessage string
			Properties   map[string]struct {
				ErrorMessage string
				OneOf        []struct{ ErrorMessage string }
			}
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal([]byte(text), &doc))
	said := func(wrong string) string {
		t.Helper()
		_, err := schema.Load("f", []byte("plumbline: 1\n"+wrong))
		require.Error(t, err)
		return err.Error()
	}
	pump := doc.Defs["Pump"].Properties
	assert.Equal(t, "write one of in_tank, in_surge_tank, frame_rail, engine_bay, boot, in_cabin", pump["place"].ErrorMessage)
	assert.Contains(t, said("pump: {place: zzz}"), "one of in_tank, in_surge_tank, frame_rail, engine_bay, boot, in_cabin")
	assert.Contains(t, said("pump: {check_valve: zzz}"), pump["check_valve"].ErrorMessage)
	assert.Contains(t, said("engine: {cylinders: zzz}"), doc.Defs["Engine"].Properties["cylinders"].ErrorMessage)
	assert.Equal(t, doc.Defs["Engine"].Properties["cylinders"].ErrorMessage, doc.Defs["Engine"].Properties["cylinders"].OneOf[0].ErrorMessage)
	assert.Contains(t, doc.Defs["PressureStated"].ErrorMessage, "a pressure is expected, e.g. 58 psi; the units are ")
	assert.Contains(t, said("regulator: {setting: 58 V}"), "a pressure is expected, e.g. 300 kPa")

	entry.Written = false
	_, text = makeAndCompile(t, entry)
	assert.NotContains(t, text, `"write one of`, "what nobody writes needs no words")
}
