package report

import (
	"fmt"
	"io"
	"slices"

	"plumbline/engine"
	"plumbline/engine/pack"
)

// Text writes what is new since the stored report at length, the old dangers
// that still stop the job, a line for everything mended, and how much stayed.
func (c *Progress) Text(w io.Writer, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	style := styleBold
	if c.Blocks() {
		style = styleFail
	}
	lead, rest := c.headline()
	p.Marked(0, 0, lead, style, rest)
	for _, line := range c.remarks() {
		p.Para(0, indent, line)
	}
	told := engine.Report{}
	for _, r := range c.reports() {
		told.Overridden = withOverridden(told.Overridden, r.Overridden)
	}
	if len(c.designs) > 0 {
		told.Loosened = c.designs[0].report.Loosened
	}
	c.section(p, o, "New since "+clean(c.name), (*change).fresh, &told)
	c.section(p, o, dangersTitle, (*change).dangerous, &told)
	c.mendedText(p)
	s := &jobSheet{Printer: p, report: &told}
	s.loosened()
	s.overridden()
	s.cautions(s.report.Cautions)
	p.Blank()
	p.Para(0, 0, c.unchangedLine())
	return p.Flush()
}

const dangersTitle = "Old dangers that still stop the job"

// headline says what is new, then how much is mended and how much stays.
func (c *Progress) headline() (lead, rest string) {
	n := c.counts()
	fresh := n.New + n.Worse
	switch {
	case fresh == 0:
		lead = "Nothing is new since " + clean(c.name) + "."
	default:
		lead = count(fresh, "finding is", "findings are") + " new since " + clean(c.name) + "; " + stopWords(n.Blocking, fresh) + " the job."
	}
	rest = fmt.Sprintf("%d mended", n.Mended)
	if n.Gone > 0 {
		rest += fmt.Sprintf(" (%d of them gone)", n.Gone)
	}
	if n.Milder > 0 {
		rest += fmt.Sprintf(", %d in part", n.Milder)
	}
	rest += ", " + count(n.Unchanged, "stays", "stay") + "."
	if n.Dangerous > 0 {
		rest += " " + count(n.Dangerous, "old danger", "old dangers") + " of " + pack.GraveWords + " still " + verb(n.Dangerous, "stops", "stop") + " it."
	}
	return lead, rest
}

