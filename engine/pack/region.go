package pack

import (
	"fmt"
	"regexp"

	"plumbline/schema"
	"plumbline/schema/document"
)

// Region is a place with law of its own, declared by the pack that holds its rules.
type Region struct {
	// Its name in designs: us-ca, gb, de.
	Name string `yaml:"name" json:"name" jsonschema:"required"`
	// What it is called.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// A region whose rules hold here too; that of the name before the hyphen always does.
	Within string `yaml:"within" json:"within,omitempty"`
	// The date or year that decides which rules hold for a vehicle, in words.
	DecidedBy string `yaml:"decided_by" json:"decided_by" jsonschema:"required"`
	// What to confirm, and with which authority; ends every finding of the region.
	Confirm string `yaml:"confirm" json:"confirm" jsonschema:"required"`
	// Topics without a rule: "not read", or none found with the day and what was looked through.
	Without Named[string] `yaml:"without" json:"without,omitempty"`
	Place   schema.Place  `yaml:"-" json:"-"`
}

var (
	regionPattern = regexp.MustCompile(`^[a-z]+(-[a-z]+)?$`)
	packPattern   = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*(/[a-z0-9]+(-[a-z0-9]+)*)*$`)
)

// CheckNames says what is wrong with the name of a pack and of a region; an empty region is none.
func CheckNames(pack, region string) error {
	switch {
	case !packPattern.MatchString(pack):
		return fmt.Errorf("a pack's name is lower-case words with - and /, such as house/hoses, not %q", document.Cut(pack))
	case region != "" && !regionPattern.MatchString(region):
		return fmt.Errorf("a region's name is lower-case letters such as gb or us-ca, not %q", document.Cut(region))
	}
	return nil
}
