package jsonschemagen

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"github.com/invopop/jsonschema"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

const (
	factPrefix  = "Fact["
	maybePrefix = "Maybe["
	listPrefix  = "List["

	schemaPackage = module + "/schema"
)

// typeName names definitions: Maybe[plumbline/schema.Line] is Maybe[Line].
func typeName(t reflect.Type) string {
	return strings.ReplaceAll(t.Name(), schemaPackage+".", "")
}

// mapType gives the schemas of facts and quantities, whose Go fields say nothing; nil leaves a type to reflection.
// The definitions of the dimensions met are put into used.
func mapType(t reflect.Type, used map[string]*jsonschema.Schema) *jsonschema.Schema {
	isFact := t.PkgPath() == schemaPackage && strings.HasPrefix(t.Name(), factPrefix)
	if isFact {
		value, _ := t.FieldByName("value")
		t = value.Type
	}
	switch t {
	case reflect.TypeFor[schema.Word]():
		return &jsonschema.Schema{Type: "string"}
	case reflect.TypeFor[schema.Date]():
		return &jsonschema.Schema{Type: "string", Pattern: "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", Format: "date"}
	case reflect.TypeFor[string]():
		return &jsonschema.Schema{Type: "string"}
	case reflect.TypeFor[int]():
		return &jsonschema.Schema{Type: "integer"}
	case reflect.TypeFor[bool]():
		return &jsonschema.Schema{Type: "boolean"}
	}
	if q, ok := reflect.Zero(t).Interface().(interface {
		QuantityDimension() quantity.Dimension
	}); ok {
		name, make := q.QuantityDimension().Name()+"Quantity", dimensionSchema
		if isFact {
			name, make = q.QuantityDimension().Name()+"Stated", statedSchema
		}
		used[name] = make(q.QuantityDimension())
		return &jsonschema.Schema{Ref: "#/$defs/" + name}
	}
	return nil
}

// describeField puts words, ranges, lengths and examples of a fact into its property.
func describeField(property *jsonschema.Schema, f schema.FieldInfo) error {
	if f.Part != "" {
		return nil
	}
	fact, kind := property, f.Kind
	if kind == schema.KindList {
		// A list of facts: the reflected property refers to a definition that several share; its own one is written here.
		kind, fact = f.Item, new(jsonschema.Schema)
		property.Ref = ""
		property.OneOf = listOf(fact)
		if f.Whole != "" {
			property.OneOf = append(property.OneOf, &jsonschema.Schema{Const: f.Whole})
		}
	}
	switch kind {
	case schema.KindText:
		fact.Type = "string"
		fact.MinLength, fact.MaxLength = number(1), number(schema.MaxTextBytes)
	case schema.KindWord:
		fact.Type = "string"
		for _, w := range f.Words {
			fact.Enum = append(fact.Enum, w)
		}
	case schema.KindInt:
		whole := &jsonschema.Schema{Type: "integer", Minimum: json.Number(f.Low), Maximum: json.Number(f.High)}
		if f.Low == f.High {
			fact.Type, fact.Minimum, fact.Maximum = whole.Type, whole.Minimum, whole.Maximum
			break
		}
		fact.Type, fact.OneOf = "", []*jsonschema.Schema{whole, {Type: "string", Pattern: wholeRange, MaxLength: number(mostCharacters)}}
	case schema.KindQuantity:
		property.Description += "\n\nFrom " + f.Low + " to " + f.High + "."
	}
	switch text := schema.Expected(kind, f.Example); kind {
	case schema.KindInt:
		for _, way := range append(slices.Clone(fact.OneOf), fact) {
			say(way, text)
		}
	case schema.KindDate:
		say(fact, "write "+text)
	}
	return example(fact, kind, f.Example)
}

func example(fact *jsonschema.Schema, kind schema.Kind, text string) error {
	var value any = text
	if kind == schema.KindInt || kind == schema.KindBool {
		if err := json.Unmarshal([]byte(text), &value); err != nil {
			return err
		}
	}
	fact.Examples = []any{value}
	return nil
}

// unwrap replaces the references to Maybe and List definitions by what they mean, and drops the definitions.
func unwrap(defs jsonschema.Definitions) {
	inner := map[string]*jsonschema.Schema{}
	for name, def := range defs {
		switch {
		case strings.HasPrefix(name, maybePrefix):
			part, _ := def.Properties.Get("Part")
			inner["#/$defs/"+name] = &jsonschema.Schema{OneOf: []*jsonschema.Schema{none(), part}}
		case strings.HasPrefix(name, listPrefix):
			items, _ := def.Properties.Get("Items")
			inner["#/$defs/"+name] = &jsonschema.Schema{OneOf: listOf(items.Items)}
		default:
			continue
		}
		delete(defs, name)
	}
	for _, def := range defs {
		if def.Properties == nil {
			continue
		}
		for pair := def.Properties.Oldest(); pair != nil; pair = pair.Next() {
			if means := inner[pair.Value.Ref]; means != nil {
				pair.Value.Ref, pair.Value.OneOf = "", means.OneOf
			}
		}
	}
}

func listOf(item *jsonschema.Schema) []*jsonschema.Schema {
	return []*jsonschema.Schema{none(), {Type: "array", Items: item, MaxItems: number(schema.MaxItems)}}
}

func none() *jsonschema.Schema { return &jsonschema.Schema{Const: "none"} }

func number(n uint64) *uint64 { return &n }
