package schema

import (
	"reflect"
	"slices"
	"strings"
	"sync"
)

// ShelfKind is one kind of part that a shelf may hold.
type ShelfKind struct {
	// Name is the key of its facts in a part: throttle_body.
	Name string
	// Type is the type of part of a design, Also are others it may stand for: Fuse, and ChargeFuse.
	Type string
	Also []string
	// Facts are the keys of what belongs to the part and goes with it.
	Facts []string
	// AsKey and As are what every part of the kind is: a hose is a Run of the kind hose.
	AsKey, As string
	// ByLength is set for what is sold by length.
	ByLength bool
	field    *fieldPlan
}

// ShelfKinds are the kinds, in the order of the schema.
func ShelfKinds() []*ShelfKind { return shelfKinds() }

var shelfKinds = sync.OnceValue(func() []*ShelfKind {
	var out []*ShelfKind
	t := reflect.TypeFor[ShelfPart]()
	for _, f := range shelfPlan().byKey["parts"].part.fields {
		tag := t.Field(f.index).Tag
		facts := tag.Get("facts")
		if f.kind != KindPart || facts == "" {
			continue
		}
		k := &ShelfKind{Name: f.key, Type: f.part.name, Facts: strings.Split(facts, ","), ByLength: tag.Get("sold") == "length", field: f}
		k.AsKey, k.As, _ = strings.Cut(tag.Get("as"), "=")
		if also := tag.Get("also"); also != "" {
			k.Also = strings.Split(also, ",")
		}
		out = append(out, k)
	}
	return out
})

// ShelfKindNamed is the kind of a name; nil when there is none.
func ShelfKindNamed(name string) *ShelfKind {
	for _, k := range shelfKinds() {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Called is the kind in words: throttle body.
func (k *ShelfKind) Called() string { return strings.ReplaceAll(k.Name, "_", " ") }

// Suits reports whether parts of the kind may stand for a type of part of a design.
func (k *ShelfKind) Suits(typeName string) bool {
	return k.Type == typeName || slices.Contains(k.Also, typeName)
}

// FactsIn are the keys of its facts that a type of part has which it may stand for.
func (k *ShelfKind) FactsIn(typeName string) []string {
	if k.Type == typeName {
		return k.Facts
	}
	plan := planOf(typeName)
	return slices.DeleteFunc(slices.Clone(k.Facts), func(key string) bool { return fieldOf(plan, key) == nil })
}

// kindsFor are the kinds that may stand for a type of part.
func kindsFor(typeName string) []*ShelfKind { return kindsByType()[typeName] }

var kindsByType = sync.OnceValue(func() map[string][]*ShelfKind {
	out := map[string][]*ShelfKind{}
	for _, k := range shelfKinds() {
		for _, t := range append([]string{k.Type}, k.Also...) {
			out[t] = append(out[t], k)
		}
	}
	return out
})

// endFacts are the keys of a part's own ports; what is clamped on them belongs to the joint.
var endFacts = []string{"kind", "size", "beaded", "thread"}

// Belonging are the keys of a type of part inside a part of the shelf that belong to it too: of the injectors of a throttle
// body those of a set of injectors.
func Belonging(typeName string) []string {
	switch typeName {
	case "LineEnd":
		return endFacts
	case "Injectors":
		return ShelfKindNamed("injectors").Facts
	}
	return planOf(typeName).keys
}
