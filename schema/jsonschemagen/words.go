package jsonschemagen

import (
	"fmt"

	"github.com/invopop/jsonschema"

	"plumbline/schema"
	"plumbline/schema/document"
)

// errorMessage is the keyword in which servers of YAML and JSON for editors look for the words to show where a value is wrong. It is
// no keyword of JSON Schema, so validators pass it over.
const errorMessage = "errorMessage"

// say puts words for a wrong value into a schema, unless it has some.
func say(s *jsonschema.Schema, text string) {
	if s.Extras == nil {
		s.Extras = map[string]any{}
	}
	if s.Extras[errorMessage] == nil {
		s.Extras[errorMessage] = text
	}
}

// inWords says in a schema and all below it what to write where a word or a yes or no stands.
func inWords(s *jsonschema.Schema) {
	if s == nil {
		return
	}
	switch {
	case len(s.Enum) > 0:
		var words []string
		for _, w := range s.Enum {
			words = append(words, fmt.Sprint(w))
		}
		say(s, "write "+document.OneOf(words))
	case s.Type == "boolean":
		say(s, schema.Expected(schema.KindBool, ""))
	}
	for pair := s.Properties.Oldest(); pair != nil; pair = pair.Next() {
		inWords(pair.Value)
	}
	for _, way := range s.OneOf {
		if way.Type != "boolean" { // one way of several is not what is to be written
			inWords(way)
		}
	}
	inWords(s.Items)
	inWords(s.AdditionalProperties)
}
