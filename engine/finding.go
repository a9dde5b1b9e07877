package engine

import (
	"slices"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Outcome is what one rule found on one subject.
type Outcome string

// The outcomes, worst first.
const (
	Fail          Outcome = "fail"
	Open          Outcome = "open"
	Warn          Outcome = "warn"
	Pass          Outcome = "pass"
	NotApplicable Outcome = "not applicable"
)

var outcomeOrder = []Outcome{Fail, Open, Warn, Pass, NotApplicable}

// Rank orders outcomes, the worst 0.
func (o Outcome) Rank() int { return slices.Index(outcomeOrder, o) }

var (
	stageOrder = []string{"planned", "ordered", "built", "started", "handed_over"}
)

// StageRank orders stages, the earliest 0; an unknown stage counts as planned.
func StageRank(stage string) int { return max(0, slices.Index(stageOrder, stage)) }

// StageBefore is the stage before one; the first for the first.
func StageBefore(stage string) string { return stageOrder[max(0, StageRank(stage)-1)] }

// Finding is one rule applied to one subject of one design.
type Finding struct {
	// Rule is the rule's full name: fuel/delivery.flow-at-full-load.
	Rule string `json:"rule"`
	// Title is the rule in words.
	Title string `json:"title"`
	// Part is the part of the vehicle it is listed under.
	Part    string  `json:"part"`
	Outcome Outcome `json:"outcome"`
	// Danger is what is at stake.
	Danger pack.Danger `json:"danger"`
	// Due is the stage from which an open or failing finding blocks.
	Due    string `json:"due"`
	Blocks bool   `json:"blocks"`
	// Subject is the path of what was judged, SubjectName its name in the design.
	Subject     string `json:"subject"`
	SubjectName string `json:"subject_name,omitempty"`
	// Place is where in the design file to look.
	Place schema.Place `json:"place"`
	// Text says what was found, Remedy what to do about it.
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
	// Sense is true when the rule is a check of sense; Likely are the slips that would explain its warning.
	Sense  bool     `json:"sense,omitempty"`
	Likely []Likely `json:"likely,omitempty"`
	// Cause is the one stated fact that explains this warning of a check of sense and others of the design.
	Cause *Cause `json:"cause,omitempty"`
	// Measured is the value a numeric rule bounds, Bounds what bounds it.
	Measured *Number      `json:"measured,omitempty"`
	Bounds   []BoundFound `json:"bounds,omitempty"`
	// Because are the grounds of the rule and of the limits it used.
	Because []rule.Ground `json:"because"`
	// Missing are the facts an open finding waits for, Unreachable the reasons
	// that are not missing facts.
	Missing     []string `json:"missing,omitempty"`
	Unreachable []string `json:"unreachable,omitempty"`
	// Fault is the slip of the pack for which the rule could not be judged; such a finding is in no report.
	Fault *document.Problem `json:"-"`
	// Leaning is what an open finding would become with what is usual.
	Leaning *Leaning `json:"leaning,omitempty"`
	// Still are the facts it would lack even with what is usual.
	Still []string `json:"-"`
	// Numeric is set for a rule that bounds a number.
	Numeric bool `json:"-"`
	// Stated is set for a rule that holds stated facts against each other.
	Stated bool `json:"-"`
	// Wanting is what it becomes if nothing is fitted but what was named, where that breaks the rule.
	Wanting *Wanting `json:"wanting,omitempty"`
	// Ranged is set when it was decided all over the ranges the design states.
	Ranged bool `json:"ranged,omitempty"`
	// Assumed are the facts that were assumed.
	Assumed []string `json:"assumed,omitempty"`
	// Doubts are the computed values it rests on that a measurement contradicts.
	Doubts []Doubt `json:"doubts,omitempty"`
	// Facts are the stated facts that were read, Derived the derived values.
	Facts   []FactRead    `json:"facts,omitempty"`
	Derived []DerivedRead `json:"derived,omitempty"`
	// Absent is the part whose absence makes a rule not applicable.
	Absent string `json:"absent,omitempty"`
	// Region is the region a rule belongs to, Consequence what the rule is there
	// (duty, inspection or advice), KnownFrom how it is known when no text of it was read (page or memory), Confirm what
	// to confirm and with whom.
	Region      string `json:"region,omitempty"`
	Consequence string `json:"consequence,omitempty"`
	KnownFrom   string `json:"known_from,omitempty"`
	Confirm     string `json:"confirm,omitempty"`
	// Conceded is set when a concession covers the finding.
	Conceded *Conceded `json:"conceded,omitempty"`
	// rests are the facts it rests on, down through derived values; noted only for a leaning.
	rests *facts
	// place are the figures it came out by.
	place *placed
	// Which is the place of the remedy among those of the rule.
	Which int `json:"-"`
}

// Likely is a slip that would explain what makes no sense: what a fact was perhaps meant to be.
type Likely struct {
	Path string `json:"path"`
	// Stated is the text in the design, Meant what would fit.
	Stated string       `json:"stated"`
	Meant  string       `json:"meant"`
	Place  schema.Place `json:"place"`
}

// Cause is one stated fact that explains several checks of sense.
type Cause struct {
	Path   string       `json:"path"`
	Stated string       `json:"stated"`
	Place  schema.Place `json:"place"`
	// Meant are the slips that would explain the most of them, the best first; none where no slip explains any.
	Meant []string `json:"meant,omitempty"`
}

// Number is a value with its unit, in SI and as text.
type Number struct {
	Text string `json:"text"`
	// Value is in SI units, or plain when Dimension is empty.
	Value     float64 `json:"value"`
	Dimension string  `json:"dimension,omitempty"`
}

// BoundFound is one bound on the measured value.
type BoundFound struct {
	// Of is must or should.
	Of string `json:"of"`
	// Op is at_least, at_most, more_than or less_than.
	Op    string `json:"op"`
	Bound Number `json:"bound"`
	Met   bool   `json:"met"`
	// Margin is how far inside the bound the value is, as a fraction of the
	// bound, negative outside; absent where a fraction means nothing (temperatures, zero bounds).
	Margin *float64 `json:"margin,omitempty"`
}

// Ground is one reason, with the standing of its source.
type Ground = rule.Ground

// FactRead is a fact a finding rests on.
type FactRead struct {
	Path  string       `json:"path"`
	Text  string       `json:"text"`
	Place schema.Place `json:"place"`
}

// DerivedRead is a derived value a finding rests on.
type DerivedRead struct {
	Path string `json:"path"`
	Text string `json:"text"`
}

// Conceded says who allowed a finding to stay.
type Conceded struct {
	Reason string       `json:"reason"`
	By     string       `json:"granted_by"`
	Until  string       `json:"until"`
	Place  schema.Place `json:"place"`
}

// Question is a missing fact that keeps rules open.
type Question struct {
	// Path of the fact.
	Path string `json:"path"`
	// Ask is what to find out, Example how to write it.
	Ask     string `json:"ask"`
	Example string `json:"example,omitempty"`
	// Stated is the range that the design states, as written: the question is to narrow it.
	Stated string `json:"stated,omitempty"`
	// Complete names a list of which something is named: the question is whether that is all.
	Complete string `json:"complete,omitempty"`
	// Words are the possible answers, when the fact is a word.
	Words []string `json:"words,omitempty"`
	// Field is what stands at the path, for words about it.
	Field schema.FieldInfo `json:"-"`
	// Danger is the worst danger among the rules it keeps open.
	Danger pack.Danger `json:"danger"`
	// Rules are the rules it keeps open, Alone those it would settle by itself.
	Rules []string `json:"rules"`
	Alone int      `json:"alone"`
}

// AssumptionUsed is a value that stood in for a fact.
type AssumptionUsed struct {
	Path    string        `json:"path"`
	Value   string        `json:"value"`
	Because []rule.Ground `json:"because"`
	// Findings is the number of findings that rest on it.
	Findings int `json:"findings"`
}

// Report is everything found in one design.
type Report struct {
	// File is the design's file, Title its title, Stage its stage.
	File     string           `json:"file"`
	Title    string           `json:"title,omitempty"`
	Stage    string           `json:"stage"`
	Regions  []RegionJudged   `json:"regions,omitempty"`
	Findings []Finding        `json:"findings"`
	Asked    []Question       `json:"questions"`
	Assumed  []AssumptionUsed `json:"assumptions"`
	// Loosened are the limits and rules that local packs made milder.
	Loosened []Loosened `json:"loosened,omitempty"`
	// Overridden are the limits and tables that have other values where the design is used.
	Overridden []Overridden `json:"overridden,omitempty"`
	// Shelved are the parts of the design that are parts of the shelf, with what the design states itself although its part says otherwise.
	Shelved []*schema.Shelved `json:"-"`
	// Faults are the slips of packs that showed while the design was judged: what a rule says that broke is not in the findings.
	Faults document.Problems `json:"faults,omitempty"`
	// Unread are stated facts that nothing read, when that was asked for.
	Unread []FactRead `json:"unread,omitempty"`
	// Cautions are the warnings for whoever mends what was found.
	Cautions []CautionFound `json:"cautions,omitempty"`
	// decides is what decides on the parts of a planned job, by path.
	decides map[string]*hanging
	bench   *Bench
	// declared are the facts that packs declare.
	declared *schema.Declared
}

// Declared are the facts that packs declare beside the schema's own.
func (r *Report) Declared() *schema.Declared { return r.declared }

// TakeBench hands over the design made ready to be judged with other values of its Things; nil where the options named none. It is
// large: the report does not keep it.
func (r *Report) TakeBench() *Bench {
	b := r.bench
	r.bench = nil
	return b
}

// Count returns the number of findings with an outcome.
func (r *Report) Count(o Outcome) int {
	n := 0
	for i := range r.Findings {
		if r.Findings[i].Outcome == o {
			n++
		}
	}
	return n
}

// Blocking returns the number of findings that block.
func (r *Report) Blocking() int {
	n := 0
	for i := range r.Findings {
		if r.Findings[i].Blocks {
			n++
		}
	}
	return n
}
