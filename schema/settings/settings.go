// Package settings says what a shop's plumbline.yaml may hold. The JSON Schema, the pages and the messages of the
// command are made from it.
package settings

// File is a shop's plumbline.yaml, found upward from a design: flags win over its defaults, and so do the stage and regions a design states.
type File struct {
	// A number: the edition of this file, 1.
	Shop int `yaml:"shop" json:"shop" jsonschema:"required,enum=1"`
	// A list of folders with packs, inside this file's own folder, such as [rules].
	Rules []string `yaml:"rules" json:"rules,omitempty" jsonschema:"minItems=1"`
	// The folder of parts that designs may name, inside this file's own folder, such as parts.
	Shelf string `yaml:"shelf" json:"shelf,omitempty" jsonschema:"minLength=1"`
	// A list of folders with patterns, inside this file's own folder, such as [patterns].
	Patterns []string `yaml:"patterns" json:"patterns,omitempty" jsonschema:"minItems=1"`
	// A list of regions, for designs that name none, such as [gb].
	Regions []string `yaml:"regions" json:"regions,omitempty" jsonschema:"minItems=1"`
	// Planned, ordered, built, started or handed_over, for designs that state none.
	Stage string `yaml:"stage" json:"stage,omitempty" jsonschema:"enum=planned,enum=ordered,enum=built,enum=started,enum=handed_over"`
	// Us, metric or both.
	Units string `yaml:"units" json:"units,omitempty" jsonschema:"enum=us,enum=metric,enum=both"`
	// Text, sheet, json, sarif, markdown, lines or html.
	Format string `yaml:"format" json:"format,omitempty" jsonschema:"enum=text,enum=sheet,enum=json,enum=sarif,enum=markdown,enum=lines,enum=html"`
	// A file for the report, inside this file's own folder and in no hidden one; its name ends in .txt, .md, .json, .jsonl, .sarif or .html.
	Output string `yaml:"output" json:"output,omitempty" jsonschema:"minLength=1"`
	// True, or false to leave open what a pack would assume.
	Assumptions *bool `yaml:"assumptions" json:"assumptions,omitempty"`
}
