package schema

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/document"
)

const someParts = `shelf: 1
parts:
  - name: frame-155
    title: roller vane pump
    read_from: box
    read_on: 2026-11-20
    price: 84.50
    stock: 3
    pump: {kind: roller_vane, rated_flow: 155 L/h, rated_pressure: 300 kPa, outlet: {kind: spigot, size: 8 mm, beaded: true}, curve: [{pressure: 200 kPa, flow: 170 L/h}, {pressure: 300 kPa, flow: 155 L/h}]}
  - {name: r9-8, read_from: part, read_on: 2026-11-20, hose: {bore: 8 mm, mark: sae_j30_r9}}
  - {name: cable-16, read_from: part, read_on: 2026-11-20, wire: {size: 16 mm2, insulation_rating: 105 degC, conductor: stranded_copper}}
  - {name: clamp-15, read_from: part, read_on: 2026-11-20, clamp: {held: injection_clamp, clamp_from: 13 mm, clamp_to: 15 mm}}
  - {name: set-4, read_from: sheet, read_on: 2026-11-20, injectors: {count: 4, static_mass_flow: 55 lb/h, test_pressure: 300 kPa}}
`

func shelfOf(t *testing.T, text string) *Shelf {
	t.Helper()
	s, err := ReadShelf([]ShelfText{{"parts/a.yaml", []byte(text)}})
	require.NoError(t, err)
	return s
}

func loadWith(s *Shelf, text string, templates map[string]string) (*Design, error) {
	return Loader{Shelf: func() (*Shelf, error) { return s, nil }, Open: func(name string) ([]byte, error) { return []byte(templates[name]), nil }}.Partly("d.yaml", 1, []byte(text))
}

func TestPartsOfTheShelfCountAsStated(t *testing.T) {
	d, err := loadWith(shelfOf(t, someParts), `plumbline: 1
pump: {part: frame-155, place: frame_rail, rated_flow: 150 L/h, rated_pressure: 3 bar}
feed: {runs: [{name: a, part: r9-8, length: 40 cm, inlet: {part: clamp-15}}]}
throttle_body: {injectors: {part: set-4, static_flow: 600 cc/min}}
grounds: [{name: chassis, part: cable-16}]
`, nil)
	require.NoError(t, err)
	assert.Equal(t, "150 L/h", d.Pump.RatedFlow.Text(), "what the design states itself counts")
	assert.Equal(t, "roller_vane", d.Pump.Kind.Text())
	assert.Equal(t, Place{File: "parts/a.yaml", Line: 9, Column: 18}, d.Pump.Kind.Place())
	assert.Equal(t, "design.pump.curve[1].flow", d.Pump.Curve.Items[1].Flow.Path())
	run := &d.Feed.Runs.Items[0]
	assert.Equal(t, "hose", run.Kind.Text(), "a hose is one by its key")
	assert.Equal(t, "sae_j30_r9", run.Mark.Text())
	assert.Equal(t, "injection_clamp", run.Inlet.Held.Text())
	assert.False(t, d.ThrottleBody.Injectors.StaticMassFlow.Known(), "the design says the flow another way")
	assert.Equal(t, "16 mm2", d.Grounds.Items[0].Size.Text())

	used := d.Shelved()
	require.Len(t, used, 5)
	assert.Equal(t, "design.pump", used[0].Path)
	require.Len(t, used[0].Kept, 1, "3 bar is 300 kPa")
	assert.Equal(t, Kept{"design.pump.rated_flow", "150 L/h", Place{File: "d.yaml", Line: 2, Column: 56}, "155 L/h", Place{File: "parts/a.yaml", Line: 9, Column: 43}}, used[0].Kept[0])
	at := d.ShelvedAt("design.throttle_body.injectors")
	require.NotNil(t, at)
	require.Len(t, at.Kept, 1)
	assert.Equal(t, "600 cc/min", at.Kept[0].Text)
	assert.Nil(t, d.ShelvedAt("design.feed"))
	assert.Len(t, d.Clone().Shelved(), 5)
	schemaAccepts(t, []byte("plumbline: 1\npump: {part: frame-155}\nfeed: {runs: [{part: r9-8}]}\n"))
}

