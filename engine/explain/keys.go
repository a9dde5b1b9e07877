package explain

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"plumbline/schema"
)

// definition is a part of a JSON Schema, as far as topics tell it.
type definition struct {
	Description string                     `json:"description"`
	Properties  map[string]json.RawMessage `json:"properties"`
	Required    []string                   `json:"required"`
}

// definitions are the parts of a JSON Schema by name.
func definitions(text []byte) map[string]definition {
	var doc struct {
		Defs map[string]definition `json:"$defs"`
	}
	_ = json.Unmarshal(text, &doc) // a test reads the committed ones
	return doc.Defs
}

// packParts are the things a pack is made of, in the order they are told.
var packParts = []string{"Pack", "Rule", "Limit", "Table", "Assumption", "Caution", "Case", "Reason", "Source", "Region", "Adjustment"}

// forms tells what may stand in a pack, from its JSON Schema.
func forms() Topic {
	t := Topic{Name: "forms", Title: "what a pack and its rules may hold", Also: []string{"form", "rule form", "keys"}}
	defs := definitions(schema.PackSchema())
	for _, name := range packParts {
		t.Sections = append(t.Sections, keysOf(strings.ToLower(name), defs[name]))
	}
	return t
}

// settingsTopic tells what a shop's plumbline.yaml may hold, from its JSON Schema.
func settingsTopic() Topic {
	return Topic{Name: "settings", Title: "what a shop's plumbline.yaml may hold", Also: []string{"setting", "plumbline.yaml", "shop"},
		Sections: []Section{keysOf("plumbline.yaml", definitions(schema.SettingsSchema())["File"])}}
}

// reportParts are what a report in JSON is made of, in the order a reader meets them; the others stand inside these.
var reportParts = []string{"Document", "Report", "Finding", "Question", "Counts", "Problem", "Rule", "Slip", "Since"}

// reportTopic tells the fields of a report in JSON, from its JSON Schema.
func reportTopic() Topic {
	t := Topic{Name: "report", Title: "the fields of check --format json; plumbline schema report tells their types", Also: []string{"reports", "report fields", "json", "fields"}}
	defs := definitions(schema.ReportSchema())
	for _, name := range reportParts {
		t.Sections = append(t.Sections, keysOf(strings.ToLower(name), defs[name]))
	}
	return t
}

// keysOf tells the keys of a definition: what is required first, then by name.
func keysOf(heading string, def definition) Section {
	s := Section{Heading: heading}
	if def.Description != "" {
		s.Items = append(s.Items, Item{Text: def.Description})
	}
	var keys []string
	for key := range def.Properties {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b string) int {
		if x, y := slices.Contains(def.Required, a), slices.Contains(def.Required, b); x != y {
			if x {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	for _, key := range keys {
		s.Items = append(s.Items, keyItem(key, def.Properties[key], slices.Contains(def.Required, key)))
	}
	return s
}

// keyItem tells one key: what it is, its words, and what it holds.
func keyItem(key string, raw json.RawMessage, required bool) Item {
	var p struct {
		Description string `json:"description"`
		Enum        []any  `json:"enum"`
		OneOf       []struct {
			Description string                     `json:"description"`
			Properties  map[string]json.RawMessage `json:"properties"`
		} `json:"oneOf"`
	}
	_ = json.Unmarshal(raw, &p)
	text := p.Description
	if required {
		text += " Always there."
	}
	var words []string
	for _, w := range p.Enum {
		if word := fmt.Sprint(w); !strings.Contains(strings.ToLower(text), word) {
			words = append(words, word)
		}
	}
	if len(words) > 0 {
		words = words[:0]
		for _, w := range p.Enum {
			words = append(words, fmt.Sprint(w))
		}
		text += " One of " + strings.Join(words, ", ") + "."
	}
	for _, way := range p.OneOf {
		var inner []string
		for k := range way.Properties {
			inner = append(inner, k)
		}
		slices.Sort(inner)
		if len(inner) > 0 {
			text += " Or a mapping of " + strings.Join(inner, ", ") + "."
		} else if way.Description != "" {
			text += " " + way.Description
		}
	}
	return Item{Code: key, Text: strings.TrimSpace(text)}
}
