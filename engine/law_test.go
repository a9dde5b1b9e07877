package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
)

// growth makes random designs: every fact within its range or at its example,
// parts present, none or left out.
type growth struct {
	rng   *rand.Rand
	types map[string]schema.TypeInfo
	// declared are the facts of a shop, nil where none are drawn.
	declared *schema.Declared
}

func newGrowth(seed uint64) *growth {
	g := &growth{rng: rand.New(rand.NewPCG(seed, 1)), types: map[string]schema.TypeInfo{}}
	for _, t := range schema.Types() {
		g.types[t.Name] = t
	}
	return g
}

// fields are those of a type of part, the shop's among them.
func (g *growth) fields(name string) []schema.FieldInfo {
	if g.declared != nil {
		return g.declared.FieldsOf(name)
	}
	return g.types[name].Fields
}

func scalar(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text, Style: yaml.DoubleQuotedStyle, Tag: "!!str", Line: 1, Column: 1}
}

func plain(tag, text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text, Tag: tag, Line: 1, Column: 1}
}

// part makes a random part; likely is the chance that each field is stated.
func (g *growth) part(name string, likely float64) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Line: 1, Column: 1}
	skip := ""
	for _, f := range g.fields(name) {
		if f.Key == "complete" {
			n.Content = append(n.Content, plain("!!str", f.Key), g.complete(f))
			continue
		}
		if f.Key == skip || f.Key == "based_on" || f.Key == "leave_out" {
			continue // a grown design stands alone
		}
		if f.Excludes != "" && g.rng.IntN(2) == 0 {
			continue // leave room for the other way to say it
		}
		if g.rng.Float64() < likely {
			n.Content = append(n.Content, plain("!!str", f.Key), g.field(f, likely))
			if f.Excludes != "" {
				skip = f.Excludes
			}
		}
	}
	return n
}

// complete says of every list, of some or of none that they are all.
func (g *growth) complete(f schema.FieldInfo) *yaml.Node {
	if g.rng.IntN(2) == 0 {
		return plain("!!str", schema.WholeWord)
	}
	n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: 1, Column: 1}
	for _, w := range f.Words[1:] {
		if g.rng.IntN(2) == 0 {
			n.Content = append(n.Content, plain("!!str", w))
		}
	}
	return n
}

// unnamed takes the last items of open lists away, with the list where nothing is left: what is named of such a list is not
// all there is, so that naming less is saying less. A design without complete says that no list is.
func (g *growth) unnamed(root *yaml.Node, drop float64) {
	complete := under(root, "complete")
	if complete == nil {
		complete = plain("!!str", "none")
		root.Content = append(root.Content, plain("!!str", "complete"), complete)
	}
	for _, l := range schema.OpenLists() {
		whole := complete.Value == schema.WholeWord || slices.ContainsFunc(complete.Content, func(n *yaml.Node) bool { return n.Value == l.Name })
		part, path := root, strings.TrimPrefix(l.Path, "design.")
		if line, runs, inside := strings.Cut(path, "."); inside {
			part, path = under(root, line), runs
		}
		list := under(part, path)
		if whole || list == nil || list.Kind != yaml.SequenceNode || len(list.Content) == 0 {
			continue
		}
		for len(list.Content) > 0 && g.rng.Float64() < drop {
			list.Content = list.Content[:len(list.Content)-1]
		}
		if len(list.Content) > 0 {
			continue
		}
		for i := 0; i < len(part.Content); i += 2 {
			if part.Content[i+1] == list {
				part.Content = slices.Delete(part.Content, i, i+2)
				break
			}
		}
	}
}

// under is the value of a key; nil where there is none.
func under(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n != nil && n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func (g *growth) field(f schema.FieldInfo, likely float64) *yaml.Node {
	switch f.Kind {
	case schema.KindPart:
		return g.part(f.Part, likely)
	case schema.KindMaybe:
		if g.rng.Float64() < 0.3 {
			return plain("!!str", "none")
		}
		return g.part(f.Part, likely)
	case schema.KindList:
		n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: 1, Column: 1}
		for range g.rng.IntN(4) {
			if f.Part != "" {
				n.Content = append(n.Content, g.part(f.Part, likely))
			} else {
				item := f
				item.Kind = f.Item
				n.Content = append(n.Content, g.field(item, likely))
			}
		}
		return n
	case schema.KindBool:
		return plain("!!bool", strconv.FormatBool(g.rng.IntN(2) == 0))
	case schema.KindWord:
		return plain("!!str", f.Words[g.rng.IntN(len(f.Words))])
	case schema.KindInt:
		low, _ := strconv.Atoi(f.Low)
		high, _ := strconv.Atoi(f.High)
		if g.rng.Float64() < 0.6 {
			return plain("!!int", f.Example)
		}
		return plain("!!int", strconv.Itoa(low+g.rng.IntN(high-low+1)))
	case schema.KindQuantity:
		return g.quantity(f)
	}
	return scalar(f.Example)
}

