package engine_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
)

// vague makes two less certain designs of a part: one in which some quantities and whole numbers are stated as ranges
// around what they are, and one in which those are not stated at all.
func (g *growth) vague(name string, n *yaml.Node, share float64) (ranged, silent *yaml.Node) {
	a, b := *n, *n
	a.Content, b.Content = nil, nil
	if n.Kind != yaml.MappingNode {
		return n, n
	}
	fields := map[string]schema.FieldInfo{}
	for _, f := range g.types[name].Fields {
		fields[f.Key] = f
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		f := fields[key.Value]
		switch wide := g.around(f, value); {
		case value.Kind == yaml.MappingNode:
			x, y := g.vague(f.Part, value, share)
			a.Content, b.Content = append(a.Content, key, x), append(b.Content, key, y)
		case value.Kind == yaml.SequenceNode && f.Part != "":
			x, y := *value, *value
			x.Content, y.Content = nil, nil
			for _, item := range value.Content {
				p, q := g.vague(f.Part, item, share)
				x.Content, y.Content = append(x.Content, p), append(y.Content, q)
			}
			a.Content, b.Content = append(a.Content, key, &x), append(b.Content, key, &y)
		case wide != "" && g.rng.Float64() < share:
			a.Content = append(a.Content, key, scalar(wide))
		default:
			a.Content, b.Content = append(a.Content, key, value), append(b.Content, key, value)
		}
	}
	return &a, &b
}

// around is a range that holds a value, within what the fact may be; "" when it cannot have one.
func (g *growth) around(f schema.FieldInfo, value *yaml.Node) string {
	switch f.Kind {
	case schema.KindInt:
		low, _ := strconv.Atoi(f.Low)
		high, _ := strconv.Atoi(f.High)
		n, err := strconv.Atoi(value.Value)
		if err != nil || low >= high {
			return ""
		}
		from, to := low+g.rng.IntN(n-low+1), n+g.rng.IntN(high-n+1)
		if from == to {
			return ""
		}
		return strconv.Itoa(from) + ".." + strconv.Itoa(to)
	case schema.KindQuantity:
		low, err1 := quantity.Parse(f.Low, f.Dimension)
		high, err2 := quantity.Parse(f.High, f.Dimension)
		v, err3 := quantity.Parse(value.Value, f.Dimension)
		if err1 != nil || err2 != nil || err3 != nil {
			return ""
		}
		from, err1 := quantity.MustNew(max(low.SI(), v.SI()-g.rng.Float64()*(v.SI()-low.SI())), f.Dimension).Exact()
		to, err2 := quantity.MustNew(min(high.SI(), v.SI()+g.rng.Float64()*(high.SI()-v.SI())), f.Dimension).Exact()
		if _, is, err := quantity.ParseRange(from+".."+to, f.Dimension); err1 != nil || err2 != nil || !is || err != nil {
			return ""
		}
		return from + ".." + to
	}
	return ""
}

