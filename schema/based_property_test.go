package schema

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"

	"plumbline/schema/document"
	"plumbline/testdata/proofs"
)

// halves parts a design at random into a template and the design that rests on it. The template also states things
// that the design changes, and such that it leaves out.
type halves struct {
	t       *rapid.T
	leftOut []string
	// extras is how many items were made up to be left out.
	extras int
}

// part parts a mapping; own and base are the two halves.
func (h *halves) part(n *yaml.Node, plan *typePlan, at string) (own, base *yaml.Node) {
	own, base = &yaml.Node{Kind: yaml.MappingNode}, &yaml.Node{Kind: yaml.MappingNode}
	put := func(to *yaml.Node, key string, value *yaml.Node) {
		if value != nil {
			to.Content = append(to.Content, text(key), value)
		}
	}
	for _, f := range plan.fields {
		path := document.Join(at, f.key)
		_, value := entry(n, f.key)
		switch {
		case at == "" && slices.Contains(ownFacts(), f.key):
			put(own, f.key, value)
		case value == nil:
			// One of these in a template is left out again.
			if f.kind <= KindQuantity && f.excludes == "" && !plan.saidOtherwise(f.key, n) && h.draw(20) == 0 {
				put(base, f.key, exampleNode(f.fact))
				h.leftOut = append(h.leftOut, path)
			}
		default:
			mine, theirs := h.field(value, f, path)
			put(own, f.key, mine)
			if other := plan.byKey[f.excludes]; theirs == nil && other != nil && other.fact != nil && h.draw(2) == 0 {
				put(base, f.excludes, exampleNode(other.fact))
				continue
			}
			put(base, f.key, theirs)
		}
	}
	return own, base
}

func (h *halves) draw(n int) int { return rapid.IntRange(0, n-1).Draw(h.t, "choice") }

// field parts a value; nil is a half that does not state it.
func (h *halves) field(n *yaml.Node, f *fieldPlan, at string) (own, base *yaml.Node) {
	switch choice := h.draw(4); {
	case choice == 0:
		return n, nil
	case choice == 1:
		return nil, n
	case f.kind <= KindQuantity:
		return n, exampleNode(f.fact)
	case f.kind == KindMaybe && isNone(n):
		return n, &yaml.Node{Kind: yaml.MappingNode}
	case f.kind == KindMaybe && choice == 2, f.kind == KindList && choice == 2:
		return n, text("none")
	case n.Kind == yaml.MappingNode:
		return h.part(n, f.part, at)
	case n.Kind == yaml.SequenceNode && f.part != nil && f.part.byKey["name"] != nil:
		return h.named(n, f, at)
	}
	return n, nil
}

// named parts a list of named items: from somewhere on all are the design's, before that any is the template's or both's.
func (h *halves) named(n *yaml.Node, f *fieldPlan, at string) (own, base *yaml.Node) {
	names := byName(n)
	if len(names) != len(n.Content) || len(names) == 0 {
		return n, nil
	}
	own, base = &yaml.Node{Kind: yaml.SequenceNode}, &yaml.Node{Kind: yaml.SequenceNode}
	from := h.draw(len(n.Content) + 1)
	for i, item := range n.Content {
		_, name := entry(item, "name")
		switch {
		case i >= from:
			own.Content = append(own.Content, item)
		case h.draw(2) == 0:
			base.Content = append(base.Content, item)
		default:
			mine, theirs := h.part(item, f.part, at+"."+name.Value)
			for _, half := range []*yaml.Node{mine, theirs} {
				if _, there := entry(half, "name"); there == nil {
					half.Content = append(half.Content, text("name"), name)
				} else {
					there.Value = name.Value
				}
			}
			own.Content, base.Content = append(own.Content, mine), append(base.Content, theirs)
		}
	}
	if h.draw(3) == 0 {
		h.extras++
		name := fmt.Sprintf("surplus %d", h.extras)
		extra := &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{text("name"), text(name)}}
		base.Content = slices.Insert(base.Content, h.draw(len(base.Content)+1), extra)
		h.leftOut = append(h.leftOut, at+"."+name)
	}
	if len(own.Content) == 0 {
		own = nil
	}
	if len(base.Content) == 0 {
		base = nil
	}
	return own, base
}

