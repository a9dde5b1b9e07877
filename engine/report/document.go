package report

import "plumbline/engine/sheet"

// Document is the JSON report: the designs judged in one run, the program and
// the library that judged them.
type Document struct {
	// Edition of this format; this program writes 2.
	Format int `json:"format"`
	// The program.
	Program Program `json:"program"`
	// The rule library.
	Library Library `json:"library"`
	// What goes before every rule and is left to others.
	LocalCodes string `json:"local_codes,omitempty"`
	// One report per design that could be read, in the order they were named.
	Reports []Report `json:"reports"`
	// The rules of the findings told at length, by their full names.
	Rules map[string]Rule `json:"rules"`
	// What could not be judged, and why.
	Problems []Problem `json:"problems"`
	// Set when the designs were compared with a stored report.
	Since *Since `json:"since,omitempty"`
}

// Rule is what all findings of one rule share.
type Rule struct {
	// The rule in words.
	Title string `json:"title"`
	// Part of the vehicle.
	Part string `json:"part"`
	// What is at stake.
	Danger string `json:"danger" jsonschema:"enum=fire,enum=poisoning,enum=loss_of_control,enum=shock,enum=burn,enum=engine,enum=none"`
	// Stage from which an open or failing finding stops the job.
	Due string `json:"due" jsonschema:"enum=planned,enum=ordered,enum=built,enum=started,enum=handed_over"`
	// It is a check of sense: what it reads is to be looked at again.
	Sense bool `json:"sense,omitempty"`
	// Why: the grounds of the rule and of its figures; absent while all its findings are open.
	Because []Reason `json:"because,omitempty"`
	// Region the rule belongs to.
	Region string `json:"region,omitempty"`
	// What the rule is in its region.
	Consequence string `json:"consequence,omitempty" jsonschema:"enum=duty,enum=inspection,enum=advice"`
	// How it is known when no text of it was read: from a page about it, or from memory.
	KnownFrom string `json:"known_from,omitempty" jsonschema:"enum=page,enum=memory"`
	// What to confirm, and with whom.
	Confirm string `json:"confirm,omitempty"`
}

// Problem is one reason why a design could not be judged.
type Problem struct {
	// The design, as it was named.
	Design string `json:"design"`
	// File with the fault: the design's own or one it is based on; absent when no place in a file is at fault.
	File string `json:"file,omitempty"`
	// Line, from 1.
	Line int `json:"line,omitempty"`
	// Column in characters, from 1.
	Column int `json:"column,omitempty"`
	// Path of the fact in the design.
	Path string `json:"path,omitempty"`
	// The offending text.
	Text string `json:"text,omitempty"`
	// What is wrong and what to write.
	Message string `json:"message"`
}

// Program is the program that judged.
type Program struct {
	// Its name.
	Name string `json:"name"`
	// Its version.
	Version string `json:"version"`
}

// Library is the set of packs a design was judged against.
type Library struct {
	// SHA-256 over the names and bytes of its files; absent when not known.
	Digest string `json:"digest,omitempty"`
	// Its packs, by name.
	Packs []Pack `json:"packs"`
}

// Pack is one pack of the library.
type Pack struct {
	// Name, such as fuel/delivery.
	Name string `json:"name"`
	// Title in plain words.
	Title string `json:"title"`
	// Edition; it rises with every change of meaning.
	Edition int `json:"edition"`
	// Number of rules.
	Rules int `json:"rules"`
}

