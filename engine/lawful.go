package engine

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"plumbline/engine/internal/rule"
	"plumbline/schema"
)

// The law is not the shop's to waive: neither its packs nor a concession in a design make a duty milder.

// ofLaw reports whether a rule says what a law demands somewhere: a duty, or a must that rests on a law in force.
func ofLaw(r *rule.Rule) bool {
	if r.Decl.Consequence == "duty" {
		return true
	}
	return r.Must != nil && slices.ContainsFunc(r.Grounds, func(g rule.Ground) bool {
		return g.Standing == rule.Law || g.Law != nil && len(g.Law.In) > 0
	})
}

// demanded reports whether a finding is about what the law demands of this design, where it is judged.
func (j *judging) demanded(f *Finding) bool {
	if f.Consequence == "duty" {
		return true
	}
	if f.Outcome == Warn || !slices.ContainsFunc(f.Because, func(g rule.Ground) bool { return g.Standing == rule.Law }) {
		return false
	}
	if j.library == nil {
		return true
	}
	i := slices.IndexFunc(j.library.rules, func(r *rule.Rule) bool { return r.ID == f.Rule })
	return i < 0 || j.library.rules[i].Must != nil
}

// unwaivable says why a finding is nobody's in the shop to wave through; empty when somebody may.
func (j *judging) unwaivable(f *Finding) string {
	switch {
	case f.Danger.Grave():
		return "A danger of " + f.Danger.Words()
	case j.demanded(f):
		return "What the law demands"
	}
	return ""
}

// longestConcession is how many years a concession may run from the day of judging.
const longestConcession = 2

// idleWords say nothing of why, nor who.
var idleWords = strings.Fields("a an and as asked because by fine for here in is it it's me myself n/a na no nobody none not of ok okay on one our reason " +
	"self so somebody someone tba tbc tbd test that the them they this to todo us want wanted wants we who yes you customer client owner driver")

// telling lists the different words of a text that say something.
func telling(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '/' && r != '\'' }) {
		letters := strings.IndexFunc(w, unicode.IsLetter) >= 0
		if letters && len([]rune(w)) > 1 && !slices.Contains(idleWords, w) && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// hollow says what is wrong with the form of a concession: what is missing, or says nothing, or holds for too long.
func (j *judging) hollow(name string, c *schema.Concession) (text, mend string) {
	reason, hasReason := c.Reason.Get()
	by, hasBy := c.GrantedBy.Get()
	until, hasUntil := c.Until.Get()
	if !hasReason || !hasBy || !hasUntil {
		return "The concession for " + name + " lacks its reason, its grantor or its end date.", "Write reason, granted_by and until, or remove the concession."
	}
	if len(telling(by)) == 0 {
		return "The concession for " + name + " does not say who granted it.", "Write under granted_by the role or the initials of who answers for it in the shop; a customer's wish is no permission."
	}
	if len(telling(reason)) < 2 {
		return "The reason of the concession for " + name + " says nothing.", "Write under reason why it may stay and what was looked at, in a few words."
	}
	end, err := time.Parse(time.DateOnly, string(until))
	today := j.options.Today
	switch {
	case err != nil || today.IsZero():
	case !today.Before(end.AddDate(0, 0, 1)):
		return fmt.Sprintf("The concession for %s ended on %s.", name, until), "Mend the finding, or have the concession renewed."
	case end.After(today.AddDate(longestConcession, 0, 0)):
		return fmt.Sprintf("The concession for %s runs until %s, longer than %d years.", name, until, longestConcession),
			fmt.Sprintf("Have it granted for %d years at most, and looked at again then.", longestConcession)
	}
	return "", ""
}