// A template may name a part; the design that rests on it may name another, or take it away.
func TestTemplatesNameParts(t *testing.T) {
	s := shelfOf(t, someParts+"  - {name: frame-110, read_from: box, read_on: 2026-11-20, pump: {rated_flow: 110 L/h}}\n")
	templates := map[string]string{"base.yaml": "plumbline: 1\npump: {part: frame-155, rated_pressure: 250 kPa}\n"}
	d, err := loadWith(s, "plumbline: 1\nbased_on: base.yaml\n", templates)
	require.NoError(t, err)
	assert.Equal(t, "155 L/h", d.Pump.RatedFlow.Text())
	assert.Equal(t, "base.yaml", d.Shelved()[0].Kept[0].Place.File)

	d, err = loadWith(s, "plumbline: 1\nbased_on: base.yaml\npump: {part: frame-110}\n", templates)
	require.NoError(t, err)
	assert.Equal(t, "110 L/h", d.Pump.RatedFlow.Text())
	assert.False(t, d.Pump.Kind.Known())

	d, err = loadWith(s, "plumbline: 1\nbased_on: base.yaml\nleave_out: [pump.part]\n", templates)
	require.NoError(t, err)
	assert.False(t, d.Pump.RatedFlow.Known())
	assert.Empty(t, d.Shelved())
}

func TestPartsThatCannotStandThere(t *testing.T) {
	s := shelfOf(t, someParts)
	for text, wants := range map[string]string{
		"pump: {part: frame155}":                         "d.yaml:2:14: the shelf has no part frame155; did you mean frame-155?",
		"pump: {part: quite-else}":                       "d.yaml:2:14: the shelf has no part quite-else; of this kind it has frame-155",
		"pump: {part: r9-8}":                             "r9-8 is a hose (parts/a.yaml:10:5), and what stands here is a pump",
		"feed: {runs: [{kind: tube, part: r9-8}]}":       "r9-8 is a hose (parts/a.yaml:10:5), and this piece says kind: tube",
		"pump: {part: }":                                 "write the value, or leave the line out",
		"pump: {part: [frame-155]}":                      "one value is expected, such as frame-155",
		"engine: {part: frame-155}":                      "unknown key part",
		"tank: {strainer: {part: \"frame-155\\u0007\"}}": "the shelf has no part frame-155 ; did you mean frame-155?",
	} {
		d, err := loadWith(s, "plumbline: 1\n"+text+"\nfuel: {ethanol: 10 %}\n", nil)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), wants, text)
		assert.NotNil(t, d, "what could be read is there: %s", text)
	}
	_, err := Load("d.yaml", []byte("plumbline: 1\npump: {part: frame-155}\n"))
	assert.ErrorContains(t, err, "d.yaml:2:14: no shelf is read here")
	_, err = Loader{Shelf: func() (*Shelf, error) { return nil, errors.New("the shelf burned") }}.Load("d.yaml", []byte("plumbline: 1\npump: {part: frame-155}\nfule: 1\n"))
	assert.ErrorContains(t, err, "d.yaml:2:14: the shelf burned")
	assert.ErrorContains(t, err, "d.yaml:3:1: unknown key fule", "all at once")
}