// Report is what was found in one design.
type Report struct {
	// File of the design.
	File string `json:"file"`
	// Title of the design.
	Title string `json:"title,omitempty"`
	// Stage of the job it was judged at.
	Stage string `json:"stage"`
	// Regions it was judged for, the wider ones first.
	Regions []Region `json:"regions,omitempty"`
	// Number of findings by outcome.
	Counts Counts `json:"counts"`
	// The answer for the counter, while the job is planned.
	Slip *sheet.Slip `json:"slip,omitempty"`
	// Where open findings lean with what is usual of what nobody stated; they stay open.
	Leanings []Leaning `json:"leanings,omitempty"`
	// The patterns the usual values of the leanings are from.
	Patterns []string `json:"patterns,omitempty"`
	// Facts that nobody stated and that the leanings take as usual, [] for any item of a list.
	Usual []string `json:"usual,omitempty"`
	// The findings, the worst first: those that are wrong or doubtful or stop the job, and with --verbose all others.
	Findings []Finding `json:"findings"`
	// What else was judged; for an open one the questions say what is missing.
	Rest []Judged `json:"rest,omitempty"`
	// Names of the parts that were judged, by their paths.
	Names map[string]string `json:"names,omitempty"`
	// The stated facts that the findings read, by their paths.
	Facts map[string]Fact `json:"facts,omitempty"`
	// The derived values that the findings used, as printed, by their names.
	Derived map[string]string `json:"derived,omitempty"`
	// Missing facts, the most useful to know first.
	Questions []Question `json:"questions"`
	// Values that stood in for missing facts.
	Assumptions []Assumption `json:"assumptions"`
	// Parts that are named and taken from the shelf.
	Shelf []Shelved `json:"shelf,omitempty"`
	// Stated facts that nothing read.
	Unread []string `json:"unread,omitempty"`
	// Warnings for whoever does the work.
	Cautions []Caution `json:"cautions,omitempty"`
	// Limits and rules that local packs made milder.
	Loosened []Loosened `json:"loosened,omitempty"`
	// Limits and tables that have other values where the design is used.
	Overridden []Overridden `json:"overridden,omitempty"`
	// Number of findings by what became of them since a stored report.
	Changes *Changes `json:"changes,omitempty"`
	// Findings of the stored report that are mended, if only in part.
	Mended []Mended `json:"mended,omitempty"`
}

// Leaning is what an open finding would become with any usual value of what is not stated. It is no outcome.
type Leaning struct {
	// Full name of the rule.
	Rule string `json:"rule"`
	// Path of what is judged.
	Subject string `json:"subject"`
	// The way it leans; turns: it depends on where between its usual ends a value lies.
	Lean string `json:"lean" jsonschema:"enum=would pass,enum=would warn,enum=would fail,enum=turns"`
	// What would be found where it decides: at best for one that would fail, with all usual values for one that turns and
	// comes out badly with them, else at the point nearest to turning.
	Text string `json:"text"`
	// What to do about it, where it would not pass there.
	Remedy string `json:"remedy,omitempty"`
	// What would be found with all usual values.
	AtUsual string `json:"at_usual"`
	// The value there, and its ends over all points tried, as printed.
	Measured string `json:"measured,omitempty"`
	Low      string `json:"low,omitempty"`
	High     string `json:"high,omitempty"`
	// The patterns it is from, where they are not those of the report.
	Patterns []string `json:"patterns,omitempty"`
	// How many points were tried.
	Points int `json:"points"`
}

// Judged are rules with what each of them judged and has nothing to say of now: the paths of what meets it, of what it does
// not apply to and of what it cannot judge yet.
type Judged struct {
	// Full names of the rules.
	Rules []string `json:"rules"`
	// What meets each of them.
	Met []string `json:"met,omitempty"`
	// What they do not apply to.
	NotApplicable []string `json:"not_applicable,omitempty"`
	// What they cannot judge yet, which does not stop the job.
	Open []string `json:"open,omitempty"`
}

// Region is a place with rules of its own.
type Region struct {
	// Its name.
	Name string `json:"name"`
	// What it is called.
	Title string `json:"title"`
	// Which date or year decides what rules hold.
	DecidedBy string `json:"decided_by"`
	// What to confirm, and with whom.
	Confirm string `json:"confirm"`
	// Number of its own rules, those of wider regions not counted.
	Rules int `json:"rules"`
	// Those of them that concern this vehicle, or may.
	Concern int `json:"concern"`
	// Those not met, in doubt included.
	NotMet int `json:"not_met"`
	// Those that cannot be judged yet.
	Open int `json:"open"`
	// What of its law was read.
	Topics []Topic `json:"topics,omitempty"`
}

// Topic is a matter that the law of a region may settle.
type Topic struct {
	// The matter.
	Topic string `json:"topic"`
	// Rules of the region about it.
	Rules []string `json:"rules,omitempty"`
	// What stands instead of rules: not read, or none found.
	Without string `json:"without,omitempty"`
}

// Counts are numbers of findings.
type Counts struct {
	// Rules met.
	Pass int `json:"pass"`
	// Rules a design should meet and does not.
	Warn int `json:"warn"`
	// Rules a design must meet and does not.
	Fail int `json:"fail"`
	// Rules that cannot be judged yet.
	Open int `json:"open"`
	// Rules that do not apply.
	NotApplicable int `json:"not_applicable"`
	// Findings that stop the job at its stage.
	Blocking int `json:"blocking"`
}

