package glossary

import (
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/report"
	"plumbline/schema"
)

// trouble explains a fault that can befall a finished build.
func (g *Glossary) trouble(t *engine.Trouble) Record {
	d := t.Decl
	x := Record{Name: t.ID, Kind: "trouble", Title: d.Title}
	x.Add("At stake", d.Danger.Words())
	x.Add("Signs", d.Signs)
	x.Add("To make sure", d.Confirm)
	x.Add("Mend", d.Mend)
	var tells []string
	for _, m := range d.TakenFor {
		tells = append(tells, g.troubleTitle(t, m.Trouble)+": "+m.Tells)
	}
	x.Add("Taken for", tells...)
	if d.Unsized() {
		x.Add("Its size", "none: it is known by its signs alone, no reading is worked out with it")
	} else {
		x.Add("Its size", strings.NewReplacer("{size} as much", "so many times as much", "{size}", "so much").Replace(d.Size.Say)+"; looked for from "+d.Size.Sound.Text+", which is sound, to "+d.Size.Worst.Text+", often "+d.Size.Usual.Text)
	}
	var changes []string
	for i := range t.Changes {
		changes = append(changes, changeWords(&t.Changes[i]))
	}
	x.Add("Changes", changes...)
	if d.When != nil {
		x.Add("Can befall a vehicle when", d.When.Text)
	}
	for _, caution := range g.library.CautionsAt(d.Parts) {
		x.Add("Take care", caution.Text)
	}
	x.Add("Take care", report.LocalCodes)
	x.Add("Why", g.reasons(t.From.Pack, d.Because)...)
	return x
}

// troubleTitle is what a trouble is called, by its name as another one writes it.
func (g *Glossary) troubleTitle(t *engine.Trouble, name string) string {
	if !strings.Contains(name, ".") {
		name = t.From.Pack.Pack + "." + name
	}
	for i := range g.library.Troubles() {
		if other := &g.library.Troubles()[i]; other.ID == name {
			return other.Decl.Title
		}
	}
	return name
}

// changeWords say what a change does.
func changeWords(c *engine.TroubleChange) string {
	what := ""
	if c.Decl.Fault != "" {
		what = derive.FaultNamed(c.Decl.Fault).Meaning
	} else {
		what = "design." + c.Decl.Fact + ": " + strings.TrimSuffix(schema.Describe("design."+c.Decl.Fact).Doc, ".")
	}
	switch {
	case c.Decl.Do == "is":
		return what + "; it is the size"
	case c.Decl.Do == "plus":
		return what + "; the size is added"
	case c.Gain != 1:
		return what + "; multiplied by 1 and " + c.Decl.Gain.Text + " times the size's way from sound"
	}
	return what + "; multiplied by the size"
}