// Everything that is wrong with a shelf is told at once, with its place.
func TestWrongShelves(t *testing.T) {
	_, err := ReadShelf([]ShelfText{
		{"a.yaml", []byte(`shelf: 1
parts:
  - {name: x, read_from: box, read_on: 2026-11-20, pump: {rated_flow: 155, exhaust_clearance: 1 m, place: in_tank}}
  - {name: x, read_from: bx, read_on: yesterday, hose: {bore: 8 mm, kind: hose}}
  - {title: t, price: 85 %, pump: {part: x, outlet: {kind: spigot, held: spring_clip}}, hose: {bore: 8 mm}}
  - {name: "a: b", read_from: box, read_on: 2026-11-20, stock: 1..3}
  - {name: y, read_from: box, read_on: 2026-11-20, regulator: {}}
`)},
		{"b.yaml", []byte("parts: [{name: x, read_from: box, read_on: 2026-11-20, relay: {contact_rating: 30 A}}]\n")},
		{"c.yaml", []byte("shelf: 1\n")},
		{"d.yaml", []byte("shelf: 1\nparts: [&a {name: z}, *a]\n")},
	})
	require.Error(t, err)
	for _, want := range []string{
		"a.yaml:3:71: 155: a flow needs a unit", "a.yaml:3:76: unknown key exhaust_clearance", "a.yaml:3:100: place belongs to how a pump is fitted, not to the part",
		"a.yaml:4:26: bx is not one of part, box, sheet, list, bench", "a.yaml:4:39: yesterday is not a day", "that it is a hose is said by the key above",
		"a.yaml:4:12: the shelf has a part x already, at a.yaml:3:12", "the part has no name", "where its facts were read is missing", "the day its facts were read is missing",
		"a price is a plain number", "a part of the shelf names no other", "held belongs to how a pump is fitted", "a part is of one kind, and this one is a pump already",
		"a part's name is of letters", "one number is expected here, no range", "it is not said what this part is", "nothing is said of it",
		"b.yaml:1:1: the edition of the file format is missing", "b.yaml:1:16: the shelf has a part x already", "c.yaml:1:1: the file holds no parts", "an alias (*a) is not allowed",
	} {
		assert.Contains(t, err.Error(), want)
	}
}

func TestHugeShelves(t *testing.T) {
	many := func(n int) string {
		var b strings.Builder
		b.WriteString("shelf: 1\nparts:\n")
		for i := range n {
			fmt.Fprintf(&b, "  - {name: p%d, read_from: box, read_on: 2026-11-20, relay: {contact_rating: 30 A}}\n", i)
		}
		return b.String()
	}
	_, err := ReadShelf([]ShelfText{{"a.yaml", []byte(many(MaxShelfItems + 1))}})
	assert.ErrorContains(t, err, "at most 200 are read")
	_, err = ReadShelf(make([]ShelfText, MaxShelfFiles+1))
	assert.ErrorContains(t, err, "at most 500 are read")
}

// What the reader of shelves accepts the committed JSON Schema accepts.
func TestShelfSchemaAcceptsWhatIsRead(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(shelfSchema))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("shelf.schema.json", doc))
	compiled := compiler.MustCompile("shelf.schema.json")
	root, err := document.Parse("f", []byte(someParts))
	require.NoError(t, err)
	assert.NoError(t, compiled.Validate(instance(root)))
	for _, wrong := range []string{"{shelf: 1, parts: [{name: a, read_from: box, read_on: 2026-11-20}]}", "{shelf: 1, parts: [{name: a, read_from: box, read_on: 2026-11-20, pump: {place: in_tank}}]}"} {
		root, err := document.Parse("f", []byte(wrong))
		require.NoError(t, err)
		assert.Error(t, compiled.Validate(instance(root)), wrong)
	}
}

// The kinds are of types and facts that a design has.
func TestShelfKindsAreOfTheDesign(t *testing.T) {
	for _, k := range ShelfKinds() {
		for _, typeName := range append([]string{k.Type}, k.Also...) {
			require.NotNil(t, planOf(typeName), k.Name)
			assert.NotEmpty(t, k.FactsIn(typeName), k.Name)
		}
		for _, key := range k.Facts {
			assert.NotNil(t, fieldOf(planOf(k.Type), key), "%s.%s", k.Name, key)
		}
		assert.True(t, k.AsKey == "" || fieldOf(planOf(k.Type), k.AsKey) != nil, k.Name)
	}
}
