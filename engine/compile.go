package engine

import (
	"plumbline/engine/internal/rule"
)

// ready compiles all rules that are not yet.
func (l *Library) ready() []*rule.Rule {
	for _, r := range l.rules {
		r.Ready()
	}
	return l.rules
}
