package schema

import (
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"

	"plumbline/schema/document"
	"plumbline/testdata/proofs"
)

// wholeDesigns are the texts of all designs of this project, templates written out.
var wholeDesigns = sync.OnceValues(func() ([][]byte, error) {
	var out [][]byte
	err := filepath.WalkDir("../designs", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".yaml" {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil || !saysDesign.Match(data) {
			return err
		}
		whole, err := Whole(filepath.ToSlash(name), data, os.ReadFile)
		out = append(out, whole)
		return err
	})
	return out, err
})

// oddScalars are values that one of two judges may take for a fact and the other not.
var oddScalars = []string{
	"", " ", "none", "null", "~", "true", "True", "no", "0", "-0", "1", "1.0", "1e0", "6e0", ".5", "5.", "+5", "1e400", "-1", "0x6", "1_000", "12:30", "1971-02-30", "1971-2-3", "2004-02-29",
	"0001-01-01", "1 ", "1  mm", "1mm", "1\u00a0mm", "½ in", "3/8 in", "1 1/2 in", "-6", "14 ft 6 in", "14' 6\"", "58 psi", "58 PSI", "4 bar", "4e1 kPa", "4.0e+1 kPa", "1,5 bar", "1.500,0 kPa", "85 %", "85%", "0.85", "E10", "E100",
	"14.7:1", "35 ppm", "12 AWG", "4/0 AWG", "2.5 mm2", "2.5 mm²", "210 degF", "210 °F", "30 inHg", "55 degBTDC", "0.48 lb/(hp h)", "255 L/h", "1 °", "nan", ".inf", "[]", "{}", "[none]", "[{}]", "{none: none}",
	"280..320 hp", "280 hp..320 hp", "280..300..320 hp", "300 hp +- 5 %", "300 ± 15 hp", "about 300 hp", "~5 mm", "ca. 12 V", "5…6 mm", "6..8", "2 +- 1", "1..2..3", "320..280 hp", "1..2..3..4", "10..15 %", "E10..E20", "0.8..0.9",
	"80..90 %", "-10..30 degC", "about 90 degC", "14..12 AWG", "-6..-8", "9..10:1", "about 6", "5..7 mm", "about 20 psi", "10-12 V", "3/8..1/2 in",
	"us", "gb", "planned", "in_tank", "steel", "x", "é", "\u2028", "\U0001F527", strings.Repeat("x", MaxTextBytes), strings.Repeat("é", MaxTextBytes/2+1), strings.Repeat("x", MaxTextBytes+1),
}

// mutate changes one to three things of a tree: an odd scalar, two values swapped, a key or an item dropped or doubled.
func mutate(root *yaml.Node, random *rand.Rand) {
	for range 1 + random.IntN(3) {
		var nodes []*yaml.Node
		var visit func(n *yaml.Node)
		visit = func(n *yaml.Node) {
			for i, child := range n.Content {
				if n.Kind != yaml.MappingNode || i%2 == 1 {
					nodes = append(nodes, child)
				}
				visit(child)
			}
		}
		visit(root)
		if len(nodes) == 0 {
			return
		}
		n := nodes[random.IntN(len(nodes))]
		switch parent := parentOf(root, n); random.IntN(5) {
		case 0, 1:
			var odd yaml.Node
			text := oddScalars[random.IntN(len(oddScalars))]
			if yaml.Unmarshal([]byte(text), &odd) != nil || len(odd.Content) == 0 || random.IntN(3) == 0 {
				*n = yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text, Style: yaml.DoubleQuotedStyle}
			} else {
				*n = *odd.Content[0]
			}
		case 2, 3:
			// Two facts change their values; two parts would contain each other.
			if other := nodes[random.IntN(len(nodes))]; n.Kind == yaml.ScalarNode && other.Kind == yaml.ScalarNode {
				*n, *other = *other, *n
			}
		case 4:
			drop(parent, n, random.IntN(4) == 0)
		}
	}
}

// drop takes a node out of its parent, or puts it in once more.
func drop(parent, n *yaml.Node, again bool) {
	for i, child := range parent.Content {
		switch {
		case child != n:
		case parent.Kind == yaml.SequenceNode && again:
			parent.Content = append(parent.Content, n)
			return
		case parent.Kind == yaml.SequenceNode:
			parent.Content = append(parent.Content[:i:i], parent.Content[i+1:]...)
			return
		default:
			parent.Content = append(parent.Content[:i-1:i-1], parent.Content[i+1:]...)
			return
		}
	}
}

func parentOf(root, n *yaml.Node) *yaml.Node {
	for _, child := range root.Content {
		if child == n {
			return root
		}
		if p := parentOf(child, n); p != nil {
			return p
		}
	}
	return nil
}

// judgedTwice loads a text and reports whether the loader accepts it; then the JSON Schema must.
func judgedTwice(t require.TestingT, data []byte) bool {
	if _, err := Load("f", data); err != nil {
		return false
	}
	schemaAccepts(t, data)
	return true
}

func mutantOf(t require.TestingT, design []byte, seed uint64) []byte {
	root, err := document.Parse("f", design)
	require.NoError(t, err)
	mutate(root, rand.New(rand.NewPCG(seed, 0)))
	data, err := yaml.Marshal(root)
	require.NoError(t, err)
	return data
}

// The loader alone judges a design when the program runs. It must be no laxer than the JSON Schema: over changed copies of
// every design, always the same ones.
func TestTheLoaderIsNoLaxerThanTheSchema(t *testing.T) {
	designs, err := wholeDesigns()
	require.NoError(t, err)
	require.Greater(t, len(designs), 50)
	each := 1
	if proofs.Whole() {
		each = 20
	}
	accepted := 0
	for i, design := range designs {
		require.True(t, judgedTwice(t, design))
		for seed := range each {
			if judgedTwice(t, mutantOf(t, design, uint64(i*1000+seed))) {
				accepted++
			}
		}
	}
	assert.Greater(t, accepted, each*len(designs)/10, "hardly a mutant was accepted, so hardly one was judged twice")
	t.Logf("%d of %d mutants accepted by both", accepted, each*len(designs))
}

// The same over designs drawn from the types of the schema, every key of which may stand, and changed copies of them.
func TestTheLoaderIsNoLaxerOnDrawnDesigns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		root := randomDesign{t, map[string]any{}}.part(designPlan(), "design")
		root.Content = append([]*yaml.Node{text("plumbline"), plain("1")}, root.Content...)
		data, err := yaml.Marshal(root)
		require.NoError(t, err)
		require.True(t, judgedTwice(t, data), "%s", data)
		for range 5 {
			judgedTwice(t, mutantOf(t, data, rapid.Uint64().Draw(t, "seed")))
		}
	})
}

// FuzzMutants looks on where the tests above stop.
func FuzzMutants(f *testing.F) {
	designs, err := wholeDesigns()
	require.NoError(f, err)
	for i := range 8 {
		f.Add(uint16(i*7), uint64(i))
	}
	f.Fuzz(func(t *testing.T, which uint16, seed uint64) {
		judgedTwice(t, mutantOf(t, designs[int(which)%len(designs)], seed))
	})
}
