package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/schema"
)

// clean makes a text safe to print on one line: control, format and other
// invisible characters become spaces, runs of blanks one space.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// sentence cleans a text and ends it with a full stop.
func sentence(s string) string {
	s = clean(s)
	if s == "" || strings.ContainsRune(".!?:", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

// capital makes the first letter a capital.
func capital(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// uncapital makes the first letter small, unless the word is an abbreviation.
func uncapital(s string) string {
	first := []rune(s)
	if len(first) < 2 || unicode.IsUpper(first[1]) {
		return s
	}
	return string(unicode.ToLower(first[0])) + string(first[1:])
}

// joined lists words: a, b and c.
func joined(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " " + last + " " + words[end]
}

func cleaned(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = clean(w)
	}
	return out
}

// count writes a number with its noun: 1 question, 2 questions.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// dangerWords say what is at stake.
func dangerWords(d pack.Danger) string {
	switch {
	case d == pack.EngineDamage:
		return "Engine at risk"
	case d.Hurts():
		return "Danger of " + d.Words()
	}
	return ""
}

// foundWords say what was found, a danger to people first.
func foundWords(f *engine.Finding) string {
	if f.Danger.Hurts() {
		return dangerWords(f.Danger) + ": " + textWords(f)
	}
	return textWords(f)
}

// textWords are the text of a finding without a bare last word that repeats its danger:
// "it can burst and spray fuel: fire." ends at the fuel.
func textWords(f *engine.Finding) string {
	text := clean(f.Text)
	if f.Danger == pack.Fire {
		text = strings.TrimSuffix(strings.TrimSuffix(text, "."), ": fire")
	}
	return sentence(text)
}

// StandingWords say how much a ground weighs.
func StandingWords(standing string) string {
	switch standing {
	case "practice":
		return "common practice"
	case "memory":
		return "from memory"
	case "law_elsewhere":
		return "law elsewhere, used as practice"
	}
	return standing
}

// OutcomeWord is the outcome as printed: Wrong, Doubtful, Open, Met, Does not apply.
func OutcomeWord(o engine.Outcome) string {
	switch o {
	case engine.Fail:
		return "Wrong"
	case engine.Warn:
		return "Doubtful"
	case engine.Open:
		return "Open"
	case engine.Pass:
		return "Met"
	}
	return "Does not apply"
}

// stageWords say a stage as a state of the job.
func stageWords(stage string) string { return strings.ReplaceAll(stage, "_", " ") }

// factName is a fact's path as it is laid out in a design file.
func factName(path string) string { return clean(schema.Path(path).Short()) }

var opWords = map[string]string{
	"at_least":  "at least",
	"at_most":   "at most",
	"more_than": "more than",
	"less_than": "less than",
}

// boundWords say one bound and how far from it the value is:
// must be at most 34 kPa (21 % over).
func boundWords(b engine.BoundFound) string {
	return fmt.Sprintf("%s be %s %s (%s)", b.Of, opWords[b.Op], clean(b.Bound.Text), marginWords(b))
}

func marginWords(b engine.BoundFound) string {
	upper := b.Op == "at_most" || b.Op == "less_than"
	if b.Margin == nil {
		if b.Met {
			return "met"
		}
		return "not met"
	}
	size := percent(math.Abs(*b.Margin))
	switch {
	case b.Met && *b.Margin == 0:
		return "met with nothing in hand"
	case b.Met:
		return size + " in hand"
	case *b.Margin == 0:
		return "just not met"
	case upper:
		return size + " over"
	}
	return size + " short"
}

// percent writes a fraction: two digits below 10 %, whole numbers above.
func percent(f float64) string {
	p := 100 * f
	switch {
	case p < 0.1:
		return "under 0.1 %"
	case p < 10:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", p), ".0") + " %"
	case p < 1000:
		return fmt.Sprintf("%.0f %%", p)
	}
	return "more than 10 times"
}

// Numbers say the measured value and its bounds; empty when nothing is bounded.
func Numbers(f *engine.Finding) string {
	if f.Measured == nil || len(f.Bounds) == 0 {
		return ""
	}
	parts := []string{clean(f.Measured.Text)}
	broken := slices.ContainsFunc(f.Bounds, func(b engine.BoundFound) bool { return !b.Met })
	for _, b := range f.Bounds {
		if !broken || !b.Met {
			parts = append(parts, boundWords(b))
		}
	}
	return capital(strings.Join(parts, "; "))
}

// LeaningWords say what an open finding would become with what is usual of what nobody stated: never that it is so.
func LeaningWords(l *engine.Leaning) string {
	if l.Lean == engine.Turns {
		return fmt.Sprintf("With most that is usual it would be %s, not with all: %s", strings.ToLower(OutcomeWord(l.Likely)), l.AtUsual)
	}
	return "With anything usual it would be " + strings.ToLower(OutcomeWord(l.Worst)) + ": " + l.Text
}

// GroundWords say one ground with its standing.
func GroundWords(g engine.Ground) string {
	text := clean(g.Text) + " (" + StandingWords(g.Standing)
	if g.For != "" {
		text += ", for " + clean(g.For)
	}
	return text + ")"
}

func groundsWords(list []engine.Ground) string {
	parts := make([]string, len(list))
	for i, g := range list {
		parts[i] = GroundWords(g)
	}
	return strings.Join(parts, "; ")
}