// Doubt is a computed value that a measurement contradicts.
type Doubt struct {
	// Path of the computed value.
	Value string `json:"value"`
	// Called is what it is in words.
	Called string `json:"called,omitempty"`
	// Rule that holds it against what was measured.
	Rule string `json:"rule"`
	// What that rule found.
	Text string `json:"text"`
}

// Finding is one rule applied to one subject.
type Finding struct {
	// Number in the job sheet, which tells what is wrong or doubtful; findings of one cause share it.
	Number int `json:"number,omitempty"`
	// Full name of the rule; what all its findings share stands among the document's rules.
	Rule string `json:"rule"`
	// Outcome.
	Outcome string `json:"outcome" jsonschema:"enum=fail,enum=open,enum=warn,enum=pass,enum=not applicable"`
	// It stops the job now.
	Blocks bool `json:"blocks,omitempty"`
	// Path of what was judged; its name in the design stands among the report's names.
	Subject string `json:"subject"`
	// Where to look in the design's file.
	Place *Place `json:"place,omitempty"`
	// What was found; absent where that is the rule's title.
	Text string `json:"text,omitempty"`
	// What to do about it.
	Remedy string `json:"remedy,omitempty"`
	// Slips of unit or point that would explain it.
	Likely []Likely `json:"likely,omitempty"`
	// The one stated fact that explains this and other checks of sense.
	Cause *Cause `json:"cause,omitempty"`
	// The value a numeric rule bounds.
	Measured *Number `json:"measured,omitempty"`
	// What bounds it.
	Bounds []Bound `json:"bounds,omitempty"`
	// Which of the rule's grounds, counted from 0, are the law where this design is used; they stand there as laws of elsewhere.
	Law []int `json:"law,omitempty"`
	// Facts an open finding waits for.
	Missing []string `json:"missing,omitempty"`
	// Reasons that are not missing facts.
	Unreachable []string `json:"unreachable,omitempty"`
	// Facts that were assumed.
	Assumed []string `json:"assumed,omitempty"`
	// Computed values it rests on that a measurement contradicts.
	Doubts []Doubt `json:"doubts,omitempty"`
	// Paths of the facts that were read; they stand among the report's facts.
	Facts []string `json:"facts,omitempty"`
	// Names of the derived values that were used; they stand among the report's.
	Derived []string `json:"derived,omitempty"`
	// The part whose absence makes the rule not applicable.
	Absent string `json:"absent,omitempty"`
	// Set when a concession covers the finding.
	Conceded *Conceded `json:"conceded,omitempty"`
	// How it stands against the stored report; absent for what was met then and is met now.
	Since string `json:"since,omitempty" jsonschema:"enum=new,enum=worse,enum=unchanged,enum=milder,enum=mended"`
	// Its outcome in the stored report.
	Was string `json:"was,omitempty" jsonschema:"enum=fail,enum=open,enum=warn,enum=pass,enum=not applicable"`
	// What it was, in words.
	Before string `json:"before,omitempty"`
}

// Likely is a slip that would explain what makes no sense.
type Likely struct {
	// Path of the fact.
	Path string `json:"path"`
	// Its text in the design.
	Stated string `json:"stated"`
	// What it was perhaps meant to be.
	Meant string `json:"meant"`
	// Where it stands.
	Place *Place `json:"place,omitempty"`
}

// Cause is one stated fact that explains several checks of sense.
type Cause struct {
	// Path of the fact.
	Path string `json:"path"`
	// Its text in the design.
	Stated string `json:"stated"`
	// Where it stands.
	Place *Place `json:"place,omitempty"`
	// What it was perhaps meant to be.
	Meant []string `json:"meant,omitempty"`
}

// Place is where something stands in a file.
type Place struct {
	// File, when it is not the design's own.
	File string `json:"file,omitempty"`
	// Line, from 1.
	Line int `json:"line,omitempty"`
	// Column in characters, from 1.
	Column int `json:"column,omitempty"`
}

// Number is a value.
type Number struct {
	// The value with its unit, as printed.
	Text string `json:"text"`
	// The value in SI units, or plain when it has no dimension.
	Value float64 `json:"value"`
	// Its dimension, such as pressure.
	Dimension string `json:"dimension,omitempty"`
}