func (g *growth) quantity(f schema.FieldInfo) *yaml.Node {
	if g.rng.Float64() < 0.5 {
		return scalar(f.Example)
	}
	low, err := quantity.Parse(f.Low, f.Dimension)
	high, err2 := quantity.Parse(f.High, f.Dimension)
	if err != nil || err2 != nil {
		return scalar(f.Example)
	}
	x := low.SI() + g.rng.Float64()*(high.SI()-low.SI())
	if low.SI() > 0 && g.rng.IntN(2) == 0 {
		x = low.SI() * math.Pow(high.SI()/low.SI(), g.rng.Float64())
	}
	v, err := quantity.New(min(max(x, low.SI()), high.SI()), f.Dimension)
	if err != nil {
		return scalar(f.Example)
	}
	text, err := v.Exact()
	if err != nil {
		return scalar(f.Example)
	}
	return scalar(text)
}

// thin forgets facts at random: never a list item, since a shorter list may be
// another statement, not less of the same; see unnamed.
func (g *growth) thin(n *yaml.Node, drop float64) *yaml.Node {
	out := *n
	out.Content = nil
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			if g.rng.Float64() >= drop {
				out.Content = append(out.Content, n.Content[i], g.thin(n.Content[i+1], drop))
			}
		}
	case yaml.SequenceNode:
		for _, c := range n.Content {
			if c.Kind == yaml.ScalarNode {
				out.Content = append(out.Content, c)
			} else {
				out.Content = append(out.Content, g.thin(c, drop))
			}
		}
	}
	return &out
}

// lawDesigns is how many random designs the law is tried on, each with three
// completions.
const lawDesigns = 300

// Stating more facts never changes a pass or a fail; it only settles open
// ones. Tried without assumptions, as the law says, for one region after the other.
func TestMoreFactsNeverChangeAFinding(t *testing.T) {
	t.Parallel()
	lib := library(t)
	regions, day := lib.Regions(), time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	designs := lawDesigns
	if !proofs.Whole() {
		designs /= 15
	}
	var wg sync.WaitGroup
	var mu sync.Mutex
	settled, compared, loaded := 0, 0, 0
	for worker := range 2 {
		wg.Go(func() {
			for i := worker; i < designs; i += 2 {
				g := newGrowth(uint64(i))
				full := g.part("Design", 0.75+0.25*g.rng.Float64())
				designs := []*yaml.Node{full}
				for range 3 {
					less := g.thin(designs[len(designs)-1], 0.02+0.2*g.rng.Float64())
					g.unnamed(less, 0.3)
					designs = append(designs, less)
				}
				var reports []*engine.Report
				for _, n := range designs {
					d, err := schema.LoadNode("random.yaml", n)
					if err != nil {
						break
					}
					reports = append(reports, lib.Judge(d, engine.Options{NoAssumptions: true, Regions: []string{regions[i%len(regions)].Name}, Today: day}))
				}
				mu.Lock()
				loaded += len(reports)
				for k := 0; k+1 < len(reports); k++ {
					s, c := compareReports(t, i, reports[k+1], reports[k])
					settled, compared = settled+s, compared+c
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	t.Logf("%d designs judged; %d passes and fails compared, %d open findings settled by more facts", loaded, compared, settled)
	assert.Greater(t, loaded, 3*designs, "most random designs load")
	assert.Greater(t, compared, designs, "the comparison is not empty")
}

func compareReports(t *testing.T, seed int, less, more *engine.Report) (settled, compared int) {
	after := map[string]engine.Outcome{}
	for _, f := range more.Findings {
		after[f.Rule+" "+f.Subject] = f.Outcome
	}
	for _, f := range less.Findings {
		got, there := after[f.Rule+" "+f.Subject]
		switch f.Outcome {
		case engine.Pass, engine.Fail:
			compared++
			if !there || got != f.Outcome {
				t.Errorf("seed %d: %s on %s was %s, with more facts %q\n%s", seed, f.Rule, f.Subject, f.Outcome, got, factsOf(&f))
			}
		case engine.Open:
			if there && got != engine.Open {
				settled++
			}
		}
	}
	return settled, compared
}

func factsOf(f *engine.Finding) string {
	var b strings.Builder
	for _, r := range f.Facts {
		fmt.Fprintf(&b, "  %s = %s\n", r.Path, r.Text)
	}
	for _, r := range f.Derived {
		fmt.Fprintf(&b, "  %s = %s\n", r.Path, r.Text)
	}
	return b.String()
}
