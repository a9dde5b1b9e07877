package engine

import (
	"plumbline/engine/pack"
	"strings"
)

// How a rule of a region is known of which nobody read a text or a copy: a page tells of it, or it is remembered.
const (
	fromPage   = "page"
	fromMemory = "memory"
)

// knownFrom says how a rule of a region is known when no text of it was read; empty when one was. One ground read in the text
// or in a copy of it is enough. Advice that rests on practice claims no law.
func (c *compiler) knownFrom(r *pack.Rule) string {
	if len(c.pack.Regions) == 0 {
		return ""
	}
	known, practice := fromMemory, false
	for i := range r.Because {
		b := &r.Because[i]
		practice = practice || b.Practice != "" || b.Physics != ""
		src, ok := c.source(b.Source)
		if !ok {
			continue
		}
		switch src.Read {
		case "text", "mirror":
			return ""
		case "secondary":
			known = fromPage
		}
	}
	if r.Consequence == "advice" && practice && known == fromMemory {
		return ""
	}
	return known
}

// KnownFrom says how a rule of a region is known of which no text was read: page or memory; else empty.
func (l *Library) KnownFrom(rule string) string {
	for _, r := range l.rules {
		if r.id == rule {
			return r.ready().knownFrom
		}
	}
	return ""
}

// withHearsay puts behind a finding's sentence how the rule is known.
func withHearsay(text, knownFrom string) string {
	hearsay := map[string]string{
		fromPage:   "The rule is known from a page about it; its text was not read.",
		fromMemory: "The rule is from memory; no text of it was read.",
	}[knownFrom]
	if hearsay == "" {
		return text
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text + " " + hearsay
}
