package engine

import (
	"regexp"
	"strconv"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// nameOf is the path of a name in a list; the list counts from 0.
var nameOf = regexp.MustCompile(`\[(\d+)\]\.name$`)

// nameless writes a value that is not known: a name that nobody gave is the place in its list, No. 2.
func nameless(v *types.Unknown) string {
	facts, _ := vocabulary.Missing(v)
	if len(facts) != 1 {
		return rule.NotKnown
	}
	m := nameOf.FindStringSubmatch(facts[0])
	if m == nil {
		return rule.NotKnown
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		return rule.NotKnown
	}
	return "No. " + strconv.Itoa(n+1)
}
