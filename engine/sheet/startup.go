package sheet

import (
	"math"
	"strconv"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// startUpPaper is what is done and measured at the first start, in order, with gates that are signed.
func startUpPaper(m *maker) {
	m.paper.Use = "From the top down. Each figure is worked out for this vehicle. Fine: go on. Between fine and stop: find out why first. Stop: engine off, no further until it is mended. " +
		"No gate is passed before the one above it is signed."
	newStartUp(m)
}

// newStartUp goes through all steps.
func newStartUp(m *maker) *startUp {
	s := &startUp{maker: m, told: map[string]int{}, lacking: map[string]int{}}
	s.dry()
	s.cranking()
	s.running()
	s.road()
	return s
}

// startUp numbers the steps as they are added, and keeps what is measured in them; told and lacking are the steps at which it was said
// first what to do if not, and what is not known for want of what.
type startUp struct {
	*maker
	step     int
	table    *Table
	told     map[string]int
	lacking  map[string]int
	readings []taken
}

// taken is a reading of a step: what is expected of it, the band about it, and the fact that holds what was measured.
type taken struct {
	do        string
	expected  Cell
	expect    float64
	dimension quantity.Dimension
	band      band
	got       schema.Reading
	ifNot     string
}

// gate begins the steps before one gate.
func (s *startUp) gate(heading, caption string) {
	s.table = &Table{Caption: caption, Heads: []string{"step", "do", "expect", "fine", "stop", "got"}, NoteHead: "if not"}
	s.add(Block{Heading: heading, Table: s.table})
}

// sign ends them.
func (s *startUp) sign(text string) { s.paper.Blocks[len(s.paper.Blocks)-1].Sign = text }

// look is a step that is seen, not measured.
func (s *startUp) look(do, stop, ifNot string) {
	s.row(ifNot, Cell{Text: do}, Cell{}, Cell{}, Cell{Text: stop}, Cell{Tick: true})
}

// row adds a step; what to do if it is not so is told once.
func (s *startUp) row(ifNot string, cells ...Cell) {
	s.step++
	switch at, again := s.told[ifNot]; {
	case again && len(ifNot) > mostAgain:
		cells[0].Text, ifNot = cells[0].Text+" (if not: as at step "+strconv.Itoa(at)+")", ""
	default:
		s.told[ifNot] = s.step
	}
	s.table.Rows = append(s.table.Rows, Row{Cells: append([]Cell{{Text: strconv.Itoa(s.step)}}, cells...), Note: ifNot})
}

// mostAgain is how long a text may be that is told again.
const mostAgain = 60

// take keeps a reading.
func (s *startUp) take(t taken) { s.readings = append(s.readings, t) }

// measure is a step with a reading: what is expected, a band about it, where it was written already what was got, and what to do
// by the rule that judges it.
func (s *startUp) measure(do string, expect *derive.Result, of func(value float64) band, got schema.Reading, ifNot string) {
	value, known := expect.Value().(quantity.Value)
	if !known {
		text := "not known"
		if len(expect.Missing) > 0 {
			text += " without " + listOf(s.namesOf(expect.Missing), 2)
			if at, again := s.lacking[text]; again {
				text = "not known, as at step " + strconv.Itoa(at)
			} else {
				s.lacking[text] = s.step + 1
			}
		}
		// A band that does not hang on what is expected holds all the same.
		b, d := of(math.NaN()).clipped(got), quantity.None
		fine, stop := s.beside(of, expect)
		if b.none() || expect.Entry == nil {
			b = noBand()
		} else {
			d = expect.Entry.Dimension
			_, fine, stop = s.words(nil, d, b)
		}
		s.row(ifNot, Cell{Text: do}, Cell{Text: text, Unknown: true}, Cell{Text: fine}, Cell{Text: stop}, s.gotWithin(got, b))
		s.take(taken{do, Cell{Text: unknown, Unknown: true}, math.NaN(), d, b, got, ifNot})
		return
	}
	b := of(value.SI()).clipped(got)
	expected, fine, stop := s.words(&value, value.Dimension(), b)
	s.note(expected, expect.Path)
	s.row(ifNot, Cell{Text: do}, Cell{Text: expected}, Cell{Text: fine}, Cell{Text: stop}, s.gotWithin(got, b))
	s.take(taken{do, Cell{Text: expected}, value.SI(), value.Dimension(), b, got, ifNot})
}

// beside says of a band that hangs on what is not known yet how it will lie about it: so far from it, or such a part of it.
func (s *startUp) beside(of func(float64) band, expect *derive.Result) (fine, stop string) {
	if expect.Entry == nil {
		return "", ""
	}
	one, two := of(1), of(2)
	share := func(x float64) string {
		return s.note(strconv.FormatFloat(math.Round(math.Abs(x-1)*1000)/10, 'f', -1, 64)+" %", one.by...)
	}
	say := func(low, high, low2, high2 float64) string {
		switch {
		case math.IsNaN(low):
			return ""
		case math.Abs(low2-2*low) < 1e-9 && !math.IsNaN(high) && math.Abs(high2-2*high) < 1e-9:
			return share(low) + " under it to " + share(high) + " over it"
		case math.Abs(low2-low-1) < 1e-9:
			if q, err := quantity.New(1-low, expect.Entry.Dimension); err == nil {
				return s.note(q.Format(s.Units), one.by...) + " under it"
			}
		}
		return ""
	}
	if fine = say(one.fineLow, one.fineHigh, two.fineLow, two.fineHigh); fine != "" {
		fine = "up to " + fine
	}
	if stop = say(one.stopLow, one.stopHigh, two.stopLow, two.stopHigh); stop != "" {
		stop = "more than " + stop
	}
	return fine, stop
}

// against is a step whose band holds by itself, whatever is expected.
// What is written in its blank may state other facts than the one it is compared with: fills.
func (s *startUp) against(do, expect string, d quantity.Dimension, b band, got schema.Reading, ifNot string, fills ...schema.Reading) {
	_, fine, stop := s.words(nil, d, b)
	cell := s.gotWithin(got, b)
	if got == nil && len(fills) > 0 {
		cell = s.asWritten(fills)
	}
	s.row(ifNot, Cell{Text: do}, Cell{Text: expect}, Cell{Text: fine}, Cell{Text: stop}, cell)
	none := math.NaN()
	if expect == "none" || expect == "the same" {
		none = 0
	}
	if got != nil {
		s.take(taken{do, Cell{Text: expect}, none, d, b, got, ifNot})
	}
}

// asWritten is what was measured in more than one reading, or a place to write it.
func (s *startUp) asWritten(fills []schema.Reading) Cell {
	var texts, paths []string
	for _, f := range fills {
		if f.Known() {
			text := s.factText(f)
			if f.Path() == s.Design.Procedure.HeldPressure.Path() {
				text += " of the setting"
			}
			texts = append(texts, text)
		} else {
			paths = append(paths, f.Path())
		}
	}
	return Cell{Text: strings.Join(texts, " and "), Blank: len(paths) > 0, Fills: paths}
}

// got is what was measured already, or a place to write it.
func (s *startUp) got(f schema.Reading) Cell {
	switch {
	case f == nil:
		return Cell{Blank: true}
	case !f.Known():
		return Cell{Blank: true, Fills: []string{f.Path()}}
	}
	return Cell{Text: s.factText(f)}
}

// gotWithin is what was measured already, and what the band makes of it.
func (s *startUp) gotWithin(f schema.Reading, b band) Cell {
	c := s.got(f)
	if c.Blank {
		return c
	}
	if q, ok := f.Any().(interface{ SI() float64 }); ok {
		if word := b.says(q.SI()); word != "" {
			c.Text += ": " + word
		}
	}
	return c
}

// mend is what the rule says to do: of a rule that tells too much from too little both.
func (s *startUp) mend(name string) string {
	r := s.rule(name)
	if r == nil || len(r.Mend) == 0 {
		return ""
	}
	last := r.Mend[len(r.Mend)-1].Text
	text := last
	if len(r.Mend) == 2 && strings.Contains(r.Mend[0].When.Text, ">") {
		text = eitherWay(r.Mend[0].Text, last)
	}
	if strings.Contains(text, "{") {
		return "" // it speaks of a finding that is not there yet
	}
	return text
}

// eitherWay says what to do where it is too high and where too low, what both begin with once.
func eitherWay(high, low string) string {
	a, b := strings.SplitAfter(high, ". "), strings.SplitAfter(low, ". ")
	n := 0
	for n < len(a)-1 && n < len(b)-1 && a[n] == b[n] {
		n++
	}
	rest := func(sentences []string) string {
		text := strings.TrimSpace(strings.Join(sentences, ""))
		return strings.TrimPrefix(text, "Then ") // begins anew
	}
	return strings.Join(a[:n], "") + "Too high: " + rest(a[n:]) + " Too low: " + rest(b[n:])
}

// scaled is so many volts of a 12 V system in this one.
func (s *startUp) scaled(volts float64) float64 {
	if of, ok := s.Design.Battery.SystemVoltage.Get(); ok {
		return volts * of.SI() / 12
	}
	return math.NaN()
}
