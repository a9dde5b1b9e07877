package main

import (
	"reflect"

	"github.com/invopop/jsonschema"
	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
)

// packTypes are the schemas of the parts of a pack that are written as plain values.
func packTypes() map[reflect.Type]*jsonschema.Schema {
	bounds := jsonschema.NewProperties()
	for _, b := range []struct{ key, means string }{
		{"at_least", "The measure is this or more."},
		{"at_most", "The measure is this or less."},
		{"more_than", "The measure is more than this."},
		{"less_than", "The measure is less than this."},
	} {
		bounds.Set(b.key, scalar(b.means+" A number, a quantity such as 58 psi, or an expression."))
	}
	two := uint64(2)
	bounds.Set("between", &jsonschema.Schema{Type: "array", Description: "The lowest and the highest measure allowed.",
		Items: scalar(""), MinItems: &two, MaxItems: &two})
	one := uint64(1)
	return map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[pack.Expression](): {Type: "string", Description: "An expression in the rule language (CEL).", MinLength: &one},
		reflect.TypeFor[pack.Scalar]():     scalar("A number, a quantity with its unit, a word or yes/no."),
		reflect.TypeFor[pack.Test](): {OneOf: []*jsonschema.Schema{
			{Type: "string", Description: "A condition in the rule language (CEL).", MinLength: &one},
			{Type: "object", Description: "Bounds on the measure.", Properties: bounds, AdditionalProperties: jsonschema.FalseSchema, MinProperties: &one},
		}},
		reflect.TypeFor[pack.Mend](): {OneOf: []*jsonschema.Schema{
			{Type: "string", MinLength: &one},
			{Type: "array", Description: "Several remedies: the first whose condition is true is said, the last has none.", MinItems: &one, Items: remedySchema()},
		}},
		reflect.TypeFor[yaml.Node](): {Type: "object", Description: "A partial design; see the schema of designs."},
	}
}

// remedySchema is one of several remedies of a rule.
func remedySchema() *jsonschema.Schema {
	one := uint64(1)
	keys := jsonschema.NewProperties()
	keys.Set("when", &jsonschema.Schema{Type: "string", Description: "When it is said, in the rule language (CEL); the last one has no condition.", MinLength: &one})
	keys.Set("text", &jsonschema.Schema{Type: "string", Description: "What to do; begins with a verb.", MinLength: &one})
	return &jsonschema.Schema{Type: "object", Properties: keys, AdditionalProperties: jsonschema.FalseSchema, Required: []string{"text"}}
}

func scalar(description string) *jsonschema.Schema {
	return &jsonschema.Schema{Description: description, OneOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}, {Type: "boolean"}}}
}
