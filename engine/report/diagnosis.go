package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/words"
)

// Diagnosis writes what readings say of a vehicle.
func Diagnosis(w io.Writer, d *schema.Design, x *diagnose.Diagnosis, o TextOptions) error {
	s := &diagnosis{Printer: NewPrinter(w, o.Width, o.Colour), design: d, found: x, verbose: o.Verbose, told: map[string]bool{}, cared: map[string]bool{}}
	s.print()
	return s.Flush()
}

type diagnosis struct {
	*Printer
	design  *schema.Design
	found   *diagnose.Diagnosis
	verbose bool
	// told are the troubles told at length, cared the cautions told.
	told, cared map[string]bool
	// sharpened is set once it was told what to state.
	sharpened bool
}

func (s *diagnosis) print() {
	if len(s.found.Held) == 0 && len(s.found.Seen) == 0 {
		s.Heading(s.found.Verdict())
		s.skipped()
		if len(s.found.Skipped) == 0 {
			s.next("Begin with these, the cheap and safe ones first")
		}
		s.rest()
		return
	}
	s.Heading(clean(s.found.Verdict()))
	s.slips()
	s.do()
	if len(s.found.Seen) > 0 {
		s.Blank()
		s.Para(0, 0, "Signs seen: "+clean(strings.Join(s.found.Seen, "; "))+". A sign is no reading: it sorts what the readings leave.")
	}
	if len(s.found.Held) > 0 {
		s.readings()
	}
	s.bySigns()
	s.candidates()
	s.unseen()
	s.usual()
	s.skipped()
	s.Blank()
	s.Para(0, 0, "How it is ranked: each trouble's one size is fitted to all readings, each weighed by what the instrument may be off and what sound vehicles scatter. "+
		"A trouble has to fit better than the sound vehicle by more than chance gives to one of so many tried, and two together better still.")
	s.rest()
}

// slips asks whether a reading was meant in another unit, before anything is mended by it.
func (s *diagnosis) slips() {
	for i := range s.found.Held {
		if h := &s.found.Held[i]; h.Meant != "" {
			s.Para(0, 0, fmt.Sprintf("First look at %s again: was %s meant where %s is written? That would be as in a sound vehicle.", clean(h.Title), clean(h.Meant), clean(h.Measured.Text)))
		}
	}
}

// do is what to do next, before all that explains it: measure what tells the first candidates apart, or make sure of the one that is
// left.
func (s *diagnosis) do() {
	first := &s.found.Candidates[0]
	if !s.found.Explained {
		s.Blank()
		s.Heading("Do first")
		for _, t := range s.found.BySigns[:min(1, len(s.found.BySigns))] {
			s.care(t.Cautions, mostCared)
			s.Para(indent, inner, "By its signs it may be "+uncapital(clean(t.Title))+". Make sure: "+clean(t.Confirm))
		}
		s.Para(indent, inner, "Take the readings that stand out again with a second instrument, and hold what the design states of their parts against the parts.")
	}
	switch {
	case len(s.found.Next) > 0:
		s.next("Measure next")
	case s.found.Explained && len(first.Troubles) > 0:
		s.Blank()
		s.Heading("Do next")
		if s.found.Apart > 1 {
			s.Para(indent, inner, "No reading known here tells these apart: go by what is said of making sure, in the order below.")
		}
		for _, t := range first.Troubles {
			s.care(t.Cautions, mostCared)
			s.Para(indent, inner, "Make sure: "+clean(t.Confirm))
		}
	case s.found.Explained && s.found.Stretched():
		s.Blank()
		s.sharpen()
	}
}

// bySigns tells the troubles that the signs speak for and that no reading is worked out with.
func (s *diagnosis) bySigns() {
	if len(s.found.BySigns) == 0 {
		return
	}
	s.Blank()
	s.Heading("By its signs it may be")
	for _, t := range s.found.BySigns {
		s.care(t.Cautions, mostCared)
		s.Para(indent, inner, capital(clean(t.Title))+". No reading is worked out with it.")
		s.atLength(&t)
	}
}

// care tells cautions that were not told before, up to most.
func (s *diagnosis) care(list []engine.CautionFound, most int) {
	for _, c := range list {
		if !s.cared[c.Text] && most > 0 {
			s.cared[c.Text] = true
			most--
			s.Para(indent, inner, "Take care. "+clean(c.Text))
		}
	}
}

// rest tells the cautions that were not told yet.
func (s *diagnosis) rest() {
	var left []engine.CautionFound
	for _, c := range s.found.Cautions {
		if !s.cared[c.Text] {
			left = append(left, c)
		}
	}
	s.cautions(left)
}