// files parts a design into a design file and a chain of that many templates.
func (h *halves) files(whole *yaml.Node, templates int) shelf {
	files := shelf{}
	name := "design.yaml"
	for ; templates > 0; templates-- {
		h.leftOut = nil
		own, base := h.part(whole, designPlan(), "")
		next := name + ".base.yaml"
		list := &yaml.Node{Kind: yaml.SequenceNode}
		for _, path := range h.leftOut {
			list.Content = append(list.Content, text(path))
		}
		own.Content = append(own.Content, text("based_on"), text(next), text("leave_out"), list)
		files[name], name, whole = h.written(own), next, base
	}
	files[name] = h.written(whole)
	return files
}

// written is the text of a file without its first line, the edition.
func (h *halves) written(root *yaml.Node) string {
	rest := &yaml.Node{Kind: yaml.MappingNode}
	for i := 0; i < len(root.Content); i += 2 {
		if root.Content[i].Value != "plumbline" {
			rest.Content = append(rest.Content, root.Content[i], root.Content[i+1])
		}
	}
	if len(rest.Content) == 0 {
		return ""
	}
	out, err := yaml.Marshal(rest)
	require.NoError(h.t, err)
	return string(out)
}

// factsOf are the facts, parts and lists a design states, by path, without their places.
func factsOf(d *Design) map[string]any {
	facts := map[string]any{}
	WalkAll(d, func(v Visit) {
		switch {
		case v.Optional != nil && v.Optional.Presence() != NotStated:
			facts[v.Path] = v.Optional.Presence()
		case v.Listing != nil && listed(v.Listing):
			facts[v.Path] = v.Listing.Len()
		case IsStated(v.Reading):
			facts[v.Path] = v.Reading.Text()
		}
	})
	for path := range facts {
		if strings.HasPrefix(path, "design.based_on") || strings.HasPrefix(path, "design.leave_out") {
			delete(facts, path)
		}
	}
	return facts
}

// A design from templates states exactly what it would state in one file.
func TestADesignFromTemplatesStatesTheSame(t *testing.T) {
	names, err := filepath.Glob("../designs/*/*.yaml")
	require.NoError(t, err)
	require.Greater(t, len(names), 5)
	wholes := map[string]*Design{}
	roots := map[string][]byte{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		d, err := Load(name, data)
		if err != nil {
			continue
		}
		wholes[name], roots[name] = d, data
	}
	require.NotEmpty(t, wholes)
	names = slices.DeleteFunc(names, func(name string) bool { return wholes[name] == nil })

	proofs.Fewer(t, 5)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(names).Draw(t, "design")
		root, err := document.Parse(name, roots[name])
		require.NoError(t, err)
		h := &halves{t: t}
		files := h.files(root, rapid.IntRange(1, 3).Draw(t, "templates"))
		d, err := files.load()
		require.NoError(t, err, "%v", files)
		assert.Equal(t, factsOf(wholes[name]), factsOf(d), "%v", files)
		Walk(d, func(v Visit) {
			if IsStated(v.Reading) {
				require.Contains(t, files, v.Reading.Place().File)
			}
		})

		// Written out it is a design of its own that rests on nothing.
		top, err := files.open("design.yaml")
		require.NoError(t, err)
		text, err := Whole("design.yaml", top, files.open)
		require.NoError(t, err, "%v", files)
		d, err = Load("design.yaml", text)
		require.NoError(t, err, "%s", text)
		assert.Equal(t, factsOf(wholes[name]), factsOf(d), "%s", text)
	})
}
