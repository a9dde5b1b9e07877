package rule

import (
	"slices"
	"strings"

	"plumbline/engine/pack"
)

// consequences are what a regional rule can be, the heaviest first: a duty or
// ban, something looked at when the vehicle is inspected, or advice.
var consequences = []string{"duty", "inspection", "advice"}

// lintRegional wants of a rule of a region what it does to the reader, and of
// every document it cites the clause.
func (c *Compiler) lintRegional(r *pack.Rule, say func(key, format string, args ...any)) {
	if len(c.Pack.Regions) == 0 {
		if r.Consequence != "" || r.Confirm != "" || r.Topic != "" {
			say("consequence", "only rules of a region have a consequence, a topic and something to confirm; the pack names no regions")
		}
		return
	}
	if !slices.Contains(consequences, r.Consequence) {
		say("consequence", "a rule of a region is a duty, an inspection or advice: write consequence: %s", strings.Join(consequences, " or "))
	}
	if r.Consequence == "duty" && c.knownFrom(r) == FromMemory && c.sourced(r) {
		say("consequence", "a duty rests on a document; what is only remembered is an inspection or advice")
	}
	for i := range r.Because {
		b := &r.Because[i]
		if _, ok := c.source(b.Source); ok && b.Where == "" {
			say("because", "a rule of a region names the clause: where, beside source %s", b.Source)
		}
	}
}
