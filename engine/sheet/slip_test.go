package sheet_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// Nothing that is wrong for certain is lost: every fail of the report stands on the slip, with a part or among what to add.
func TestNoFailIsLostOnTheSlip(t *testing.T) {
	lib, patterns := shipped.Library(t), shipped.Patterns(t)
	designs := map[string]*schema.Design{}
	for _, l := range proofs.Sample(lists(t), 3) {
		text, err := yaml.Marshal(&l.Design)
		require.NoError(t, err)
		d, err := schema.Load(l.Name, text)
		require.NoError(t, err)
		designs[l.Name] = d
	}
	files, err := filepath.Glob("../../designs/demo/*.yaml")
	require.NoError(t, err)
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		d, err := schema.LoadBased(f, data, os.ReadFile)
		require.NoError(t, err)
		designs[f] = d
	}
	fails := 0
	for name, d := range designs {
		r := lib.Judge(d, engine.Options{Patterns: patterns, Stage: "planned", Regions: []string{"us-ca", "gb"}})
		s := sheet.SlipOf(d, r, nil)
		told := map[string]bool{}
		for _, p := range s.Parts {
			for _, rule := range p.Rules {
				told[rule] = true
			}
			if p.Word == sheet.No {
				assert.Equal(t, sheet.No, s.Answer, name)
			}
		}
		for _, w := range s.Add {
			for _, rule := range w.Rules {
				told[rule] = true
			}
		}
		for i := range r.Findings {
			if f := &r.Findings[i]; f.Outcome == engine.Fail && !f.Sense && f.Conceded == nil {
				fails++
				assert.True(t, told[f.Rule], "%s: %s %s is lost", name, f.Rule, f.Subject)
			}
		}
		assert.LessOrEqual(t, len(s.Ask), 3, name)
	}
	assert.Greater(t, fails, 20)
}

// A part that is wrong within what the customer himself leaves open is asked about, with the value at which it turns: 180 lb/h
// of injectors to 85 % are 153 lb/h, at the worst usual 375 g/kWh and E10 237 hp, at the best 280 of it 320 hp.
func TestAStatedRangeIsAskedAbout(t *testing.T) {
	lib, patterns := shipped.Library(t), shipped.Patterns(t)
	slip := func(power string) *sheet.Part {
		d, err := schema.Load("a.yaml", []byte("plumbline: 1\nengine: {displacement: 5.0 L, cylinders: 8, power: "+power+"}\nregulator: {style: return_style, setting: 3 bar}\n"+
			"throttle_body: {injectors: {count: 4, static_mass_flow: 45 lb/h, test_pressure: 3 bar}}\n"))
		require.NoError(t, err)
		s := sheet.SlipOf(d, lib.Judge(d, engine.Options{Patterns: patterns}), nil)
		for i := range s.Parts {
			if s.Parts[i].Subject == "design.throttle_body.injectors" {
				return &s.Parts[i]
			}
		}
		require.Fail(t, "no line about the injectors")
		return nil
	}
	p := slip("150..350 hp")
	assert.Equal(t, sheet.Asks, p.Word)
	require.NotNil(t, p.Turn)
	assert.Equal(t, "design.engine.power", p.Turn.Path)
	assert.Equal(t, "at_most", p.Turn.Right)
	assert.True(t, p.Turn.Stated)
	at, err := quantity.ParseAny(p.Turn.At)
	require.NoError(t, err)
	assert.InDelta(t, (237.0+320)/2*745.7, at.SI(), (320.0-237)/2*745.7)
	assert.Equal(t, sheet.OK, slip("150..200 hp").Word)
	assert.Equal(t, sheet.No, slip("400..450 hp").Word)
}

// What does not add up is told before any part: a slip of a unit would make nonsense of every verdict.
func TestWhatDoesNotAddUpIsLookedAtFirst(t *testing.T) {
	lib, patterns := shipped.Library(t), shipped.Patterns(t)
	slip := func(text string) *sheet.Slip {
		d, err := schema.Load("a.yaml", []byte("plumbline: 1\n"+text))
		require.NoError(t, err)
		return sheet.SlipOf(d, lib.Judge(d, engine.Options{Patterns: patterns}), nil)
	}
	s := slip("engine: {displacement: 2.3 L, power: 950 hp}\n")
	require.Len(t, s.Doubts, 1)
	assert.Equal(t, []string{"sense/engine.power-for-size"}, s.Doubts[0].Rules)
	assert.Contains(t, s.Doubts[0].Perhaps, "95 hp")
	assert.Equal(t, sheet.Asks, s.Answer)
	assert.Empty(t, slip("engine: {displacement: 2.3 L, power: 95 hp}\n").Doubts)
	s = slip("pump: {place: in_tank}\nsuction: {runs: [{name: hose, kind: hose}]}\n")
	require.Len(t, s.Doubts, 1, "two facts that cannot both be")
	assert.Contains(t, s.Doubts[0].Rules, "sense/pump.no-suction-in-tank")
}
