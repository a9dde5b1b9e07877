package schema

import (
	"bytes"
	"encoding/json"
	"fmt"

	"plumbline/schema/quantity"
)

// Schema returns the JSON Schema of a design that may state the declared facts too: the committed one with them under own.
func (d *Declared) Schema() ([]byte, error) {
	if len(d.Groups()) == 0 {
		return DesignSchema(), nil
	}
	var whole map[string]json.RawMessage
	if err := json.Unmarshal(designSchema, &whole); err != nil {
		return nil, err
	}
	var defs map[string]json.RawMessage
	if err := json.Unmarshal(whole["$defs"], &defs); err != nil {
		return nil, err
	}
	groups := map[string]any{}
	for _, g := range d.Groups() {
		facts := map[string]any{}
		for _, f := range g.Facts {
			facts[f.Key] = f.property(defs[f.Dimension.Name()+"Stated"] != nil)
		}
		groups[g.Name] = map[string]any{"type": "object", "properties": facts, "additionalProperties": false, "description": g.Title + " (" + g.Pack + ")"}
	}
	own, err := json.Marshal(map[string]any{"type": "object", "properties": groups, "additionalProperties": false, "description": Doc("Design", OwnKey)})
	if err != nil {
		return nil, err
	}
	defs["Own"] = own
	if whole["$defs"], err = json.Marshal(defs); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err = e.Encode(whole)
	return out.Bytes(), err
}

// property is the schema of one fact. A dimension that the schema's own facts have is checked by theirs.
func (f *OwnFact) property(defined bool) map[string]any {
	out := map[string]any{"description": f.Doc}
	var example any = f.Example
	switch f.Kind {
	case KindText:
		out["type"], out["minLength"], out["maxLength"] = "string", 1, MaxTextBytes
	case KindWord:
		out["enum"] = f.Words
	case KindDate:
		out["type"], out["pattern"], out["format"] = "string", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "date"
	case KindBool:
		out["type"], example = "boolean", f.Example == "true"
	case KindInt:
		whole := map[string]any{"type": "integer", "minimum": json.Number(f.Low), "maximum": json.Number(f.High)}
		out["oneOf"] = []any{whole, map[string]any{"type": "string", "pattern": "[0-9].*[0-9]"}} // a range: 2..4
		example = json.Number(f.Example)
	case KindQuantity:
		out["description"] = fmt.Sprintf("%s\n\nFrom %s to %s.", f.Doc, f.Low, f.High)
		switch {
		case defined:
			out["$ref"] = "#/$defs/" + f.Dimension.Name() + "Stated"
		case f.Dimension != quantity.DimRatio:
			out["type"] = "string"
		}
	}
	out["examples"] = []any{example}
	return out
}
