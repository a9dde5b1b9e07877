package engine

import (
	"fmt"
	"time"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
)

// concede marks findings covered by a concession and returns a finding for
// every concession that is expired, forbidden or matches nothing.
func (j *judging) concede(findings []*Finding) []*Finding {
	var out []*Finding
	for i := range j.design.Concessions.Items {
		c := &j.design.Concessions.Items[i]
		name, _ := c.Rule.Get()
		subject, _ := c.Subject.Get()
		until, hasUntil := c.Until.Get()
		bad := func(text, mend string) {
			out = append(out, &Finding{
				Rule: "design/concessions.valid", Title: "every concession holds", Part: "Concessions", Outcome: Fail, Danger: pack.NoDanger, Due: "planned",
				Subject: c.Path(), SubjectName: name, Place: c.Place(), Text: text, Remedy: mend,
				Because: []rule.Ground{{Standing: "standard", Text: "ISO 9000, concession: a permission is limited in scope and time"}},
			})
		}
		reason, hasReason := c.Reason.Get()
		by, hasBy := c.GrantedBy.Get()
		if !hasReason || !hasBy || !hasUntil {
			bad("The concession for "+name+" lacks its reason, its grantor or its end date.", "Write reason, granted_by and until, or remove the concession.")
			continue
		}
		if end, err := time.Parse(time.DateOnly, string(until)); err == nil && !j.options.Today.IsZero() && !j.options.Today.Before(end.AddDate(0, 0, 1)) {
			bad(fmt.Sprintf("The concession for %s ended on %s.", name, until), "Mend the finding, or have the concession renewed.")
			continue
		}
		matched, told := false, pack.NoDanger
		for _, f := range findings {
			if f.Rule != name || subject != "" && f.Subject != subject || f.Outcome != Fail && f.Outcome != Warn && f.Outcome != Open {
				continue
			}
			matched = true
			if f.Danger.Grave() {
				told = f.Danger
				continue
			}
			f.Conceded = &Conceded{Reason: reason, By: by, Until: string(until), Place: c.Place()}
		}
		switch {
		case told != pack.NoDanger:
			bad("A danger of "+told.Words()+" cannot be conceded: "+name+".", "Mend the finding and remove the concession.")
		case !matched:
			bad("The concession for "+name+" matches no finding.", "Remove it, or correct the rule's name or the subject.")
		}
	}
	return out
}
