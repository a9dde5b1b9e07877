package pack

import (
	"gopkg.in/yaml.v3"

	"plumbline/schema"
)

// Override gives a limit, or cells of a table, of any pack another value for designs of the regions of the pack it stands in.
type Override struct {
	// Full name of a limit: fuel/delivery.flow_reserve.
	Limit string `yaml:"limit" json:"limit,omitempty"`
	// Its value there.
	Is Scalar `yaml:"is" json:"is,omitempty"`
	// Full name of a table: fuel/hose.marks.
	Table string `yaml:"table" json:"table,omitempty"`
	// Rows of the table, known by its key column, with the cells that are others there; what is left out stays.
	Rows []map[string]Scalar `yaml:"rows" json:"rows,omitempty"`
	// Why. What makes a rule milder cites a law with its clause.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Node    *yaml.Node   `yaml:"-" json:"-"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Names is the kind and full name of what is changed; empty kind where it is not one of the two.
func (o *Override) Names() (kind, full string) {
	switch {
	case o.Limit != "" && o.Table == "":
		return "limit", o.Limit
	case o.Table != "" && o.Limit == "":
		return "table", o.Table
	}
	return "", ""
}
