package schema

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/document"
)

// The schema check alone, without the decoder before it, finds these and says where.
func TestValidateAlone(t *testing.T) {
	const lead = "does not fit the design schema: "
	for name, c := range map[string]struct{ text, want string }{
		"unknown key":      {"pump: {colour: red}", "f:2:7: " + lead + "additional properties 'colour' not allowed"},
		"missing unit":     {"regulator: {setting: '58'}", "f:2:22: "},
		"number":           {"regulator: {setting: 58}", "f:2:22: " + lead + "got number, want string"},
		"word":             {"stage: plannd", "f:2:8: " + lead + "value must be one of 'planned', 'ordered', 'built', 'started', 'handed_over'"},
		"range":            {"engine: {cylinders: 17}", "f:2:21: " + lead + "maximum: got 17, want 16"},
		"in a list":        {"circuits: [{fuse: {rating: 3}}]", "f:2:28: " + lead + "got number, want string"},
		"in a maybe":       {"surge_tank: {location: moon}", "f:2:24: " + lead + "value must be one of "},
		"neither":          {"surge_tank: true", "f:2:13: " + lead + "'oneOf' failed, none matched"},
		"date":             {"vehicle: {first_use_date: 1971-02-30}", "f:2:27: " + lead + "'1971-02-30' is not valid date"},
		"text empty":       {"title: ''", "f:2:8: " + lead + "minLength: got 0, want 1"},
		"null":             {"title:", "f:2:7: " + lead + "got null, want string"},
		"edition missing":  {"title: x", "f:1:1: " + lead + "missing property 'plumbline'"},
		"two at once":      {"title: 1\nnotes: 2", "f:2:8: " + lead + "got number, want string\nf:3:8: " + lead + "got number, want string"},
		"wrong for a list": {"regions: us", "f:2:10: " + lead},
	} {
		t.Run(name, func(t *testing.T) {
			first := "plumbline: 1\n"
			if name == "edition missing" {
				first = "notes: x\n"
			}
			root, err := document.Parse("f", []byte(first+c.text+"\n"))
			require.NoError(t, err)
			d := newDecoder("f", nil)
			d.validate(root)
			require.Error(t, d.problems.Err())
			assert.Contains(t, d.problems.Err().Error(), c.want)
		})
	}
}

func TestValidateAcceptsAGoodDesign(t *testing.T) {
	root, err := document.Parse("f", []byte(small))
	require.NoError(t, err)
	d := newDecoder("f", nil)
	d.validate(root)
	assert.NoError(t, d.problems.Err())
}

// A second sentence about a value the decoder has already named would only be noise.
func TestValidateIsSilentWhereSomethingWasSaid(t *testing.T) {
	for _, text := range []string{"pump: {colour: red}", "stage: plannd", "circuits: [{fuse: {rating: 3}}, 4]", "surge_tank: true", "regions: us", "pump: none"} {
		_, err := Load("f", []byte("plumbline: 1\n"+text+"\n"))
		require.Error(t, err)
		assert.NotContains(t, err.Error(), "design schema", text)
	}
}
