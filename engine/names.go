package engine

import (
	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// What the rules of local packs may take for one design: about a second; the whole library takes a tenth of it. A subject counts as many steps beside those of its expressions.
const (
	localSteps   = 2_000_000
	subjectSteps = 20
)

// names is the activation of a rule: design, at, limits, tables and its variables.
type names struct {
	design, at, today ref.Val
	fixed             map[string]ref.Val
	// over are figures that are others where the design is used.
	over map[string]ref.Val
	own  []ownName
	// meter counts the steps of a local pack's rules; nil while a rule of the library is judged.
	meter *vocabulary.Meter
}

// Meter counts the steps taken.
func (n *names) Meter() *vocabulary.Meter { return n.meter }

// of takes up the names of a rule.
func (j *judging) of(r *rule.Rule) {
	j.from(r.Names, r.Pack)
}

// from takes up the names of what stands in a pack.
func (j *judging) from(fixed map[string]ref.Val, p *pack.Pack) {
	j.names.fixed, j.names.over, j.names.own, j.names.meter = fixed, j.place.names(p.Pack), j.names.own[:0], nil
	if p.Local {
		j.names.meter = j.options.meter
	}
}

// ownName is a name of one rule: its each or one of its lets.
type ownName struct {
	name  string
	value ref.Val
}

// ResolveName finds a name's value.
func (n *names) ResolveName(name string) (any, bool) {
	switch name {
	case "design":
		return n.design, true
	case "at":
		return n.at, true
	case "today":
		return n.today, true
	}
	for i := range n.own {
		if n.own[i].name == name {
			return n.own[i].value, true
		}
	}
	if v, ok := n.over[name]; ok {
		return v, true
	}
	v, ok := n.fixed[name]
	return v, ok
}

// Parent is none.
func (n *names) Parent() cel.Activation { return nil }
