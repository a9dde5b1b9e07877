package reference

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/pack"
	"plumbline/engine/report"
	"plumbline/schema"
)

// stages are those of a job, in order.
var stages = []string{"planned", "ordered", "built", "started", "handed_over"}

// lists writes the pages that find rules by danger and by stage.
func (b *book) lists() {
	for _, d := range pack.Dangers() {
		if !slices.ContainsFunc(b.order, func(at ruleAt) bool { return at.rule.Danger == d }) {
			continue
		}
		b.list("danger-"+string(d), "Rules that guard against "+stake(d), func(r *pack.Rule) bool { return r.Danger == d })
	}
	for _, s := range stages {
		b.list("stage-"+s, "Rules due once the job is "+strings.ReplaceAll(s, "_", " "), func(r *pack.Rule) bool { return r.Due == s })
	}
}

// stake says what is at stake.
func stake(d pack.Danger) string {
	if words := d.Words(); words != "" {
		return words
	}
	return "nothing dangerous"
}

// list writes the rules that are wanted, by the part of the vehicle they are about.
func (b *book) list(name, title string, wanted func(*pack.Rule) bool) {
	p := newPage(name+".md", title)
	for _, part := range b.parts() {
		head := false
		for _, at := range b.order {
			if at.pack.Part != part || !wanted(at.rule) {
				continue
			}
			if !head {
				fmt.Fprintf(p, "## %s\n\n", report.MarkdownText(part))
				head = true
			}
			fmt.Fprintf(p, "- [%s](%s): %s\n", at.rule.ID, p.to(b.places[at.name()]), report.MarkdownText(at.rule.Title))
		}
		if head {
			fmt.Fprintln(p)
		}
	}
	b.done(p)
}

// parts are those of the vehicle under which packs list their findings; those of regions last.
func (b *book) parts() []string {
	var out []string
	for _, p := range b.library.Packs() {
		if !slices.Contains(out, p.Part) {
			out = append(out, p.Part)
		}
	}
	slices.SortFunc(out, func(x, y string) int {
		if a, b := strings.HasPrefix(x, "Rules of"), strings.HasPrefix(y, "Rules of"); a != b {
			if a {
				return 1
			}
			return -1
		}
		return strings.Compare(x, y)
	})
	return out
}

// index writes the first page.
func (b *book) index(facts []section, values []glossary.Record) {
	p := newPage(Index, "The rules, and what they read")
	cases := 0
	danger, due := map[pack.Danger]int{}, map[string]int{}
	for _, at := range b.order {
		cases += len(at.rule.Cases)
		danger[at.rule.Danger]++
		due[at.rule.Due]++
	}
	fmt.Fprintf(p, "A broken *must* fails, a broken *should* warns; a fact that is not stated leaves a rule open, and so does one stated as a range (`280..320 hp`) until it is narrowed. "+
		"From the stage a rule is due at, a fail stops the job; so does an open finding, once parts are ordered. "+
		"The grounds say where each rule comes from: `common practice` and `from memory` have no document behind them.\n\n"+
		"Packs: %d; rules: %d; cases that prove them: %d. All of it is on the machine too: `plumbline explain NAME`, or a plain word.\n\n## Rules by part of the vehicle\n\n", len(b.library.Packs()), len(b.order), cases)
	for _, part := range b.parts() {
		var packs []string
		for _, x := range b.library.Packs() {
			if x.Part == part {
				packs = append(packs, fmt.Sprintf("[%s](%s/%s) (%d)", x.Pack, Folder, packPage(x.Pack), len(x.Rules)))
			}
		}
		fmt.Fprintf(p, "- %s: %s\n", report.MarkdownText(part), strings.Join(packs, ", "))
	}
	fmt.Fprint(p, "\n## Rules by danger\n\n")
	for _, d := range pack.Dangers() {
		if danger[d] > 0 {
			fmt.Fprintf(p, "- [%s](%s/danger-%s.md): %d\n", stake(d), Folder, d, danger[d])
		}
	}
	fmt.Fprint(p, "\n## Rules by stage\n\nA rule is due once the job is\n\n")
	for _, s := range stages {
		fmt.Fprintf(p, "- [%s](%s/stage-%s.md): %d\n", strings.ReplaceAll(s, "_", " "), Folder, s, due[s])
	}
	fmt.Fprintf(p, "\n## Known failures\n\n[%d known failures](%s/failures.md) of conversions, and the rules that catch them.\n", len(b.failures), Folder)
	fmt.Fprint(p, "\n## Facts\n\nWhat a design may state, with the rules that read it.\n\n")
	for _, s := range facts {
		fmt.Fprintf(p, "- [%s](%s/%s): %s\n", s.name, Folder, factPage(s.name), report.MarkdownText(schema.Describe("design."+s.name).Doc))
	}
	fmt.Fprintf(p, "\n## Derived values\n\n%d values worked out from facts, each with its formula, its source and the rules that read it, by the part they belong to.\n\n", len(values))
	for _, name := range b.sortedPages("values") {
		fmt.Fprintf(p, "- [%s](%s)\n", strings.TrimSuffix(path.Base(name), ".md"), name)
	}
	fmt.Fprint(p, "\n## The language\n\nHow packs of rules are written.\n\n")
	for _, t := range explain.Topics() {
		fmt.Fprintf(p, "- [%s](%s/language/%s.md): %s\n", t.Name, Folder, t.Name, report.MarkdownText(t.Title))
	}
	b.standings(p)
	b.pages[Index] = []byte(p.String())
}

// standingOrder is how a page lists the standings of grounds, the firmest first.
var standingOrder = [...]string{"law", "law_elsewhere", "standard", "handbook", "physics", "practice", "memory"}

// standings counts what the rules rest on.
func (b *book) standings(p *page) {
	rest, alone := map[string]int{}, map[string]int{}
	all := grounds(b.library)
	for _, at := range b.order {
		var of []string
		for _, g := range all[at.name()] {
			if !slices.Contains(of, g.Standing) {
				of = append(of, g.Standing)
				rest[g.Standing]++
			}
		}
		if len(of) == 1 {
			alone[of[0]]++
		}
	}
	fmt.Fprint(p, "\n## What the rules rest on\n\n| on | rules | on nothing else |\n|---|---|---|\n")
	for _, s := range standingOrder {
		fmt.Fprintf(p, "| %s | %d | %d |\n", report.StandingWords(s), rest[s], alone[s])
	}
}

// grounds are those of every rule of a library, those of the limits and tables it uses included: judging an empty design in
// each region applies every rule.
func grounds(lib *engine.Library) map[string][]engine.Ground {
	out := map[string][]engine.Ground{}
	places := [][]string{nil}
	for _, r := range lib.Regions() {
		places = append(places, []string{r.Name})
	}
	for _, names := range places {
		for _, f := range lib.Judge(schema.Empty(), engine.Options{Regions: names}).Findings {
			out[f.Rule] = f.Because
		}
	}
	return out
}
