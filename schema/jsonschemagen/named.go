package jsonschemagen

import (
	"strings"

	"github.com/invopop/jsonschema"
)

// A mapping that keeps its order is, in Go, Named[T]: a list of entries of Key, Place and Value.
const (
	namedPrefix = "Named["
	entryPrefix = "Entry["
)

// mappings replaces the references to Named definitions by the mappings they are read from, and drops the definitions
// of the lists, of their entries and of the places inside them.
func mappings(defs jsonschema.Definitions) {
	means := map[string]*jsonschema.Schema{}
	for name, def := range defs {
		if !strings.HasPrefix(name, namedPrefix) {
			continue
		}
		entry := strings.TrimPrefix(def.Items.Ref, "#/$defs/")
		value, _ := defs[entry].Properties.Get("Value")
		means["#/$defs/"+name] = &jsonschema.Schema{Type: "object", AdditionalProperties: value}
		delete(defs, name)
	}
	if len(means) == 0 {
		return
	}
	for name, def := range defs {
		if name == "Place" || strings.HasPrefix(name, entryPrefix) {
			delete(defs, name)
			continue
		}
		if def.Properties == nil {
			continue
		}
		for pair := def.Properties.Oldest(); pair != nil; pair = pair.Next() {
			if m := means[pair.Value.Ref]; m != nil {
				pair.Value.Ref, pair.Value.Type, pair.Value.AdditionalProperties = "", m.Type, m.AdditionalProperties
			}
		}
	}
}
