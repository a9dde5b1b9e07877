package sheet_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// A pump of 8 A through 16 ft of wire out and 1 ft back. ASTM B258: 14 and 12 AWG have 2.08 and 3.31 mm2, so 4.88 m have 40 and
// 25 mohm at 20 degC and an eighth more warm: 0.36 and 0.23 V, and with the return of 16 AWG, joints, relay and fuse some 0.2 V
// more. Of half a volt 14 AWG loses too much, 12 AWG does.
func TestASlipSaysWhatSizeWouldDo(t *testing.T) {
	lib, patterns := shipped.Library(t), shipped.Patterns(t)
	series, err := whatif.ReadSeries("series.yaml", designs.Series())
	require.NoError(t, err)
	data, err := os.ReadFile("../../testdata/counter/wire-van-16-gauge.yaml")
	require.NoError(t, err)
	var l counterList
	require.NoError(t, yaml.Unmarshal(data, &l))
	text, err := yaml.Marshal(&l.Design)
	require.NoError(t, err)
	d, err := schema.Load(l.Name, text)
	require.NoError(t, err)
	r := lib.Judge(d, engine.Options{Patterns: patterns, Things: whatif.Things(d, series)})
	s := sheet.SlipOf(d, r, whatif.NewSizer(d, series, r))
	require.NotEmpty(t, s.Parts)
	p := s.Parts[0]
	require.Equal(t, sheet.No, p.Word)
	var called []string
	for _, x := range p.Instead {
		called = append(called, x.Called)
		if x.Called != "" {
			require.NotNil(t, x.Not)
			assert.Equal(t, "14 AWG", x.Not.Size)
			assert.Equal(t, "electrical/wires.pump-drop", x.Not.Rule)
		}
	}
	assert.Contains(t, called, "a wire of 12 AWG")
	assert.Nil(t, r.TakeBench(), "the report keeps nothing of it")
}
