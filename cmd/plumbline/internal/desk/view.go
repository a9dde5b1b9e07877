package desk

import (
	"slices"
	"sync"

	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/engine/interview"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// View is a job at a revision. What it holds must not be changed. What is worked out on asking is worked out once.
type View struct {
	// Name is the file in the folder, Revision counts its changes.
	Name     string
	Revision int
	// Title and Stage are the design's, Headline answers whether the next step may be taken: "Do not order: 2 parts are wrong".
	Title, Stage, Headline string
	// Counts are the findings by their outcome, Blocking those that stand against the next step.
	Counts   map[engine.Outcome]int
	Blocking int
	// Text is the file as it stands, Design what it says, Report how that is judged. All of them are of the last text that could be
	// read where Problems are told.
	Text   []byte
	Design *schema.Design
	Report *engine.Report
	// Units is the system numbers are told in.
	Units quantity.System
	// Problems say why the file cannot be read as it is now; edits are refused then.
	Problems document.Problems
	// Undo and Redo name what would be taken back, and made again; "" for nothing.
	Undo, Redo string
	// ReadOnly is set for a design that is shown only.
	ReadOnly bool

	desk    *Desk
	options engine.Options
	slip    *sheet.Slip

	mu sync.Mutex
	// session asks; it is not changed, but not made for many at once.
	session   *interview.Session
	questions []*interview.Question
	asked     bool
	job       *sheet.Job
	papers    map[string]*sheet.Paper
	sized     *sheet.Slip
	readings  []sheet.ToRead
	diagnoses map[string]*diagnose.Diagnosis
}

// viewOf is the view of a state.
func (j *Job) viewOf(s *interview.Session) *View {
	d, r := s.Design(), s.Report()
	v := &View{Name: j.name, Stage: r.Stage, Title: r.Title, Text: s.Text(), Design: d, Report: r, Counts: map[engine.Outcome]int{}, Blocking: r.Blocking(),
		desk: j.desk, options: j.desk.work.Options(d, j.desk.o.Units), session: s.Clone(), papers: map[string]*sheet.Paper{}, diagnoses: map[string]*diagnose.Diagnosis{}}
	v.Units = v.options.Units
	for i := range r.Findings {
		v.Counts[r.Findings[i].Outcome]++
	}
	v.slip = sheet.SlipOf(d, r, nil)
	v.Headline = headline(r, v.slip)
	return v
}

// headline is the first line of the slip of a planned job, or of the job sheet.
func headline(r *engine.Report, slip *sheet.Slip) string {
	if r.Stage != "planned" {
		slip = nil
	}
	return report.Headline(r, slip)
}

// Slip is the answer for the counter, without sizes that would do: Buy tells those. It is what is told of a planned job first.
func (v *View) Slip() *sheet.Slip { return v.slip }

// Papers are the kinds of papers there are.
func (v *View) Papers() []sheet.Kind { return sheet.Kinds() }

// Paper is one of the papers; nil for a name that is none.
func (v *View) Paper(name string) *sheet.Paper {
	v.mu.Lock()
	defer v.mu.Unlock()
	if p := v.papers[name]; p != nil {
		return p
	}
	p := sheet.Make(name, v.paperJob())
	if p != nil {
		v.papers[name] = p
	}
	return p
}

// allowance is what is added to every wire and hose that is cut, as plumbline sheet adds it.
var allowance = quantity.MustNew(0.1, quantity.DimLength)

// paperJob is what the papers are made of; mu is held.
func (v *View) paperJob() *sheet.Job {
	if v.job == nil {
		o := v.options
		if o.Units == quantity.Both { // a paper is in one system
			o.Units = quantity.Metric
		}
		v.job = shop.Papers(v.desk.work.Library.Library, v.Design, v.Report, o, v.desk.work.Now())
		v.job.Allowance = allowance
		v.job.Diagnose = func() *diagnose.Diagnosis { return v.diagnosis(nil) }
	}
	return v.job
}

// mostAsked is how many questions are asked at a time.
const mostAsked = 3

// Questions are at most three facts to find out, those first whose answer can change the decision most. What was passed over by
// Skip comes after the rest.
func (v *View) Questions() []*interview.Question {
	v.mu.Lock()
	defer v.mu.Unlock()
	if !v.asked {
		v.questions, v.asked = v.session.First(mostAsked), true
	}
	return v.questions
}

// Question asks for any fact, part or list at a path, stated or not, and with [] behind it for one more item of a list; nil where
// nothing can be answered.
func (v *View) Question(path string) *interview.Question {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.session.About(path)
}

// Skipped reports whether a question was passed over.
func (v *View) Skipped(path string) bool { return v.session.Skipped(path) }

// Own reports whether the design's own file states what stands at a path, so that it can be cleared.
func (v *View) Own(path string) bool { return v.session.Own(path) }

// Buy is one thing to buy.
type Buy struct {
	// Subject is where it belongs, Name what stands there now; "" for what nobody named.
	Subject, Name string
	// Why says what is wrong without it, Do what to buy. Holds says how far that holds: whatever the rest is, or with what is usual.
	Why, Do, Holds string
	// Sizes are those that would do; none where it is no matter of sizes.
	Sizes []whatif.Instead
	// Rules decided it.
	Rules []string
}

// Buy are the things to buy: first what must be bought instead of what is in hand, then what is not in hand. The sizes that would do
// are searched for, which takes as long as judging some times.
func (v *View) Buy() []Buy {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.sized == nil {
		o := v.options
		o.Things = whatif.Things(v.Design, v.desk.work.Sizes)
		v.sized = v.slip
		if len(o.Things) > 0 {
			r := v.desk.work.Library.Judge(v.Design, o)
			v.sized = sheet.SlipOf(v.Design, r, whatif.NewSizer(v.Design, v.desk.work.Sizes, r))
		}
	}
	return buys(v.sized)
}

// BuyQuickly is Buy without the sizes that would do, which takes no time.
func (v *View) BuyQuickly() []Buy { return buys(v.slip) }

func buys(s *sheet.Slip) []Buy {
	var out []Buy
	for _, p := range s.Parts {
		if p.Do != "" && p.Word != sheet.OK {
			out = append(out, Buy{Subject: p.Subject, Name: p.Name, Why: p.Text, Do: p.Do, Holds: p.Holds, Sizes: p.Instead, Rules: p.Rules})
		}
	}
	for _, w := range s.Add {
		out = append(out, Buy{Subject: w.Subject, Why: w.Text, Do: w.Do, Rules: w.Rules})
	}
	return out
}

// NotLooked are the parts of the vehicle that nothing was said about.
func (v *View) NotLooked() []string { return v.slip.NotLooked }

// Readings are what can be measured of this vehicle, in the order of the start-up sheet, with what was and what its band makes of it.
func (v *View) Readings() []sheet.ToRead {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.readings == nil {
		v.readings = sheet.Readings(v.paperJob())
	}
	return v.readings
}

// Diagnosis is what the readings point to, and what to measure next. Signs are the ids of those seen, as the library lists them; one
// that it does not know is left out.
func (v *View) Diagnosis(signs ...string) *diagnose.Diagnosis {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.diagnosis(signs)
}

func (v *View) diagnosis(signs []string) *diagnose.Diagnosis {
	known := v.desk.work.Library.Signs()
	signs = slices.DeleteFunc(slices.Clone(signs), func(id string) bool {
		return !slices.ContainsFunc(known, func(s engine.Sign) bool { return s.ID == id })
	})
	slices.Sort(signs)
	signs = slices.Compact(signs)
	key := ""
	for _, id := range signs {
		key += id + "\n"
	}
	if d := v.diagnoses[key]; d != nil {
		return d
	}
	d := diagnose.Run(v.desk.work.Library.Library, v.Design, v.options, signs...)
	if len(v.diagnoses) < 16 { // what somebody tries out is not kept without end
		v.diagnoses[key] = d
	}
	return d
}

// Signs are what may be seen, heard or smelled, for Diagnosis.
func (d *Desk) Signs() []engine.Sign { return d.work.Library.Signs() }

// Slide tells how far some numbers may move before the first finding turns: facts, or all of parts; for no path power, blend, altitude
// and heat.
func (v *View) Slide(paths ...string) whatif.Headroom {
	lib := v.desk.work.Library.Library
	if len(paths) == 0 {
		return whatif.Headlines(lib, v.Design, v.options, v.desk.numbers)
	}
	return whatif.Rooms(lib, v.Design, v.options, v.desk.numbers, v.desk.work.Sizes, paths)
}

// Sizes are the least that works at a place, or everywhere for "".
func (v *View) Sizes(path string) []whatif.Size {
	return whatif.Sizes(v.desk.work.Library.Library, v.Design, v.options, v.desk.work.Sizes, path)
}

// Fit are the parts of the shelf with which nothing is wrong at the places, at most so many for each; for no place those of what is
// wrong.
func (v *View) Fit(choices int, paths ...string) (*whatif.Fitting, error) {
	shelf, err := v.desk.work.Shelf()
	if err != nil {
		return nil, err
	}
	return whatif.Fit(v.desk.work.Library.Library, v.Design, v.options, shelf, v.desk.work.Sizes, whatif.FitOptions{Choices: choices, Of: paths}), nil
}
