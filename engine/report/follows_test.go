package report

import (
	"bytes"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema/quantity"
	"plumbline/testdata/builds"
	"plumbline/testdata/shipped"
)

// What is written of real designs follows the published schema: complete and half known ones, a faulty one, and one whose
// measurement contradicts what was computed.
func TestReportsFollowTheirSchema(t *testing.T) {
	compiled, lib := reportSchema(t), shipped.Library(t)
	// Wrong, and resting on a pressure that was measured otherwise.
	doubted := builds.Design(t, "../../designs/demo/six-return.yaml")
	pressure, err := quantity.New(240e3, quantity.DimPressure)
	require.NoError(t, err)
	require.NoError(t, doubted.Put("design.measured.full_load_pressure", pressure))
	flow, err := quantity.Parse("300 cc/min", quantity.DimFlow)
	require.NoError(t, err)
	require.NoError(t, doubted.Put("design.throttle_body.injectors.static_flow", flow))
	var b bytes.Buffer
	reports := []*engine.Report{lib.Judge(doubted, engine.Options{})}
	require.NoError(t, JSON(&b, reports, about()))
	require.Contains(t, b.String(), `"doubts"`)
	for _, name := range []string{"counter-half-known", "four-faulty", "six-return", "van-v6-in-tank"} {
		reports = append(reports, lib.Judge(builds.Design(t, "../../designs/demo/"+name+".yaml"), engine.Options{Patterns: shipped.Patterns(t), Regions: []string{"us-ca"}}))
	}
	for _, r := range reports {
		var b bytes.Buffer
		require.NoError(t, JSON(&b, []*engine.Report{r}, about()))
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
		require.NoError(t, err)
		assert.NoError(t, compiled.Validate(value), r.File)
	}
}
