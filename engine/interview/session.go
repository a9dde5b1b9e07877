package interview

import (
	"plumbline/engine"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Options are what an interview is about.
type Options struct {
	// File names the design, Text is what it holds so far: at least its edition.
	File string
	Text []byte
	// Load reads the design with what it names beside itself; nil reads it alone.
	Load func(file string, text []byte) (*schema.Design, error)
	// Declared are the facts that packs declare.
	Declared *schema.Declared
	// Judge judges the design so far.
	Judge func(*schema.Design) *engine.Report
	// Units is the system examples are given in.
	Units quantity.System
	// Regions are the places there are rules for.
	Regions []Choice
	// CheckRegion refuses a region there are no rules for; any is taken when it is nil.
	CheckRegion func(name string) error
	// Standing says, by path, what holds while a fact is not stated: a shop's regions and stage.
	Standing map[string]string
	// Only names what is asked, in order, of a design as it stands; all that matters is asked where it is nil.
	Only func(*schema.Design, *engine.Report) []string
	// All asks a planned job also for what only a maker's sheet or a document tells.
	All bool
}

// Session is an interview under way.
type Session struct {
	o       Options
	text    []byte
	design  *schema.Design
	report  *engine.Report
	stated  map[string]stated
	names   map[string]string
	items   map[string]int
	skipped map[string]bool
	past    []past
	asking  *Question
	// offered are the readings of the last answer that would be taken.
	offered []string
	// again is set while an answer may state otherwise what is stated.
	again bool
}

// stated is what a design says of a part that may be absent, or of a list; open is one of which perhaps not all is named.
type stated struct{ known, absent, open bool }

// past is what an answer can be taken back to.
type past struct {
	text    []byte
	asked   Question
	skipped bool
}

// Begin reads and judges the design so far. The error is of type document.Problems when the file has any.
func Begin(o Options) (*Session, error) {
	s := &Session{o: o, skipped: map[string]bool{}}
	design, err := s.load(o.Text)
	if err != nil {
		return nil, err
	}
	s.take(o.Text, design)
	s.advance()
	return s, nil
}

// Question is what is asked now; nil when nothing is left that was not answered or skipped.
func (s *Session) Question() *Question { return s.asking }

// Text is the design file as it stands.
func (s *Session) Text() []byte { return s.text }

// Design is the design as it stands, with what its templates state.
func (s *Session) Design() *schema.Design { return s.design }

// Report is how the design is judged as it stands.
func (s *Session) Report() *engine.Report { return s.report }

func (s *Session) load(text []byte) (*schema.Design, error) {
	if s.o.Load == nil {
		return schema.Load(s.o.File, text)
	}
	return s.o.Load(s.o.File, text)
}

// take makes a text and its design the state of the interview.
func (s *Session) take(text []byte, design *schema.Design) {
	s.text, s.design, s.report = text, design, s.o.Judge(design)
	s.stated, s.names, s.items = map[string]stated{}, map[string]string{}, map[string]int{}
	schema.WalkAll(design, func(v schema.Visit) {
		switch {
		case v.Optional != nil:
			s.stated[v.Path] = stated{known: v.Optional.Presence() != schema.NotStated, absent: v.Optional.Presence() == schema.Absent}
		case v.Listing != nil:
			s.stated[v.Path] = stated{known: v.Listing.Known() || v.Listing.Open(), open: v.Listing.Open()}
		case v.Reading != nil:
			s.visitFact(v)
		}
	})
}

// visitFact notes the names of items and how many a list has, and which facts are stated.
func (s *Session) visitFact(v schema.Visit) {
	s.stated[v.Path] = stated{known: schema.IsStated(v.Reading)}
	for at, step := range schema.Path(v.Path).Along() {
		if step.Item {
			list := string(at.Parent())
			s.items[list] = max(s.items[list], step.Index+1)
		}
	}
	if part := schema.Path(v.Path).Parent(); v.Key == "name" && part == part.Item() && v.Reading.Known() {
		s.names[string(part)] = v.Reading.Text()
	}
}

// advance chooses the next question.
func (s *Session) advance() {
	last := ""
	if s.asking != nil {
		last = s.asking.Path
	}
	s.asking = nil
	if s.o.Only != nil {
		s.advanceOnly()
		return
	}
	list := s.candidates()
	if len(list) > 0 && list[0].Decides > 0 {
		s.asking = s.question(stay(list, last))
		return
	}
	for _, path := range []string{titlePath, regionsPath, stagePath} {
		if !s.stated[path].known && !s.skipped[path] {
			s.asking = s.opening(path)
			return
		}
	}
	if len(list) > 0 {
		s.asking = s.question(stay(list, last))
	}
}

// advanceOnly chooses the next of what is asked alone: the first that is not stated and was not passed over.
func (s *Session) advanceOnly() {
	for _, missing := range s.o.Only(s.design, s.report) {
		if path := s.askable(missing); path != "" && !s.skipped[path] {
			s.asking = s.question(engine.Ranked{Path: path})
			return
		}
	}
}
