package engine

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// notKnown and noValue stand in a sentence for a value that is not known or cannot be worked out.
const notKnown, noValue = "(not known)", "(none)"

// nameOf is the path of a name in a list; the list counts from 0.
var nameOf = regexp.MustCompile(`\[(\d+)\]\.name$`)

// nameless writes a value that is not known: a name that nobody gave is the place in its list, No. 2.
func nameless(v *types.Unknown) string {
	facts, _ := vocabulary.Missing(v)
	if len(facts) != 1 {
		return notKnown
	}
	m := nameOf.FindStringSubmatch(facts[0])
	if m == nil {
		return notKnown
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		return notKnown
	}
	return "No. " + strconv.Itoa(n+1)
}

// unspeakable tells what a finding of a case says that a reader cannot use: a word as only a design file writes it, or
// in the sentence of a pass a value that a pass does not need. Values that a case sets instead of computing them leave
// others unknown; there only the words count.
func unspeakable(f *Finding, c *pack.Case) string {
	if f.Outcome != Pass && f.Outcome != Warn && f.Outcome != Fail {
		return ""
	}
	for _, text := range []string{f.Text, f.Remedy} {
		switch word := rule.RawWord.FindString(text); {
		case word != "":
			return fmt.Sprintf("it says %q, which only a design file writes: %s", word, text)
		case f.Outcome == Pass && len(c.Assume) == 0 && (strings.Contains(text, notKnown) || strings.Contains(text, noValue)):
			return "its met names what need not be known for a pass: " + text
		}
	}
	return ""
}
