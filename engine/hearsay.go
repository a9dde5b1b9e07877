package engine

import (
	"strings"

	"plumbline/engine/internal/rule"
)

// KnownFrom says how a rule of a region is known of which no text was read: page or memory; else empty.
func (l *Library) KnownFrom(rule string) string {
	for _, r := range l.rules {
		if r.ID == rule {
			return r.Ready().KnownFrom
		}
	}
	return ""
}

// withHearsay puts behind a finding's sentence how the rule is known.
func withHearsay(text, knownFrom string) string {
	hearsay := map[string]string{
		rule.FromPage:   "The rule is known from a page about it; its text was not read.",
		rule.FromMemory: "The rule is from memory; no text of it was read.",
	}[knownFrom]
	if hearsay == "" {
		return text
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text + " " + hearsay
}