// readings tells those that are not as in a sound vehicle, or all.
func (s *diagnosis) readings() {
	var list []string
	beside := s.beside()
	for i := range s.found.Held {
		if text := held(&s.found.Held[i], i == beside, s.verbose); text != "" {
			list = append(list, text)
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

// beside is the reading that stands out most beside the others, where none does by itself; -1 for none.
func (s *diagnosis) beside() int {
	at, most := -1, 1.0
	for i, h := range s.found.Held {
		if math.Abs(h.Off) > 1 {
			return -1
		}
		if h.Beside != nil && math.Abs(h.Beside.Off) > most {
			at, most = i, math.Abs(h.Beside.Off)
		}
	}
	return at
}

// held tells a reading that is not as in a sound vehicle, by itself or beside the others; one that only the spread of what is usual
// explains is said to be so.
func held(h *diagnose.Held, beside, verbose bool) string {
	text := fmt.Sprintf("%s: %s measured, %s in a sound vehicle, give or take %s", capital(clean(h.Title)), h.Measured.Text, h.Sound.Text, h.Margin.Text)
	switch {
	case beside:
		return fmt.Sprintf("%s: %s measured; a sound vehicle with the other readings would show %s, give or take %s", capital(clean(h.Title)), h.Measured.Text, h.Beside.Sound.Text, h.Beside.Margin.Text)
	case math.Abs(h.Off) > 1 && h.Own != nil:
		return text + ", what is usual counted"
	case math.Abs(h.Off) > 1:
		return text
	case h.Own != nil && math.Abs(h.Measured.Value-h.Sound.Value) > h.Own.Value:
		return text + ": what nobody stated can explain it"
	case verbose:
		return text
	}
	return ""
}

// mostRefuted is how many troubles are told that would explain what stands out if another reading did not speak against them: whoever
// suspects them reads why not.
const mostRefuted = 3

// candidates tells the first ones at length, those alike together, of the others in a line each the sound vehicle, and those that
// come halfway from it; with --verbose all.
func (s *diagnosis) candidates() {
	told := s.found.Apart
	if !s.found.Explained {
		told = min(3, len(s.found.Candidates))
	}
	s.Blank()
	s.Heading(map[bool]string{true: "What explains it", false: "What comes nearest"}[s.found.Explained])
	sound, refuted := s.found.Sound(), 0
	alike := map[int]bool{}
	for i := range s.found.Candidates {
		c := &s.found.Candidates[i]
		if alike[i] {
			continue
		}
		if same := s.found.Same(i); i < told && len(same) > 1 && s.found.Explained {
			for _, k := range same {
				alike[k] = true
			}
			s.group(same)
			continue
		}
		if s.idle(i) && !s.verbose {
			continue
		}
		if i < told {
			s.candidate(i+1, c)
			continue
		}
		halfway := len(c.Troubles) > 0 && sound != nil && c.Misfit < sound.Misfit/2 && refuted < mostRefuted
		if halfway {
			refuted++
		}
		if s.verbose || halfway || len(c.Troubles) == 0 && s.found.Candidates[0].Troubles != nil {
			s.Para(indent, inner, fmt.Sprintf("Less likely: %s%s.", clean(c.Called()), misfits(c)))
		}
	}
}

// idle reports whether a second trouble of a candidate explains next to nothing that the first does not by itself.
func (s *diagnosis) idle(i int) bool {
	c := &s.found.Candidates[i]
	if len(c.Troubles) != 2 || i == 0 {
		return false
	}
	return slices.ContainsFunc(s.found.Candidates, func(x diagnose.Candidate) bool {
		return len(x.Troubles) == 1 && (x.Troubles[0].ID == c.Troubles[0].ID || x.Troubles[0].ID == c.Troubles[1].ID) && c.Misfit > idleShare*x.Misfit
	})
}

// idleShare is the share of its misfit that a second trouble has to take away at least to be told.
const idleShare = 0.8

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
	s.Para(indent, inner, fmt.Sprintf("%d. %s%s.", number, capital(clean(c.Called())), misfits(c)))
	s.shows(c)
	for _, t := range c.Troubles {
		s.atLength(&t)
	}
}

// shows tells what a candidate would show.
func (s *diagnosis) shows(c *diagnose.Candidate) {
	var shows []string
	for _, x := range c.Shows {
		if x.Value.Text != "" {
			shows = append(shows, fmt.Sprintf("%s %s", clean(x.Title), x.Value.Text))
		}
	}
	if len(shows) > 0 && len(c.Troubles) > 0 {
		s.Para(inner, inner, "It would show: "+strings.Join(shows, "; ")+".")
	}
}

// atLength tells all there is to a trouble, once.
func (s *diagnosis) atLength(t *diagnose.Fitted) {
	if s.told[t.ID] {
		return
	}
	s.told[t.ID] = true
	s.Para(inner, inner, "Signs: "+clean(t.Signs))
	for _, x := range t.Tells {
		s.Para(inner, inner, fmt.Sprintf("Against %s: %s.", uncapital(clean(x.Title)), clean(x.Text)))
	}
	s.Para(inner, inner, "To make sure: "+clean(t.Confirm))
	s.Para(inner, inner, "Mend: "+clean(t.Mend))
}

// mostCared is how many cautions are told before one measurement.
const mostCared = 2

// next tells what to measure, before each what to take care of.
func (s *diagnosis) next(heading string) {
	if len(s.found.Next) == 0 {
		return
	}
	s.Blank()
	s.Heading(heading)
	for _, m := range s.found.Next {
		s.care(m.Cautions, mostCared)
		text := capital(clean(m.Title)) + ". " + clean(m.How)
		if m.Danger != "" {
			text += " Danger: " + m.Danger + "."
		}
		s.Para(indent, inner, text)
		if would := would(&m); would != "" {
			s.Para(inner, inner, "It shows with "+would+".")
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
