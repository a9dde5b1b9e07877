package jsonschemagen

import (
	"slices"
	"strings"

	"github.com/invopop/jsonschema"

	"plumbline/schema"
)

// namesParts lets the parts of a design that may be parts of a shelf name one.
func namesParts(defs jsonschema.Definitions) {
	for _, k := range schema.ShelfKinds() {
		for _, t := range append([]string{k.Type}, k.Also...) {
			if def := defs[t]; def != nil && def.Properties != nil {
				one := uint64(1)
				def.Properties.Set("part", &jsonschema.Schema{Type: "string", MinLength: &one, MaxLength: number(schema.MaxTextBytes),
					Description: "Part of the shelf that this is, by its name; its facts count as stated, and what is stated here counts before them."})
			}
		}
	}
}

// onShelf leaves of each kind of part of a shelf the facts that belong to it, and asks of a part that it is of one kind.
func onShelf(defs jsonschema.Definitions) {
	port := only(defs["LineEnd"], schema.Belonging("LineEnd"))
	inside := map[string]string{"LineEnd": "Port", "Injectors": "InjectorsPart"}
	part := defs["ShelfPart"]
	var kinds []*jsonschema.Schema
	for _, k := range schema.ShelfKinds() {
		name := strings.ReplaceAll(k.Type, "_", "")
		if k.AsKey != "" {
			name = strings.ToUpper(k.Name[:1]) + k.Name[1:]
		}
		name += "Part"
		def := only(defs[k.Type], k.Facts)
		for pair := def.Properties.Oldest(); pair != nil; pair = pair.Next() {
			if to := inside[strings.TrimPrefix(pair.Value.Ref, "#/$defs/")]; to != "" {
				own := *pair.Value
				own.Ref = "#/$defs/" + to
				pair.Value = &own
			}
		}
		one := uint64(1)
		def.MinProperties = &one
		defs[name] = def
		own, _ := part.Properties.Get(k.Name)
		own.Ref = "#/$defs/" + name
		kinds = append(kinds, &jsonschema.Schema{Required: []string{k.Name}})
	}
	defs["Port"] = port
	part.OneOf, part.Required = kinds, []string{"name", "read_from", "read_on"}
	parts, _ := defs["ShelfFile"].Properties.Get("parts")
	parts.OneOf = []*jsonschema.Schema{{Type: "array", Items: &jsonschema.Schema{Ref: "#/$defs/ShelfPart"}, MaxItems: number(schema.MaxShelfItems)}}
	unused(defs, "ShelfFile")
}

// only is a definition with some of its properties.
func only(def *jsonschema.Schema, keys []string) *jsonschema.Schema {
	out := *def
	out.Properties = jsonschema.NewProperties()
	for pair := def.Properties.Oldest(); pair != nil; pair = pair.Next() {
		if slices.Contains(keys, pair.Key) {
			out.Properties.Set(pair.Key, pair.Value)
		}
	}
	return &out
}

// unused drops the definitions that nothing reached from one refers to.
func unused(defs jsonschema.Definitions, from string) {
	used := map[string]bool{}
	var visit func(s *jsonschema.Schema)
	visit = func(s *jsonschema.Schema) {
		if s == nil {
			return
		}
		if name := strings.TrimPrefix(s.Ref, "#/$defs/"); s.Ref != "" && !used[name] {
			used[name] = true
			visit(defs[name])
		}
		for _, list := range [][]*jsonschema.Schema{s.OneOf, s.AnyOf, s.AllOf} {
			for _, one := range list {
				visit(one)
			}
		}
		visit(s.Items)
		if s.Properties != nil {
			for pair := s.Properties.Oldest(); pair != nil; pair = pair.Next() {
				visit(pair.Value)
			}
		}
	}
	used[from] = true
	visit(defs[from])
	for name := range defs {
		if !used[name] {
			delete(defs, name)
		}
	}
}
