package schema

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"

	"plumbline/schema/quantity"
)

// randomDesign draws a tree of stated facts and notes the value of each by its path.
type randomDesign struct {
	t    *rapid.T
	want map[string]any
}

func (r randomDesign) part(plan *typePlan, path string) *yaml.Node {
	m := &yaml.Node{Kind: yaml.MappingNode}
	taken := map[string]bool{}
	for _, f := range plan.fields {
		at := path + "." + f.key
		if taken[f.key] {
			continue
		}
		switch at {
		case "design.plumbline", "design.based_on", "design.leave_out":
			continue
		}
		if rapid.IntRange(0, 3).Draw(r.t, at) != 0 {
			continue
		}
		m.Content = append(m.Content, text(f.key), r.field(f, at))
		taken[f.excludes] = true
	}
	return m
}

func (r randomDesign) field(f *fieldPlan, at string) *yaml.Node {
	switch f.kind {
	case KindPart:
		return r.part(f.part, at)
	case KindMaybe:
		if rapid.Bool().Draw(r.t, "absent") {
			r.want[at] = Absent
			return text("none")
		}
		r.want[at] = Present
		return r.part(f.part, at)
	case KindList:
		n := rapid.IntRange(0, 2).Draw(r.t, "items")
		r.want[at] = n
		list := &yaml.Node{Kind: yaml.SequenceNode}
		for i := range n {
			item := at + "[" + strconv.Itoa(i) + "]"
			if f.fact != nil {
				list.Content = append(list.Content, r.fact(f.fact, item))
			} else {
				list.Content = append(list.Content, r.part(f.part, item))
			}
		}
		return list
	}
	return r.fact(f.fact, at)
}

func (r randomDesign) fact(plan *factPlan, at string) *yaml.Node {
	switch plan.kind {
	case KindText:
		value := rapid.StringOfN(rapid.RuneFrom(nil, unicode.L, unicode.Nd, unicode.P, unicode.Zs), 1, 30, -1).
			Filter(func(s string) bool { return strings.TrimSpace(s) != "" }).Draw(r.t, "text")
		r.want[at] = value
		return text(value)
	case KindWord:
		value := rapid.SampledFrom(plan.words).Draw(r.t, "word")
		r.want[at] = Word(value)
		return text(value)
	case KindDate:
		value := fmt.Sprintf("%04d-%02d-%02d", rapid.IntRange(1900, 2100).Draw(r.t, "year"), rapid.IntRange(1, 12).Draw(r.t, "month"), rapid.IntRange(1, 28).Draw(r.t, "day"))
		r.want[at] = Date(value)
		return plain(value)
	case KindInt:
		if plan.low < plan.high && rapid.IntRange(0, 3).Draw(r.t, "ranged") == 0 {
			low, high := int(plan.low), int(plan.high)
			r.want[at] = [3]any{low, low + (high-low)/2, high}
			return plain(plan.lowText + ".." + plan.highText)
		}
		value := rapid.IntRange(int(plan.low), int(plan.high)).Draw(r.t, "number")
		r.want[at] = value
		return plain(strconv.Itoa(value))
	case KindBool:
		value := rapid.Bool().Draw(r.t, "bool")
		r.want[at] = value
		return plain(strconv.FormatBool(value))
	}
	written := plan.example
	switch rapid.IntRange(0, 4).Draw(r.t, "which") {
	case 4:
		if node := r.ranged(plan, at); node != nil {
			return node
		}
	case 0:
		written = plan.lowText
	case 1:
		written = plan.highText
	case 2:
		v := quantity.MustNew(rapid.Float64Range(plan.low, plan.high).Draw(r.t, "si"), plan.dimension)
		if exact, err := v.Exact(); err == nil {
			written = exact
		}
	}
	value, err := quantity.Parse(written, plan.dimension)
	require.NoError(r.t, err)
	r.want[at] = value
	return plain(written)
}

// ranged states a quantity as a range between two drawn ends; nil where they cannot be written.
func (r randomDesign) ranged(plan *factPlan, at string) *yaml.Node {
	draw := func(name string) (quantity.Value, string) {
		v := quantity.MustNew(rapid.Float64Range(plan.low, plan.high).Draw(r.t, name), plan.dimension)
		exact, err := v.Exact()
		if err != nil {
			return quantity.Value{}, ""
		}
		return v, exact
	}
	low, lowText := draw("low")
	usual, usualText := draw("usual")
	high, highText := draw("high")
	if lowText == "" || usualText == "" || highText == "" || !(low.SI() < high.SI() && low.SI() <= usual.SI() && usual.SI() <= high.SI()) {
		return nil
	}
	r.want[at] = [3]any{low, usual, high}
	return plain(lowText + ".." + usualText + ".." + highText)
}

func text(value string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: value, Style: yaml.DoubleQuotedStyle}
}

func plain(value string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: value} }

// What was written is what is read: the same facts, no others, the same values, none, empty lists and all.
func TestLoadedFactsAreTheWrittenOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := randomDesign{t, map[string]any{"design.plumbline": 1}}
		root := r.part(designPlan(), "design")
		root.Content = append([]*yaml.Node{text("plumbline"), plain("1")}, root.Content...)
		written, err := yaml.Marshal(root)
		require.NoError(t, err)

		d, err := Load("random.yaml", written)
		require.NoError(t, err, "%s", written)

		got := map[string]any{}
		WalkAll(d, func(v Visit) {
			switch {
			case v.Optional != nil && v.Optional.Presence() != NotStated:
				got[v.Path] = v.Optional.Presence()
			case v.Listing != nil && listed(v.Listing):
				got[v.Path] = v.Listing.Len()
			case v.Reading != nil && v.Reading.Ranged():
				low, usual, high := v.Reading.Ends()
				got[v.Path] = [3]any{low, usual, high}
				if v.Kind == KindQuantity {
					got[v.Path] = [3]any{valueIn(low), valueIn(usual), valueIn(high)}
				}
				require.Nil(t, v.Reading.Any())
				require.Equal(t, v.Path, v.Reading.Path())
				require.NotZero(t, v.Reading.Place().Line, v.Path)
			case v.Reading != nil && v.Reading.Known():
				got[v.Path] = v.Reading.Any()
				if q, ok := v.Quantity(); ok {
					got[v.Path] = q
				}
				require.Equal(t, v.Path, v.Reading.Path())
				require.NotZero(t, v.Reading.Place().Line, v.Path)
			}
		})
		require.Equal(t, r.want, got)
	})
}
