package engine

import (
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
		until, _ := c.Until.Get()
		bad := func(text, mend string) {
			out = append(out, &Finding{
				Rule: "design/concessions.valid", Title: "every concession holds", Part: "Concessions", Outcome: Fail, Danger: pack.NoDanger, Due: "planned",
				Subject: c.Path(), SubjectName: name, Place: c.Place(), Text: text, Remedy: mend,
				Because: []rule.Ground{{Standing: "standard", Text: "ISO 9000, concession: a permission is limited in scope and time"}},
			})
		}
		var covered []*Finding
		told := ""
		for _, f := range findings {
			switch {
			case f.Rule != name || subject != "" && f.Subject != subject || f.Outcome != Fail && f.Outcome != Warn && f.Outcome != Open:
			case j.unwaivable(f) != "":
				told = j.unwaivable(f)
			default:
				covered = append(covered, f)
			}
		}
		text, mend := j.hollow(name, c)
		switch {
		case told != "":
			bad(told+" cannot be conceded: "+name+".", "Mend the finding and remove the concession.")
		case text != "":
			bad(text, mend)
		case len(covered) == 0:
			bad("The concession for "+name+" matches no finding.", "Remove it, or correct the rule's name or the subject.")
		}
		if text == "" {
			reason, _ := c.Reason.Get()
			by, _ := c.GrantedBy.Get()
			for _, f := range covered {
				f.Conceded = &Conceded{Reason: reason, By: by, Until: string(until), Place: c.Place()}
			}
		}
	}
	return out
}
