package pack

import (
	"gopkg.in/yaml.v3"

	"plumbline/schema"
)

// Adjustment changes what another pack says: a limit's value, or how much a rule weighs.
type Adjustment struct {
	// Full name of a limit: fuel/delivery.flow_reserve.
	Limit string `yaml:"limit" json:"limit,omitempty"`
	// Its new value.
	Is Scalar `yaml:"is" json:"is,omitempty"`
	// Full name of a rule, to raise its should to a must or to loosen its must to a should.
	Rule string `yaml:"rule" json:"rule,omitempty"`
	// Why; every report shows the reason of what was loosened.
	Reason string       `yaml:"reason" json:"reason" jsonschema:"required"`
	Node   *yaml.Node   `yaml:"-" json:"-"`
	Place  schema.Place `yaml:"-" json:"-"`
}

// NameIn is the limit's own name in its pack.
func (e *Limit) NameIn(p *Pack) string {
	for i := range p.Limits {
		if &p.Limits[i].Value == e {
			return p.Limits[i].Key
		}
	}
	return ""
}
