package schema

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/schema/quantity"
)

// everyFact calls f once for every field of a part that is a fact or a list of facts.
func everyFact(f func(owner, key string, plan *factPlan)) {
	seen := map[string]bool{}
	var visit func(*typePlan)
	visit = func(plan *typePlan) {
		if seen[plan.name] {
			return
		}
		seen[plan.name] = true
		for _, field := range plan.fields {
			if field.fact != nil {
				f(plan.name, field.key, field.fact)
			}
			if field.part != nil {
				visit(field.part)
			}
		}
	}
	visit(designPlan())
}

func TestTagsAreWellFormed(t *testing.T) {
	snake := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	count := 0
	everyFact(func(owner, key string, plan *factPlan) {
		count++
		name := owner + "." + key
		assert.Regexp(t, snake, key, name)
		assert.NotEmpty(t, plan.example, "%s has an example", name)
		if plan.kind == KindWord {
			assert.Greater(t, len(plan.words), 1, "%s has words to choose from", name)
			sorted := slices.Sorted(slices.Values(plan.words))
			assert.Len(t, slices.Compact(sorted), len(plan.words), "%s has each word once", name)
			for _, w := range plan.words {
				assert.Regexp(t, snake, w, name)
				assert.NotContains(t, []string{"none", "true", "false", "null", "yes", "no", "on", "off", "y", "n"}, w,
					"%s: a word that YAML or this format reads otherwise", name)
			}
		}
		if plan.lowText != plan.highText {
			assert.Less(t, plan.low, plan.high, name)
		}
	})
	assert.Greater(t, count, 250)
}

func TestTagsHaveNoStrays(t *testing.T) {
	known := regexp.MustCompile(`^json:"[a-z0-9_]+"( range:"[^"]+")?( words:"[^"]+")?( refers:"[a-z_]+(,[a-z_]+)*")?( example:"[^"]+")?( excludes:"[a-z0-9_]+")?( whole:"[a-z]+")?$`)
	for part := range (planner{}).all(reflect.TypeFor[Design]()) {
		for i := range part.NumField() {
			if f := part.Field(i); f.Type != nodeType && f.IsExported() && part != reflect.TypeFor[Own]() {
				assert.Regexp(t, known, string(f.Tag), "%s.%s", part.Name(), f.Name)
			}
		}
	}
}

// What names a part of the vehicle says of which list, and the parts of that list have names.
func TestReferencesLeadToNames(t *testing.T) {
	met := 0
	for _, part := range Types() {
		for _, f := range part.Fields {
			named := f.Key != "name" && (strings.HasPrefix(Doc(part.Name, f.Key), "Name of the ") || strings.HasPrefix(Doc(part.Name, f.Key), "Names of the "))
			if f.Refers == "" {
				assert.False(t, named, "%s.%s refers to nothing", part.Name, f.Key)
				continue
			}
			met++
			list := Describe("design." + f.Refers).Field
			assert.Equal(t, KindList, list.Kind, "%s.%s", part.Name, f.Key)
			assert.NotEmpty(t, Doc(list.Part, "name"), "%s.%s", part.Name, f.Key)
		}
	}
	assert.Equal(t, 7, met)
}

// all returns the types of parts a plan of t meets.
func (p planner) all(t reflect.Type) planner {
	p.plan(t)
	return p
}

func TestExamplesLoad(t *testing.T) {
	everyFact(func(owner, key string, plan *factPlan) {
		for _, style := range []yaml.Style{0, yaml.DoubleQuotedStyle} {
			if style != 0 && (plan.kind == KindInt || plan.kind == KindBool) {
				continue
			}
			n := exampleNode(plan)
			n.Style |= style
			wrong := readFact(n, plan, newValue(plan))
			assert.Equal(t, complaint{}, wrong, "%s.%s: %s", owner, key, plan.example)
		}
	})
}

func TestRangeEndsLoadAndBeyondDoesNot(t *testing.T) {
	everyFact(func(owner, key string, plan *factPlan) {
		if plan.kind != KindInt && plan.kind != KindQuantity {
			return
		}
		for _, end := range []string{plan.lowText, plan.highText} {
			n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: end}
			assert.Empty(t, readFact(n, plan, newValue(plan)).message, "%s.%s: %s", owner, key, end)
		}
		number := regexp.MustCompile(`^[-0-9.]+`).FindString(plan.highText)
		beyond := strings.Replace(plan.highText, number, number+"9", 1) // 1.2 -> 1.29, 16 -> 169
		n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: beyond}
		assert.NotEmpty(t, readFact(n, plan, newValue(plan)).message, "%s.%s: %s", owner, key, beyond)
	})
}

// newValue makes what a fact of the plan reads into.
func newValue(plan *factPlan) any {
	switch plan.kind {
	case KindText:
		return new(string)
	case KindWord:
		return new(Word)
	case KindDate:
		return new(Date)
	case KindInt:
		return new(int)
	case KindBool:
		return new(bool)
	}
	return &struct{ quantity.Value }{}
}

// exampleNode is the example as a scalar that the YAML reader would make of it, in quotes if it must be.
func exampleNode(plan *factPlan) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: plan.example}
	switch plan.kind {
	case KindInt:
		n.Tag = "!!int"
	case KindBool:
		n.Tag = "!!bool"
	}
	return n
}

func TestEverythingHasADescription(t *testing.T) {
	for _, part := range Types() {
		doc := Doc(part.Name, "")
		assert.Regexp(t, `^[A-Z].*\.$`, doc, "the comment of type %s is one line and ends with a full stop", part.Name)
		for _, f := range part.Fields {
			assert.Regexp(t, `^\S.*[.]$`, Doc(part.Name, f.Key), "the comment of %s.%s is one line and ends with a full stop", part.Name, f.Key)
		}
	}
	assert.Equal(t, "Where it is mounted.", Doc("Pump", "place"))
	assert.Empty(t, Doc("Pump", "colour"))
	assert.Empty(t, Doc("Submarine", ""))
}

func TestTypesDescribeTheDesign(t *testing.T) {
	types := Types()
	require.Equal(t, "Design", types[0].Name)
	byName := map[string]TypeInfo{}
	for _, part := range types {
		byName[part.Name] = part
	}
	field := func(part, key string) FieldInfo {
		for _, f := range byName[part].Fields {
			if f.Key == key {
				return f
			}
		}
		t.Fatalf("no %s.%s", part, key)
		return FieldInfo{}
	}
	assert.Equal(t, "Line", field("Design", "return_line").Part)
	assert.Equal(t, KindMaybe, field("Design", "return_line").Kind)
	assert.Equal(t, KindText, field("Design", "regions").Item)
	assert.Equal(t, "pressure", field("Regulator", "setting").Dimension.String())
	assert.Equal(t, "1500 kPa", field("Regulator", "setting").High)
	assert.Contains(t, field("Vehicle", "use").Words, "road")
}
