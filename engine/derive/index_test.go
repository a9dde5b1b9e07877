package derive

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

func TestEveryEntryIsComplete(t *testing.T) {
	name := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	kinds := map[string]bool{"law": true, "standard": true, "handbook": true, "practice": true, "memory": true, "physics": true}
	seen := map[string]bool{}
	for _, e := range All().Entries() {
		id := e.On + "." + e.Name
		require.NoError(t, e.Check())
		assert.Regexp(t, name, e.Name)
		assert.False(t, seen[id], "%s is declared twice", id)
		seen[id] = true
		assert.NotEmpty(t, e.Needs, id)
		for _, s := range e.Sources {
			assert.True(t, kinds[s.Kind], "%s has a source of the kind %q", id, s.Kind)
			assert.NotEmpty(t, s.Title, id)
		}
		assert.NotContains(t, e.Meaning+e.Formula, "\n", id)
		assert.Equal(t, e, All().Find(e.On, e.Name))
	}
}

// A derived value named like a fact of its part would hide the fact in rules.
func TestNoEntryCollidesWithAFact(t *testing.T) {
	found := map[string]bool{}
	parts(six(t), func(part any) {
		typ := reflect.TypeOf(part).Elem()
		found[typ.Name()] = true
		for i := range typ.NumField() {
			key, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			assert.Nil(t, All().Find(typ.Name(), key), "%s.%s is a fact and a derived value", typ.Name(), key)
		}
	})
	for _, e := range All().Entries() {
		assert.True(t, found[e.On], "%s.%s belongs to no part of a design", e.On, e.Name)
	}
}

func TestEveryResultHasItsDimension(t *testing.T) {
	known := map[string]bool{}
	for _, r := range everything(NewSession(six(t), Options{})) {
		assert.Empty(t, r.Missing, r.Path)
		if !r.Known() {
			assert.Nil(t, r.Value(), r.Path)
			assert.NotEmpty(t, r.Reason+r.Absent, r.Path)
			continue
		}
		known[r.Entry.On+"."+r.Entry.Name] = true
		switch v := r.Value().(type) {
		case quantity.Value:
			assert.Equal(t, Quantity, r.Entry.Kind, r.Path)
			assert.Equal(t, r.Entry.Dimension, v.Dimension(), r.Path)
		case float64:
			assert.Equal(t, Number, r.Entry.Kind, r.Path)
		case bool:
			assert.Equal(t, Truth, r.Entry.Kind, r.Path)
		case string:
			assert.Equal(t, Text, r.Entry.Kind, r.Path)
			if len(r.Entry.Words) > 0 {
				assert.Contains(t, r.Entry.Words, v, r.Path)
			}
		default:
			t.Errorf("%s is a %T", r.Path, v)
		}
	}
	for _, e := range All().Entries() {
		assert.True(t, known[e.On+"."+e.Name], "the complete design leaves %s.%s unknown at every part and point", e.On, e.Name)
	}
}

// Nothing is known of an empty design except what needs no fact.
func TestEmptyDesignAsksOrGivesAReason(t *testing.T) {
	for _, r := range everything(NewSession(schema.Empty(), Options{})) {
		if slices.Contains([]string{"at.cranking.charging_output", "design.tank.called", "design.tank.drawn_from", "design.tank.own_lines", "design.measured.expected_tank_pressure", "design.measured.expected_opening_at_floor"}, r.Path) {
			assert.True(t, r.Known(), r.Path)
			continue
		}
		assert.False(t, r.Known(), r.Path)
		assert.NotEmpty(t, strings.Join(r.Missing, "")+r.Reason, r.Path)
	}
}

func TestPointlessReadingOfAValueByPointIsRefused(t *testing.T) {
	r := NewSession(six(t), Options{}).At(NoPoint, "pump_flow")
	assert.Contains(t, r.Reason, "differs by operating point")
	assert.Contains(t, NewSession(six(t), Options{}).At(Idle, "pump_flov").Reason, "there is no derived value")
}
