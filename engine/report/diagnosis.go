package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"plumbline/engine/diagnose"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/words"
)

// Diagnosis writes what readings say of a vehicle.
func Diagnosis(w io.Writer, d *schema.Design, x *diagnose.Diagnosis, o TextOptions) error {
	s := &diagnosis{Printer: NewPrinter(w, o.Width, o.Colour), design: d, found: x, verbose: o.Verbose, told: map[string]bool{}}
	s.print()
	return s.Flush()
}

type diagnosis struct {
	*Printer
	design  *schema.Design
	found   *diagnose.Diagnosis
	verbose bool
	// told are the troubles told at length.
	told map[string]bool
}

func (s *diagnosis) print() {
	if len(s.found.Held) == 0 {
		s.Heading("No reading is stated that could be held against what was computed.")
		s.skipped()
		if len(s.found.Skipped) == 0 {
			s.next("Begin with these, the cheap and safe ones first")
		}
		s.cautions(s.found.Cautions)
		return
	}
	s.Heading(s.verdict())
	s.readings()
	s.candidates()
	s.alike()
	if s.found.Apart > 1 && len(s.found.Next) == 0 {
		s.Blank()
		s.Para(0, 0, "No reading known here tells these apart: go by what is said of making sure, in the order above.")
	}
	s.next("Measure next")
	s.skipped()
	s.Blank()
	s.Para(0, 0, "How it is ranked: each trouble's one size is fitted to all readings, each weighed by what the instrument may be off and what sound vehicles scatter. "+
		"A trouble has to fit better than the sound vehicle by more than chance gives to one of so many tried, and two together better still.")
	s.cautions(s.found.Cautions)
}

// verdict is the answer in a sentence.
func (s *diagnosis) verdict() string {
	first := &s.found.Candidates[0]
	n := count(len(s.found.Held), "reading", "readings")
	switch {
	case !s.found.Explained:
		return fmt.Sprintf("Nothing known here explains these %s: not one of the %d troubles tried, nor any two together.", n, s.found.Tried)
	case len(first.Troubles) == 0 && s.found.Apart == 1:
		return fmt.Sprintf("These %s are those of a sound vehicle.", n)
	case len(first.Troubles) == 0:
		return fmt.Sprintf("A sound vehicle explains these %s; what else would is told below.", n)
	case s.found.Apart > 1:
		return fmt.Sprintf("Most likely: %s. These readings leave %d possibilities.", named(first), s.found.Apart)
	}
	return fmt.Sprintf("Most likely: %s.", named(first))
}

// named is what a candidate is called.
func named(c *diagnose.Candidate) string {
	if len(c.Troubles) == 0 {
		return "a sound vehicle"
	}
	var out []string
	for _, t := range c.Troubles {
		out = append(out, uncapital(clean(t.Title))+" ("+clean(t.Say)+")")
	}
	return strings.Join(out, " together with ")
}

// readings tells those that are not as in a sound vehicle, or all.
func (s *diagnosis) readings() {
	var list []string
	for _, h := range s.found.Held {
		if math.Abs(h.Off) > 1 || s.verbose {
			list = append(list, fmt.Sprintf("%s: %s measured, %s in a sound vehicle, give or take %s", capital(clean(h.Title)), h.Measured.Text, h.Sound.Text, h.Margin.Text))
		}
	}
	s.Blank()
	if len(list) == 0 {
		s.Para(0, 0, "Every reading lies within its margin of what a sound vehicle shows.")
		return
	}
	s.Heading(map[bool]string{true: "What was read", false: "What stands out"}[s.verbose])
	for _, text := range list {
		s.Para(indent, inner, text+".")
	}
}

// mostRefuted is how many troubles are told that would explain what stands out if another reading did not speak against them: whoever
// suspects them reads why not.
const mostRefuted = 3

// candidates tells the first ones at length, of the others in a line each the sound vehicle, and those that come halfway from it; with
// --verbose all.
func (s *diagnosis) candidates() {
	told := s.found.Apart
	if !s.found.Explained {
		told = min(3, len(s.found.Candidates))
	}
	s.Blank()
	s.Heading(map[bool]string{true: "What explains it", false: "What comes nearest"}[s.found.Explained])
	sound, refuted := s.found.Sound(), 0
	for i := range s.found.Candidates {
		c := &s.found.Candidates[i]
		if i < told {
			s.candidate(i+1, c)
			continue
		}
		halfway := len(c.Troubles) > 0 && sound != nil && c.Misfit < sound.Misfit/2 && refuted < mostRefuted
		if halfway {
			refuted++
		}
		if s.verbose || halfway || len(c.Troubles) == 0 && s.found.Candidates[0].Troubles != nil {
			s.Para(indent, inner, fmt.Sprintf("Less likely: %s%s.", named(c), misfits(c)))
		}
	}
}

