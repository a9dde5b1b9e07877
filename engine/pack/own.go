package pack

import (
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
)

// Fact is a fact of the shop: what a design may state under own, by the name of the pack.
type Fact struct {
	// What it is: a dimension such as length or pressure, number, count, word, truth, text or date.
	Is string `yaml:"is" json:"is" jsonschema:"required"`
	// What people call it, in a few words.
	Label string `yaml:"label" json:"label" jsonschema:"required"`
	// What it means, in a sentence; the label, if not given.
	Means string `yaml:"means" json:"means,omitempty"`
	// What else people call it.
	Also []string `yaml:"also" json:"also,omitempty"`
	// The words it may be, small letters joined by underscores.
	Words []string `yaml:"words" json:"words,omitempty"`
	// The least and the most it can be, such as 0 mm..500 mm; quantities, numbers and counts have one.
	Range string `yaml:"range" json:"range,omitempty"`
	// A value as a design writes it.
	Example string `yaml:"example" json:"example" jsonschema:"required"`
	// Where the answer is found.
	Where string `yaml:"where" json:"where" jsonschema:"required,enum=label,enum=eye,enum=tape,enum=meter,enum=papers,enum=sheet,enum=memory"`
	// How to find it, in a sentence.
	How   string       `yaml:"how" json:"how,omitempty"`
	Node  *yaml.Node   `yaml:"-" json:"-"`
	Place schema.Place `yaml:"-" json:"-"`
}

// Value is a derived value of the shop, worked out from facts and other values.
type Value struct {
	// The expression it is worked out by.
	Is Expression `yaml:"is" json:"is" jsonschema:"required"`
	// What it comes out as: a dimension such as length, number, truth or text.
	Of string `yaml:"of" json:"of" jsonschema:"required"`
	// What it means, in a line.
	Means string `yaml:"means" json:"means" jsonschema:"required"`
	// The formula, as people write it; the expression, if not given.
	Formula string `yaml:"formula" json:"formula,omitempty"`
	// Why it is worked out so.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Node    *yaml.Node   `yaml:"-" json:"-"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// OwnName is what the facts and values of the pack stand under: the last word of its name, as rules write it. Facts of
// shop/tow-bar are own.tow_bar in a design.
func (p *Pack) OwnName() string {
	return strings.ReplaceAll(p.Pack[strings.LastIndexByte(p.Pack, '/')+1:], "-", "_")
}

// Owns reports whether the pack declares anything.
func (p *Pack) Owns() bool { return len(p.Facts)+len(p.Values) > 0 }