// Narrowing a range to a value is stating more: it never changes a pass or a fail, with assumptions or without. What
// comes out one way all over the ranges is decided; every other finding comes out as if the fact were not stated.
func TestNarrowingARangeNeverChangesAFinding(t *testing.T) {
	t.Parallel()
	lib := library(t)
	regions, day := lib.Regions(), time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	designs := lawDesigns / 10 // each is judged at the points of dozens of ranges
	if !proofs.Whole() {
		designs /= 5
	}
	settled, compared, ranges, same, decided := 0, 0, 0, 0, 0
	for i := range designs {
		g := newGrowth(uint64(10_000 + i))
		full := g.part("Design", 0.75+0.25*g.rng.Float64())
		vague, silent := g.vague("Design", full, 0.02+0.3*g.rng.Float64())
		var loaded []*schema.Design
		for _, n := range []*yaml.Node{full, vague, silent} {
			if d, err := schema.LoadNode("random.yaml", n); err == nil {
				loaded = append(loaded, d)
			}
		}
		if len(loaded) < 3 {
			continue
		}
		ranges += len(loaded[1].Ranges())
		for _, bare := range []bool{true, false} {
			o := engine.Options{NoAssumptions: bare, Regions: []string{regions[i%len(regions)].Name}, Today: day}
			narrow, wide := lib.Judge(loaded[0], o), lib.Judge(loaded[1], o)
			s, c := compareReports(t, i, wide, narrow)
			settled, compared = settled+s, compared+c
			if !bare {
				continue
			}
			none := judgedAs(lib.Judge(loaded[2], o))
			require.Len(t, none, len(judgedAs(wide)), "design %d", i)
			for _, f := range wide.Findings {
				switch got := none[f.Rule+" "+f.Subject]; {
				case got == f.Outcome:
					same++
				case f.Ranged && got == engine.Open:
					decided++
				default:
					t.Errorf("design %d: %s on %s is %s with ranges, %s without", i, f.Rule, f.Subject, f.Outcome, got)
				}
			}
		}
	}
	t.Logf("%d ranges; %d passes and fails compared, %d open findings settled, %d findings alike, %d decided all over the ranges", ranges, compared, settled, same, decided)
	assert.Greater(t, ranges, 10*designs)
	assert.Greater(t, compared, designs)
	assert.Greater(t, settled, designs)
}

// A range is told as it was written: among the facts of a finding, in the question, which is to narrow it; and nothing is
// assumed in its place.
func TestARangeIsToldAsWritten(t *testing.T) {
	lib := library(t)
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\nengine: {power: 280..320 hp, power_as: net}\nvehicle: {model_year: 1968..1972}\nfuel: {ethanol: E10..E15}\n"))
	require.NoError(t, err)
	report := lib.Judge(d, engine.Options{Unread: true})

	stated := map[string]string{}
	for _, q := range report.Asked {
		if q.Stated != "" {
			stated[q.Path] = q.Stated
		}
	}
	assert.Equal(t, "280..320 hp", stated["design.engine.power"])
	assert.Equal(t, "E10..E15", stated["design.fuel.ethanol"])
	read := false
	for _, f := range report.Findings {
		assert.NotContains(t, f.Assumed, "design.engine.power")
		assert.NotContains(t, f.Assumed, "design.fuel.ethanol")
		for _, r := range f.Facts {
			read = read || r.Path == "design.fuel.ethanol" && r.Text == "E10..E15"
		}
	}
	assert.True(t, read, "a finding names the range among the facts it read")
	for _, r := range report.Unread {
		assert.NotEqual(t, "design.engine.power", r.Path, "it was read, though it settled nothing")
	}
}

// A condition that comes true somewhere inside a range and not at its ends stays open, however few points meet it; every
// value of a whole number is tried.
func TestWhatTurnsTwiceWithinARangeStaysOpen(t *testing.T) {
	lib := library(t)
	for text, want := range map[string]engine.Outcome{
		"start/setup.cylinders-entered engine: {cycle: four_stroke, cylinders: 1..16}, setup: {cylinders: 7}":                                                            engine.Open,
		"start/setup.cylinders-entered engine: {cycle: four_stroke, cylinders: 4..6}, setup: {cylinders: 8}":                                                             engine.Fail,
		"electrical/changed-supply.loads-suit-voltage battery: {system_voltage: 6 V..48 V, changed: {old_grounded_pole: negative, old_voltage: 24 V, loads_suit: true}}": engine.Open,
	} {
		rule, design, _ := strings.Cut(text, " ")
		d, err := schema.Load("d.yaml", []byte("{plumbline: 1, "+design+"}"))
		require.NoError(t, err)
		found := 0
		for _, f := range lib.Judge(d, engine.Options{NoAssumptions: true, Stage: "started"}).Findings {
			if f.Rule == rule {
				found++
				assert.Equal(t, want, f.Outcome, text)
			}
		}
		assert.Equal(t, 1, found, text)
	}
}
