package rule

import (
	"regexp"
	"strings"

	"plumbline/engine/pack"
)

// RawWord is a word of the vocabulary as a design file writes it, outside the placeholders of a text.
var RawWord = regexp.MustCompile(`[A-Za-z0-9.]*_[A-Za-z0-9_]*(\.[A-Za-z0-9_]+)*`)

// lintWords refuses words that only a design file writes in what is said to people. Those that a placeholder holds are
// printed as people write them, by spoken.
func lintWords(r *pack.Rule, say func(key, format string, args ...any)) {
	refuse := func(key string, text string) {
		if word := RawWord.FindString(literal(text)); word != "" {
			say(key, "%s is how a design file writes it: say it in words, or put the fact in {braces}", word)
		}
	}
	refuse("title", r.Title)
	refuse("met", r.Met)
	refuse("say", r.Say)
	for _, m := range r.Mend {
		refuse("mend", m.Text)
	}
}

// literal is a text without its {placeholders}.
func literal(text string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		_, text, _ = strings.Cut(rest, "}")
	}
}

// NotKnown and NoValue stand in a sentence for a value that is not known or cannot be worked out.
const NotKnown, NoValue = "(not known)", "(none)"
