package schema

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"plumbline/schema/quantity"
)

//go:embed design.schema.json
var designSchema []byte

// DesignSchema returns the JSON Schema (draft 2020-12) of a design file, as committed.
func DesignSchema() []byte { return slices.Clone(designSchema) }

// TypeInfo describes one type of part: Design, Pump, CurvePoint.
type TypeInfo struct {
	Name   string
	Fields []FieldInfo
}

// FieldInfo describes one field of a part, or one fact of a list of facts.
type FieldInfo struct {
	Key  string
	Kind Kind
	// Part is the type of the part, optional part or list item; "" for facts and lists of facts.
	Part string
	// Item is the kind of the items of a list of facts.
	Item Kind
	// Words, Dimension, Low, High and Example are those of the fact, or of each item of a list of facts.
	Words     []string
	Dimension quantity.Dimension
	Low, High string
	Example   string
	// Excludes is the key of another way to say the same.
	Excludes string
	// Whole is a word that may be written for a whole list.
	Whole string
	// Refers is the key of the design's list whose items it names; Beside are the words it takes beside those names.
	Refers string
	Beside []string
}

// Types describes every type of part, Design first, the others in the order they are met.
func Types() []TypeInfo { return typesOf(designPlan()) }

// ShelfTypes describes the types of a shelf's file, with those of the parts it may hold.
func ShelfTypes() []TypeInfo { return typesOf(shelfPlan()) }

func typesOf(root *typePlan) []TypeInfo {
	var types []TypeInfo
	seen := map[string]bool{}
	var visit func(plan *typePlan)
	visit = func(plan *typePlan) {
		if seen[plan.name] {
			return
		}
		seen[plan.name] = true
		at := len(types)
		types = append(types, TypeInfo{Name: plan.name})
		for _, f := range plan.fields {
			if f.part != nil {
				visit(f.part)
			}
		}
		types[at].Fields = plan.infos()
	}
	visit(root)
	return types
}

// FieldsOf describes the fields of a type of part; none for a name not known.
func FieldsOf(part string) []FieldInfo { return (*Declared)(nil).FieldsOf(part) }

// FieldsOf is FieldsOf of the declared facts too.
func (d *Declared) FieldsOf(part string) []FieldInfo {
	plan := d.planOf(part)
	if plan == nil {
		return nil
	}
	return plan.infos()
}

func (p *typePlan) infos() []FieldInfo {
	fields := make([]FieldInfo, len(p.fields))
	for i, f := range p.fields {
		fields[i] = f.info()
	}
	return fields
}

func (f *fieldPlan) info() FieldInfo {
	info := FieldInfo{Key: f.key, Kind: f.kind, Excludes: f.excludes, Whole: f.whole}
	if f.part != nil {
		info.Part = f.part.name
	}
	if len(f.refers) > 0 {
		info.Refers, info.Beside = f.refers[0], f.refers[1:]
	}
	if fact := f.fact; fact != nil {
		info.Item, info.Words, info.Dimension = fact.kind, slices.Clone(fact.words), fact.dimension
		info.Low, info.High, info.Example = fact.lowText, fact.highText, fact.example
	}
	return info
}

// Doc returns the one-line description of a part's type, or with a key that of its field; "" for names not known.
func Doc(typeName, key string) string {
	text := docs()[typeName+"."+key]
	line, _, _ := strings.Cut(text, "\n")
	return line
}

// docs are the descriptions of the embedded schema, by "Type." and "Type.key".
var docs = sync.OnceValue(func() map[string]string {
	type property struct {
		Description string `json:"description"`
	}
	var doc struct {
		Defs map[string]struct {
			property
			Properties map[string]property `json:"properties"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(designSchema, &doc); err != nil {
		panic(fmt.Sprintf("schema: design.schema.json: %v", err))
	}
	all := map[string]string{}
	for name, def := range doc.Defs {
		all[name+"."] = def.Description
		for key, p := range def.Properties {
			all[name+"."+key] = p.Description
		}
	}
	return all
})
