package engine

import "strings"

// hearsay is what a duty or an inspection of a region adds to its finding when nobody read a text of it: a page tells of it,
// or it is remembered. One ground read in the text or in a copy of it is enough; advice claims no law.
func (c *compiler) hearsay(r *Rule) string {
	if len(c.pack.Regions) == 0 || r.Consequence == "advice" {
		return ""
	}
	told := false
	for i := range r.Because {
		src, ok := c.source(r.Because[i].Source)
		if !ok {
			continue
		}
		switch src.Read {
		case "text", "mirror":
			return ""
		case "secondary":
			told = true
		}
	}
	if told {
		return "So says a page about the rule; its text was not read."
	}
	return "So the rule is remembered; its text was not read."
}

// withHearsay puts the sentence behind a finding's own.
func withHearsay(text, hearsay string) string {
	if hearsay == "" {
		return text
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text + " " + hearsay
}