// misfits says how badly a candidate fits.
func misfits(c *diagnose.Candidate) string {
	worst, off := "", 0.0
	for _, x := range c.Shows {
		if math.Abs(x.Off) > off {
			worst, off = clean(x.Title)+" would be", math.Abs(x.Off)
			if x.Value.Text != "" {
				worst += " " + x.Value.Text + ","
			}
		}
	}
	if off <= 1 {
		return ""
	}
	return fmt.Sprintf("; %s off by %.1f times its margin", worst, off)
}

func (s *diagnosis) candidate(number int, c *diagnose.Candidate) {
	s.Para(indent, inner, fmt.Sprintf("%d. %s%s.", number, capital(named(c)), misfits(c)))
	if len(c.Troubles) > 0 {
		var shows []string
		for _, x := range c.Shows {
			if x.Value.Text != "" {
				shows = append(shows, fmt.Sprintf("%s %s", clean(x.Title), x.Value.Text))
			}
		}
		if len(shows) > 0 {
			s.Para(inner, inner, "It would show: "+strings.Join(shows, "; ")+".")
		}
	}
	for _, t := range c.Troubles {
		if s.told[t.ID] {
			continue // at length above
		}
		s.told[t.ID] = true
		s.Para(inner, inner, "Signs: "+clean(t.Signs))
		for _, x := range t.Tells {
			s.Para(inner, inner, fmt.Sprintf("Against %s: %s.", uncapital(clean(x.Title)), clean(x.Text)))
		}
		s.Para(inner, inner, "To make sure: "+clean(t.Confirm))
		s.Para(inner, inner, "Mend: "+clean(t.Mend))
	}
}

// alike tells which of the first candidates the readings cannot tell apart.
func (s *diagnosis) alike() {
	told := map[int]bool{}
	for i := range min(s.found.Apart, len(s.found.Candidates)) {
		same := []string{fmt.Sprint(i + 1)}
		for k := i + 1; k < min(s.found.Apart, len(s.found.Candidates)); k++ {
			if !told[i] && !told[k] && slices.Contains(s.found.Candidates[k].Alike, i) {
				same, told[k] = append(same, fmt.Sprint(k+1)), true
			}
		}
		if len(same) > 1 {
			s.Blank()
			s.Para(0, 0, fmt.Sprintf("Numbers %s would show the same in every reading that was taken: these readings cannot tell them apart.", joined(same, "and")))
		}
	}
}

// next tells what to measure.
func (s *diagnosis) next(heading string) {
	if len(s.found.Next) == 0 {
		return
	}
	s.Blank()
	s.Heading(heading)
	for _, m := range s.found.Next {
		text := capital(clean(m.Title)) + ". " + clean(m.How)
		if m.Danger != "" {
			text += " Danger: " + m.Danger + "."
		}
		s.Para(indent, inner, text)
		var would []string
		for _, x := range m.Would {
			would = append(would, fmt.Sprintf("number %d: %s", x.Candidate+1, from(x)))
		}
		if len(would) > 0 {
			s.Para(inner, inner, "It shows with "+strings.Join(would, "; ")+".")
		}
	}
}

func from(x diagnose.Would) string {
	if x.Least.Text == x.Most.Text {
		return x.Least.Text
	}
	return x.Least.Text + " to " + x.Most.Text
}

// mostAwaited is how many facts are named that a reading waits for.
const mostAwaited = 4

// skipped tells which readings could not be used.
func (s *diagnosis) skipped() {
	if len(s.found.Skipped) == 0 {
		return
	}
	s.Blank()
	s.Heading("Not used")
	for _, x := range s.found.Skipped {
		why := clean(x.Why)
		if len(x.Missing) > 0 {
			var facts []string
			for _, path := range x.Missing {
				facts = append(facts, factLabel(s.design, path))
			}
			more := ""
			if n := len(facts) - mostAwaited; n > 0 {
				facts, more = facts[:mostAwaited], fmt.Sprintf("; and %d more of the design", n)
			}
			why = "to know what to expect, state " + strings.Join(facts, "; ") + more
		}
		s.Para(indent, inner, fmt.Sprintf("%s: %s.", capital(clean(x.Title)), strings.TrimSuffix(why, ".")))
	}
}

// factLabel is what a fact is called; of the readings without the part they are written in.
func factLabel(d *schema.Design, path string) string {
	if p := schema.Path(path); p.Section() == "measured" {
		if row := words.Of(schema.TypeAt(string(p.Parent())), p.Key()); row != nil {
			return row.Label
		}
	}
	return sheet.NameOf(d, path)
}
