package engine_test

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// The image that is committed is the one its packs give today, to the byte, however many cores compile it.
func TestTheImageIsOfThesePacks(t *testing.T) {
	t.Parallel()
	now, err := engine.WriteImage(rules.Files())
	require.NoError(t, err)
	assert.True(t, bytes.Equal(rules.Image(), now), "the library image is not that of its packs: run go generate ./...")
}

// A library from its image finds the same as one from its packs, in every design, word for word; regional rules and
// limits that a shop changes included.
func TestTheImageJudgesAsItsPacks(t *testing.T) {
	t.Parallel()
	packs := library(t)
	image, err := engine.OpenImage(rules.Files(), rules.Image())
	require.NoError(t, err)
	assert.Len(t, image.Regions(), len(packs.Regions()))
	assert.Equal(t, packs.Edition(), image.Edition())
	assert.Equal(t, packs.Limits(), image.Limits())
	names := append(cleanBuilds(), "demo/four-faulty.yaml", "demo/counter-half-known.yaml")
	for at, name := range names {
		if at%8 != 0 && !proofs.Whole() {
			continue
		}
		d, err := schema.Load(name, []byte(designText(t, name)))
		require.NoError(t, err)
		for _, o := range []engine.Options{{Today: theDay}, {Regions: []string{packs.Regions()[at%len(packs.Regions())].Name}, Stage: "handed_over"}} {
			want, got := packs.Judge(d, o), image.Judge(d, o)
			if !assert.True(t, sameReport(t, want, got), name) {
				return
			}
			if at%16 == 0 {
				for _, f := range want.Findings[:20] {
					one, err1 := packs.Account(d, o, f.Rule)
					other, err2 := image.Account(d, o, f.Rule)
					require.NoError(t, err1)
					require.NoError(t, err2)
					a, _ := json.Marshal(one)
					b, _ := json.Marshal(other)
					assert.Equal(t, string(a), string(b), f.Rule)
				}
			}
		}
	}
}

// Packs of a shop stand on an image as they stand on packs, good and bad ones.
func TestTheImageWithLocalPacks(t *testing.T) {
	t.Parallel()
	d, err := schema.Load("six", []byte(designText(t, "demo/six-return.yaml")))
	require.NoError(t, err)
	for name, text := range map[string]string{
		"tighter": "tighten:\n  - {limit: fuel/delivery.flow_reserve, is: 1.9, reason: tired pumps}\nraise:\n  - {rule: fuel/injectors.duty-at-full-load, reason: ours}\n",
		"unknown": "tighten:\n  - {limit: fuel/delivery.flow_reserv, is: 1.9, reason: tired pumps}\n",
		"rule": `rules:
  - {id: a, title: A, danger: none, due: planned, about: design.pump, must: "design.pump.place in ['in_tank']", say: S, met: M, mend: Do, because: [{practice: p}],
     cases: [{name: a, given: {pump: {place: in_tank}}, expect: pass}]}
`,
		"wrong": "rules:\n  - {id: a, title: A, danger: none, due: planned, about: design.pump, must: design.pump.plce == 'x', say: S, met: M, mend: Do, because: [{practice: p}]}\n",
	} {
		local := fstest.MapFS{"h.yaml": {Data: []byte("pack: house/h\ntitle: H\nedition: 1\npart: Fuel\n" + text)}}
		want, wrong := engine.Load(rules.Files(), local)
		got, err := engine.OpenImage(rules.Files(), rules.Image(), local)
		if wrong != nil {
			require.Error(t, err, name)
			assert.Equal(t, wrong.Error(), err.Error(), name)
			continue
		}
		require.NoError(t, err, name)
		assert.True(t, sameReport(t, want.Judge(d, engine.Options{}), got.Judge(d, engine.Options{})), name)
		assert.Equal(t, want.Limits(), got.Limits())
	}
}

// An image of other packs, of another program or one that was damaged is refused.
func TestAnImageThatDoesNotBelong(t *testing.T) {
	pack := "pack: p\ntitle: P\nedition: 1\npart: Fuel\nrules:\n  - {id: a, title: A, danger: none, due: planned, about: design.pump, must: design.pump.check_valve, say: S, met: M, mend: Do, because: [{practice: p}],\n     cases: [{name: a, given: {pump: {check_valve: true}}, expect: pass}]}\n"
	files := fstest.MapFS{"p.yaml": {Data: []byte(pack)}}
	image, err := engine.WriteImage(files)
	require.NoError(t, err)
	_, err = engine.OpenImage(files, image)
	require.NoError(t, err)
	_, err = engine.OpenImage(fstest.MapFS{"p.yaml": {Data: []byte(pack + "\n")}}, image)
	assert.ErrorIs(t, err, engine.ErrImage)
	_, err = engine.OpenImage(fstest.MapFS{"q.yaml": {Data: []byte(pack)}}, image)
	assert.ErrorIs(t, err, engine.ErrImage)
	for cut := range image {
		_, err = engine.OpenImage(files, image[:cut])
		assert.ErrorIs(t, err, engine.ErrImage)
		bad := slices.Clone(image)
		bad[cut] ^= 1 << (cut % 8)
		_, err = engine.OpenImage(files, bad)
		assert.ErrorIs(t, err, engine.ErrImage)
	}
}

// sameReport compares what two reports say; the programs that their grounds keep are compiled anew by each library.
func sameReport(t *testing.T, a, b *engine.Report) bool {
	one, err := json.Marshal(a)
	require.NoError(t, err)
	other, err := json.Marshal(b)
	require.NoError(t, err)
	return assert.True(t, bytes.Equal(one, other))
}
