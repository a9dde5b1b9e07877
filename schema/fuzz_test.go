package schema

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/schema/document"
)

// Whatever the bytes: no panic, every error has its place, and what is accepted the JSON Schema accepts too.
func FuzzLoad(f *testing.F) {
	for _, seed := range []string{
		small,
		`{"plumbline": 1, "regulator": {"setting": "3/8 in"}}`,
		"plumbline: 1\nfuel: {ethanol: 14.7:1, reid_vapour_pressure: 9 psi}\n",
		"plumbline: 1\ncircuits:\n- feed_wires: [{size: AWG 12, length: 14' 6\"}]\n",
		"plumbline: 1\ncircuits:\n- fuse: none\n  runs_at: []\n- {}\n",
		"plumbline: 1\nfuel: {ethanol: E10}\nmeasured: {cabin_carbon_monoxide: 100 ppm, idle_correction: -3 %}\n",
		"plumbline: 1\nfuel: {ethanol: 1e-1}\ntank: {capacity: \"64\u00a0L\"}\n",
		"plumbline: 1\npump: {curve: [{pressure: &a 3 bar, flow: *a}, ]}\n<<: 1\n",
		"plumbline: 1\nengine: {cylinders: 1e0, power: 90\u00bd kW}\nignition: {dwell_variation: 1\u00b0}\n",
		"plumbline: 1\nengine: {power: 280..300..320 hp, cylinders: 6..8, displacement: about 4 L}\nvehicle: {model_year: about 1970}\n",
		"plumbline: 1\nregulator: {setting: 58 psi +- 5 %}\nfuel: {ethanol: E10..E15}\ntank: {capacity: ~60 L}\n",
		"plumbline: 1\nvehicle: {first_use_date: 1971-02-29, air_conditioning: no}\n? {}\n: []\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Load("f", data)
		if err == nil {
			require.NotNil(t, d)
			schemaAccepts(t, data)
			return
		}
		var problems document.Problems
		require.True(t, errors.As(err, &problems))
		require.NotEmpty(t, problems)
		for _, p := range problems {
			require.NotEmpty(t, p.Message)
			require.Equal(t, "f", p.Place.File)
		}
	})
}

// Whatever a design and its template say: no panic, every error is in one of the two, and two files that are right
// by themselves never make a whole that the JSON Schema refuses.
func FuzzLoadBased(f *testing.F) {
	f.Add("leave_out: [tank.vent, feed.runs.a, circuits]\nfeed: {runs: [{name: b, bore: 8 mm}]}", "tank: {vent: canister}\nfeed: {runs: [{name: a}, {name: b}]}\ncircuits: [{name: fan}]")
	f.Add("return_line: none\ncircuits: [{name: a}, {name: a}]", "return_line: {runs: []}\ncircuits: [{name: a}, {}]")
	f.Add("leave_out: [tank.vnet, .., '', a.]", "base: x\nbased_on: design.yaml")
	f.Add("passages: [{name: p, wires: []}]", "passages: [{name: p, bundle_diameter: 9 mm}]")
	f.Fuzz(func(t *testing.T, design, template string) {
		files := shelf{"design.yaml": "based_on: t.yaml\n" + design, "t.yaml": template}
		d, err := files.load()
		if err == nil {
			require.NotNil(t, d)
			data, err := files.open("design.yaml")
			require.NoError(t, err)
			whole, err := Whole("design.yaml", data, files.open)
			require.NoError(t, err)
			schemaAccepts(t, whole)
			return
		}
		var problems document.Problems
		require.True(t, errors.As(err, &problems))
		for _, p := range problems {
			require.NotEmpty(t, p.Message)
			require.Contains(t, []string{"design.yaml", "t.yaml"}, p.Place.File)
		}
	})
}