// stopWords say how many of the new findings stop the job.
func stopWords(stopping, fresh int) string {
	switch {
	case stopping == 0 && fresh == 1:
		return "it does not stop"
	case stopping == 0:
		return "none of them stops"
	case stopping == fresh && fresh == 1:
		return "it stops"
	case stopping == fresh:
		return "all of them stop"
	}
	return count(stopping, "stops", "stop")
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// remarks say what else differs from the run that was stored: the rules, the stages, the designs.
func (c *Progress) remarks() []string {
	var out []string
	switch c.rules {
	case rulesChanged:
		out = append(out, "The rules changed since: a new finding may come from a new or tightened rule.")
	case rulesUnknown:
		out = append(out, "Which rules "+clean(c.name)+" was made with is not known: a new finding may come from a new rule.")
	}
	apart := 0
	for _, d := range c.designs {
		if d.old == nil {
			apart++
			out = append(out, fmt.Sprintf("%s is not in %s: all its findings are new.", clean(d.report.File), clean(c.name)))
			continue
		}
		if d.old.Stage != d.report.Stage {
			out = append(out, fmt.Sprintf("%s: the job was %s then and is %s now.", clean(d.report.File), clean(stageWords(d.old.Stage)), stageWords(d.report.Stage)))
		}
		then := regionWords(d.old.Regions, func(r Region) string { return r.Name })
		now := regionWords(d.report.Regions, func(r engine.RegionJudged) string { return r.Name })
		if then != now {
			out = append(out, fmt.Sprintf("%s: it was judged for %s then and for %s now.", clean(d.report.File), then, now))
		}
	}
	if len(c.unread) > 0 {
		list := cleaned(c.unreadable()[:min(len(c.unread), mostListed)])
		if n := len(c.unread); n > mostListed {
			list = append(list, fmt.Sprintf("%d more", n-mostListed))
		}
		out = append(out, "Could not be judged, because of problems in the files: "+joined(list, "and")+".")
	}
	if n := len(c.notJudged); n > 0 {
		list := cleaned(c.notJudged[:min(n, mostListed)])
		if n > mostListed {
			list = append(list, fmt.Sprintf("%d more", n-mostListed))
		}
		out = append(out, "In "+clean(c.name)+" but not judged now: "+joined(list, "and")+".")
		if apart == len(c.designs) {
			out = append(out, "No design has the path it had then. If they are the same designs, check them from the same folder and name them in the same way.")
		}
	}
	return out
}

// regionWords names the regions a design was judged for.
func regionWords[R any](regions []R, name func(R) string) string {
	var names []string
	for _, r := range regions {
		names = append(names, clean(name(r)))
	}
	if len(names) == 0 {
		return "no region"
	}
	return joined(names, "and")
}

// pick returns the changes that a condition holds for, the worst first.
func (d *designChange) pick(which func(*change) bool) []*change {
	var out []*change
	for i := range d.changes {
		if which(&d.changes[i]) {
			out = append(out, &d.changes[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *change) int { return worst(a.now, b.now) })
	return out
}

// section prints findings at length, design by design; told gathers the cautions that go with them.
func (c *Progress) section(p *Printer, o TextOptions, title string, which func(*change) bool, told *engine.Report) {
	first := true
	for _, d := range c.designs {
		list := d.pick(which)
		if len(list) == 0 {
			continue
		}
		if first {
			p.Blank()
			p.Heading(title)
			first = false
		}
		if len(c.designs) > 1 {
			p.Blank()
			p.Para(0, 0, clean(d.report.File)+":")
		}
		s := &jobSheet{Printer: p, verbose: o.Verbose, report: d.report, nowhere: nowhere(d.report)}
		for _, x := range list {
			for _, caution := range d.report.Cautions {
				if slices.Contains(caution.Rules, x.now.Rule) {
					told.Cautions = together(told.Cautions, []engine.CautionFound{caution})
				}
			}
		}
		s.changes(list)
	}
}

// changes prints findings at length, the worst first: open ones joined by what they wait for, the others by rule.
func (s *jobSheet) changes(list []*change) {
	number := numbersOf(s.report)
	for len(list) > 0 {
		n := 1
		for n < len(list) && urgency(list[n].now) == urgency(list[0].now) {
			n++
		}
		findings, was := findingsOf(list[:n])
		list = list[n:]
		if findings[0].Outcome == engine.Open {
			for _, cause := range byMissing(findings) {
				s.openCause(cause)
				s.before(cause, was)
			}
			continue
		}
		for _, e := range entries(findings) {
			e.number = number[e.Finding]
			s.entry(e)
			s.before(e.all(), was)
		}
	}
}

// findingsOf are the findings of changes as they are now, and the change of each.
func findingsOf(list []*change) ([]*engine.Finding, map[*engine.Finding]*change) {
	findings, was := make([]*engine.Finding, len(list)), map[*engine.Finding]*change{}
	for i, x := range list {
		findings[i], was[x.now] = x.now, x
	}
	return findings, was
}

// all are the findings of an entry.
func (e *entry) all() []*engine.Finding {
	return slices.Concat([]*engine.Finding{e.Finding}, e.same, e.sense)
}

// before prints what findings were, when there is something to say.
func (s *jobSheet) before(list []*engine.Finding, was map[*engine.Finding]*change) {
	if text := beforeWords(list, was); text != "" {
		s.Para(inner, inner+2, text)
	}
}

// openCause prints what cannot be judged for want of the same facts, where, and whether it stops the job.
func (s *jobSheet) openCause(cause []*engine.Finding) {
	s.Blank()
	s.Marked(indent, inner, OutcomeWord(engine.Open)+":", styleOpen, s.causeWords(cause))
	text := s.where(cause[0])
	places := map[string]bool{}
	for _, f := range cause {
		places[f.Subject] = true
	}
	if more := len(places) - 1; more > 0 {
		text += " and " + count(more, "more place", "more places")
	}
	if cause[0].Blocks {
		text += "; stops the job until judged"
	}
	s.Para(inner, inner+2, text+".")
	s.confirmOpen(cause)
	s.unreachable(inner, cause)
}

// fileOf names a design's file where there are several, "" where there is one.
func (c *Progress) fileOf(d *designChange) string {
	if len(c.designs) < 2 {
		return ""
	}
	return d.report.File
}

// mendedText prints a line for each finding that is mended; old dangers were told before.
func (c *Progress) mendedText(p *Printer) {
	first := true
	for _, d := range c.designs {
		nowhere := nowhere(d.report)
		for _, x := range d.mended() {
			if x.dangerous() {
				continue
			}
			if first {
				p.Blank()
				p.Heading("Mended or gone")
				p.Blank()
				first = false
			}
			word, text := x.mendedWords(nowhere, c.fileOf(d))
			p.Marked(indent, inner, word+":", styleBold, text)
		}
	}
}
