package pack

import "plumbline/schema"

// Caution is a warning for whoever does the work. It goes with findings that send someone
// to a part of the vehicle, or that are about a danger.
type Caution struct {
	// Name within the pack.
	ID string `yaml:"id" json:"id" jsonschema:"required"`
	// Parts of a design it goes with, by their paths: tank, or closer sensors.coolant; what lies below a part counts.
	Parts []string `yaml:"parts" json:"parts,omitempty"`
	// Dangers it goes with.
	Dangers []Danger `yaml:"dangers" json:"dangers,omitempty"`
	// When it holds; always, if not given.
	When *Expression `yaml:"when" json:"when,omitempty"`
	// The warning, one or two sentences.
	Say string `yaml:"say" json:"say" jsonschema:"required"`
	// What is said while the facts of the condition are not known; the warning itself, if not given.
	Unsure string `yaml:"unsure" json:"unsure,omitempty"`
	// Why.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Place   schema.Place `yaml:"-" json:"-"`
}
