package derive

import (
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"

	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// entryOf is one "key: value" of a mapping that can be left out of a design.
type entryOf struct {
	mapping *yaml.Node
	key     *yaml.Node
}

// removable lists every entry of every mapping but the edition.
func removable(n *yaml.Node, into []entryOf) []entryOf {
	if n.Kind == yaml.MappingNode {
		for i := 0; i < len(n.Content); i += 2 {
			if n.Content[i].Value != "plumbline" {
				into = append(into, entryOf{n, n.Content[i]})
			}
			into = removable(n.Content[i+1], into)
		}
		return into
	}
	for _, child := range n.Content {
		into = removable(child, into)
	}
	return into
}

func (e entryOf) remove() {
	for i := 0; i < len(e.mapping.Content); i += 2 {
		if e.mapping.Content[i] == e.key {
			e.mapping.Content = append(e.mapping.Content[:i:i], e.mapping.Content[i+2:]...)
			return
		}
	}
}

// variant is the six of the tests with some lines replaced.
func variant(t testing.TB, replace ...string) string {
	t.Helper()
	data, err := os.ReadFile("testdata/six.yaml")
	require.NoError(t, err)
	text := string(data)
	for i := 0; i < len(replace); i += 2 {
		require.Contains(t, text, replace[i])
		text = strings.ReplaceAll(text, replace[i], replace[i+1])
	}
	return text
}

func variants(t testing.TB) map[string]string {
	const style = "style: return_style"
	return map[string]string{
		"return style": variant(t),
		"in tank": variant(t, style, "style: in_tank", "place: frame_rail", "place: in_tank",
			"location: above_throttle", "location: below_throttle", "reference: atmosphere", "reference: manifold_vacuum"),
		"dead head, turbine": variant(t, style, "style: dead_head", "kind: roller_vane", "kind: turbine",
			"dead_head_pressure: 700 kPa", "dead_head_pressure: 450 kPa"),
		"starved":            variant(t, "power: 90 kW", "power: 500 kW", "static_flow: 600 cc/min", "static_mass_flow: 55 lb/h"),
		"battery discharges": variant(t, "idle_output: 45 A", "idle_output: 20 A", "sensor_ground: engine", "sensor_ground: chassis"),
		"one bank, driver": variant(t, "sees: all_cylinders", "sees: one_bank", "kind: points", "kind: controller_driver",
			"dwell_fraction: 66.7 %", "dwell_fraction: 30 %, current_limit: 6 A"),
		"electric throttle, ported": variant(t, "linkage: cable", "linkage: electric", "reference: atmosphere", "reference: ported_vacuum",
			"port: plenum_below_throttle", "port: built_in_below_throttle"),
	}
}

// knownValues evaluates everything a design lets one know, and what it can be
// where it is known between bounds only.
func knownValues(t require.TestingT, name string, root *yaml.Node) map[string]Span {
	if !slices.ContainsFunc(root.Content, func(n *yaml.Node) bool { return n.Value == "complete" }) {
		root.Content = append(root.Content, parse(t, "complete: none").Content...) // as in a file: what does not say so is not all
	}
	d, err := schema.LoadNode(name, root)
	require.NoError(t, err)
	out, s := map[string]Span{}, NewSession(d, Options{})
	for _, r := range everything(s) {
		if r.Known() {
			out[r.Path] = s.Span(r)
		}
	}
	return out
}

func parse(t require.TestingT, text string) *yaml.Node {
	var root yaml.Node
	require.NoError(t, yaml.Unmarshal([]byte(text), &root))
	return root.Content[0]
}

// firstChange names a value known with fewer facts that more facts change: one
// that is no longer within what it could be.
func firstChange(fewer, more map[string]Span) string {
	for _, path := range slices.Sorted(maps.Keys(fewer)) {
		have, known := more[path]
		if !known || !within(have, fewer[path]) {
			return fmt.Sprintf("%s is %v, with more facts %v", path, fewer[path], have)
		}
	}
	return ""
}

// within reports whether all a value can be lies within what another can be.
func within(have, of Span) bool {
	if len(of) == 1 || slices.Contains(of, nil) {
		return slices.Equal(have, of) || slices.Contains(of, nil)
	}
	if _, number := plainValue(of[0]); number == "" {
		if _, is := of[0].(float64); !is {
			return !slices.ContainsFunc(have, func(v any) bool { return !slices.Contains(of, v) })
		}
	}
	low, high := of.Ends()
	least, most := have.Ends()
	slack := 1e-6 * (math.Abs(low) + math.Abs(high))
	return least >= low-slack && most <= high+slack
}

// The law: a design that states less may know less, but what it knows is the
// same. First every fact is left out alone, then many at random.
func TestMoreFactsNeverChangeAKnownValue(t *testing.T) {
	texts, full := variants(t), map[string]map[string]Span{}
	for name, text := range texts {
		full[name] = knownValues(t, "full.yaml", parse(t, text))
	}
	const base = "return style"
	for i := range removable(parse(t, texts[base]), nil) {
		root := parse(t, texts[base])
		entry := removable(root, nil)[i]
		entry.remove()
		require.Empty(t, firstChange(knownValues(t, "reduced.yaml", root), full[base]), "without %s in line %d", entry.key.Value, entry.key.Line)
	}
	// Of a list that is not said to be all, naming less is saying less.
	for _, l := range schema.OpenLists() {
		root := parse(t, strings.Replace(texts[base], "complete: all", "complete: none", 1))
		more := knownValues(t, "open.yaml", root)
		list := root
		for _, key := range strings.Split(strings.TrimPrefix(l.Path, "design."), ".") {
			if at := slices.IndexFunc(list.Content, func(n *yaml.Node) bool { return n.Value == key }); at >= 0 {
				list = list.Content[at+1]
			}
		}
		for list.Kind == yaml.SequenceNode && len(list.Content) > 1 {
			list.Content = list.Content[:len(list.Content)-1]
			require.Empty(t, firstChange(knownValues(t, "shorter.yaml", root), more), "%s of %d", l.Path, len(list.Content))
		}
		require.Empty(t, firstChange(more, full[base]), "without complete")
	}
	proofs.Fewer(t, 5)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(slices.Sorted(maps.Keys(texts))).Draw(t, "variant")
		root := parse(t, texts[name])
		entries := removable(root, nil)
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, len(entries)-1), 1, 25).Draw(t, "left out") {
			entries[i].remove()
		}
		if change := firstChange(knownValues(t, "reduced.yaml", root), full[name]); change != "" {
			t.Fatal(change)
		}
	})
}

// Assumptions fill exactly the facts that are not stated, and are named.
func TestAssumptionsAreUsedAndNamed(t *testing.T) {
	text := variant(t, "altitude: 300 m, ", "")
	d, err := schema.Load("six.yaml", []byte(text))
	require.NoError(t, err)
	r := NewSession(d, Options{}).At(Idle, "barometer")
	require.Equal(t, []string{"design.climate.altitude"}, r.Missing)

	altitude, known := six(t).Climate.Altitude.Get()
	require.True(t, known)
	s := NewSession(d, Options{Assumptions: map[string]any{"design.climate.altitude": altitude}})
	r = s.At(FullLoad, "manifold_pressure")
	require.True(t, r.Known())
	require.Equal(t, []string{"design.climate.altitude"}, r.Assumed)
	require.Equal(t, NewSession(six(t), Options{}).At(FullLoad, "manifold_pressure").Value(), r.Value())
}