// Bound is one bound on a measured value.
type Bound struct {
	// Breaking a must fails, breaking a should warns.
	Of string `json:"of" jsonschema:"enum=must,enum=should"`
	// Direction of the bound.
	Op string `json:"op" jsonschema:"enum=at_least,enum=at_most,enum=more_than,enum=less_than"`
	// The bound.
	Bound Number `json:"bound"`
	// The value is inside.
	Met bool `json:"met"`
	// How far inside, as a fraction of the bound; negative outside.
	Margin *float64 `json:"margin,omitempty"`
}

// Reason is one ground with the standing of its source.
type Reason struct {
	// How much it weighs.
	Standing string `json:"standing" jsonschema:"enum=law,enum=law_elsewhere,enum=standard,enum=handbook,enum=practice,enum=memory,enum=physics"`
	// Title and clause of the source, or the reason in words.
	Text string `json:"text"`
	// What it supports.
	For string `json:"for,omitempty"`
}

// Fact is a stated fact.
type Fact struct {
	// As written.
	Text string `json:"text"`
	// Where it stands.
	Place *Place `json:"place,omitempty"`
}

// Conceded says who allowed a finding to stay.
type Conceded struct {
	// Why.
	Reason string `json:"reason"`
	// Who granted it.
	GrantedBy string `json:"granted_by"`
	// Last day it holds.
	Until string `json:"until"`
	// Where it stands.
	Place *Place `json:"place,omitempty"`
}

// Question is a missing fact.
type Question struct {
	// Path of the fact.
	Path string `json:"path"`
	// What to find out.
	Ask string `json:"ask"`
	// How an answer is written.
	Example string `json:"example,omitempty"`
	// Range that the design states, as written; the question is to narrow it.
	Stated string `json:"stated,omitempty"`
	// List of which something is named, as complete names it; the question is whether that is all.
	Complete string `json:"complete,omitempty"`
	// Possible answers.
	Words []string `json:"words,omitempty"`
	// Worst danger among the rules it keeps open.
	Danger string `json:"danger"`
	// Rules it keeps open.
	Rules []string `json:"rules"`
	// Number of findings that its answer alone settles.
	Alone int `json:"alone"`
}

// Caution is a warning for whoever mends what was found. Local codes come first.
type Caution struct {
	// Its full name.
	ID string `json:"id"`
	// The warning.
	Text string `json:"text"`
	// Why.
	Because []Reason `json:"because"`
	// Rules whose findings it goes with.
	Rules []string `json:"rules"`
}

// Loosened is a limit or rule made milder by a local pack.
type Loosened struct {
	// The limit or rule.
	What string `json:"what"`
	// What it was.
	From string `json:"from"`
	// What it is now.
	To string `json:"to"`
	// Why.
	Reason string `json:"reason"`
	// Where the pack says so.
	Place *Place `json:"place,omitempty"`
}

// Overridden is a limit or a cell of a table that has another value in a region.
type Overridden struct {
	// The limit, or the table with its column and row.
	What string `json:"what"`
	// What it is elsewhere.
	From string `json:"from"`
	// What it is there.
	To string `json:"to"`
	// The region.
	Region string `json:"region"`
	// Why.
	Because []Reason `json:"because"`
	// Where the pack says so.
	Place *Place `json:"place,omitempty"`
}

// Shelved is a part of the design that is a part of the shelf.
type Shelved struct {
	// Path of the part of the design.
	Path string `json:"path"`
	// Name of the part of the shelf.
	Part string `json:"part"`
	// Where the facts of the part were read: on the part itself, its box, its maker's sheet, a supplier's list, or on the bench.
	ReadFrom string `json:"read_from"`
	// Day they were read.
	ReadOn string `json:"read_on"`
	// Where the shelf has it.
	Place *Place `json:"place,omitempty"`
	// What the design states itself although the part says otherwise; what it states counts.
	Kept []Kept `json:"kept,omitempty"`
}

// Kept is a fact that the design states itself, beside a part of the shelf that says otherwise.
type Kept struct {
	// Path of the fact.
	Path string `json:"path"`
	// What the design states, which counts.
	Stated string `json:"stated"`
	// Where it does.
	Place *Place `json:"place,omitempty"`
	// What the part says.
	Shelf string `json:"shelf"`
	// Where it says so.
	ShelfPlace *Place `json:"shelf_place,omitempty"`
}

// Assumption is a value that stood in for a fact.
type Assumption struct {
	// Path of the fact.
	Path string `json:"path"`
	// The value used.
	Value string `json:"value"`
	// Why that value.
	Because []Reason `json:"because"`
	// Number of findings that rest on it.
	Findings int `json:"findings"`
}
