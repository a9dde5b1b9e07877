package pack

import (
	"slices"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
)

// Pack is one file of rules with the limits, tables, assumptions and sources they use.
type Pack struct {
	// Name of the pack, its path in the library: fuel/delivery.
	Pack string `yaml:"pack" json:"pack" jsonschema:"required"`
	// Title in plain words.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// Edition, raised by one with every change of meaning.
	Edition int `yaml:"edition" json:"edition" jsonschema:"required"`
	// Part of the vehicle its findings are listed under.
	Part string `yaml:"part" json:"part" jsonschema:"required"`
	// The region whose rules the pack holds.
	Region *Region `yaml:"region" json:"region,omitempty"`
	// Regions it applies in; the one it declares, or everywhere, if not given.
	Regions []string `yaml:"regions" json:"regions,omitempty"`
	// Facts of the shop, which a design states under own by the last word of the pack's name; rules read them as design.own.WORD.NAME.
	Facts Named[Fact] `yaml:"facts" json:"facts,omitempty"`
	// Derived values of the shop, which rules of every pack read as design.own.WORD.NAME.
	Values Named[Value] `yaml:"values" json:"values,omitempty"`
	// Named thresholds, used as limit.NAME.
	Limits Named[Limit] `yaml:"limits" json:"limits,omitempty"`
	// Reference data, used as table.NAME[key].column.
	Tables Named[Table] `yaml:"tables" json:"tables,omitempty"`
	// Values used while a fact is not stated.
	Assumptions []Assumption `yaml:"assumptions" json:"assumptions,omitempty"`
	// Documents the pack cites; those of sources.yaml may be cited too.
	Sources Named[Source] `yaml:"sources" json:"sources,omitempty"`
	// Limits of other packs made stricter.
	Tighten []Adjustment `yaml:"tighten" json:"tighten,omitempty"`
	// Rules of other packs whose should becomes a must.
	Raise []Adjustment `yaml:"raise" json:"raise,omitempty"`
	// Limits of other packs made milder, and rules whose must becomes a should; never against fire, poisoning or loss of control.
	Loosen []Adjustment `yaml:"loosen" json:"loosen,omitempty"`
	// Limits and tables that have other values in the pack's regions.
	Override []Override `yaml:"override" json:"override,omitempty"`
	// Warnings for whoever does the work.
	Cautions []Caution `yaml:"cautions" json:"cautions,omitempty"`
	// Faults that can befall a finished build.
	Troubles []Trouble `yaml:"troubles" json:"troubles,omitempty"`
	// What is seen, heard or smelled of troubles.
	Signs []Sign `yaml:"signs" json:"signs,omitempty"`
	// What can be measured, with what is expected of it.
	Readings []Reading `yaml:"readings" json:"readings,omitempty"`
	// The rules.
	Rules []Rule `yaml:"rules" json:"rules,omitempty"`

	// Path is the name of its file, as the file system it was read from names it.
	Path string `yaml:"-" json:"-"`
	// Node is the whole of it.
	Node *yaml.Node `yaml:"-" json:"-"`
	// Local is true for a pack that does not come with the library.
	Local bool `yaml:"-" json:"-"`
}

// Limit is a named threshold which a local pack may tighten.
type Limit struct {
	// The value: a number or a quantity such as 58 psi.
	Is Scalar `yaml:"is" json:"is" jsonschema:"required"`
	// Dimension, where the unit leaves it open: temperature_difference for 10 degC.
	Of string `yaml:"of" json:"of,omitempty"`
	// Why this value.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Table is reference data with typed columns, looked up by its key column.
type Table struct {
	// Name of the key column; its cells are words.
	Key string `yaml:"key" json:"key" jsonschema:"required"`
	// Types of the other columns: a dimension name such as pressure, number, text or truth.
	Columns Named[string] `yaml:"columns" json:"columns" jsonschema:"required"`
	// Rows; a cell left out has no figure.
	Rows []map[string]Scalar `yaml:"rows" json:"rows" jsonschema:"required"`
	// Where the data come from.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Node    *yaml.Node   `yaml:"-" json:"-"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Assumption is a value used while a fact is not stated; every report lists those it used.
type Assumption struct {
	// Path of the fact, list indices left empty: design.circuits[].load.rated_voltage.
	Fact string `yaml:"fact" json:"fact" jsonschema:"required"`
	// Paths of other facts for which the same is assumed.
	Also []string `yaml:"also" json:"also,omitempty"`
	// The value, written as in a design; in place of it by and rows, where other facts decide.
	Is Scalar `yaml:"is" json:"is,omitempty"`
	// The facts that decide, by their names beside the fact: words or quantities, which have to be stated.
	By []string `yaml:"by" json:"by,omitempty"`
	// Rows: a value for each deciding fact in the order of by, then the value assumed. Of rows with the same words, quantities rising, the last that is not above the fact counts.
	Rows [][]Scalar `yaml:"rows" json:"rows,omitempty"`
	// Why this value.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Node    *yaml.Node   `yaml:"-" json:"-"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Source is a document.
type Source struct {
	// What it is.
	Kind string `yaml:"kind" json:"kind" jsonschema:"required,enum=law,enum=standard,enum=handbook"`
	// Its title.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// Its edition: the date or issue printed on the copy that was read, or what the copy says in place of one; unknown, if it says nothing.
	Edition string `yaml:"edition" json:"edition" jsonschema:"required"`
	// The day it was read, such as 2026-11-25; of one told from memory, the day it was written down.
	Seen string `yaml:"seen" json:"seen" jsonschema:"required"`
	// How it was read: in the text itself or the authority's own page, in a mirror of it, in a secondary page that tells of it, or not at all: from memory.
	Read string `yaml:"read" json:"read" jsonschema:"required,enum=text,enum=mirror,enum=secondary,enum=memory"`
	// Regions where a law cited by rules for everywhere is the law; elsewhere it is used as practice.
	In []string `yaml:"in" json:"in,omitempty"`
	// Whom a law binds there, as a condition on the design; everyone, if not given.
	Binds *Expression  `yaml:"binds" json:"binds,omitempty"`
	Place schema.Place `yaml:"-" json:"-"`
}

// Reason is one ground of a rule or figure: a cited source, or the honest
// words practice (common practice, no source) and memory.
type Reason struct {
	// Name of a source.
	Source string `yaml:"source" json:"source,omitempty"`
	// Clause, table or page.
	Where string `yaml:"where" json:"where,omitempty"`
	// What it supports.
	For string `yaml:"for" json:"for,omitempty"`
	// Common practice: what is done and why.
	Practice string `yaml:"practice" json:"practice,omitempty"`
	// From memory, not seen in a document: what is remembered.
	Memory string `yaml:"memory" json:"memory,omitempty"`
	// Physics: the reasoning that makes it so.
	Physics string       `yaml:"physics" json:"physics,omitempty"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Kinds says which kind of reason this is; empty when it is none.
func (r *Reason) Kinds() []string {
	var out []string
	for kind, text := range map[string]string{"source": r.Source, "practice": r.Practice, "memory": r.Memory, "physics": r.Physics} {
		if text != "" {
			out = append(out, kind)
		}
	}
	slices.Sort(out)
	return out
}

// Rule is one statement a design must or should meet.
type Rule struct {
	// Name within the pack.
	ID string `yaml:"id" json:"id" jsonschema:"required"`
	// The statement, in words, as it reads when it is met.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// What is at stake.
	Danger Danger `yaml:"danger" json:"danger" jsonschema:"required,enum=fire,enum=poisoning,enum=loss_of_control,enum=shock,enum=burn,enum=engine,enum=none"`
	// Stage from which an open or failing finding blocks.
	Due string `yaml:"due" json:"due" jsonschema:"required,enum=planned,enum=ordered,enum=built,enum=started,enum=handed_over"`
	// Path of the part it is about, when it does not judge each of a list.
	About string `yaml:"about" json:"about,omitempty"`
	// Judge every element of a list: {run: design.feed.runs}.
	Each Named[Expression] `yaml:"each" json:"each,omitempty"`
	// Names for shared sub-expressions.
	Let Named[Expression] `yaml:"let" json:"let,omitempty"`
	// A check of sense, of stated facts: two that cannot both be true, or one out of the ordinary. It has a should and no must, waits
	// in silence for what is not stated, and its warning names every line it read and the slip of unit or point that would explain it.
	Sense bool `yaml:"sense" json:"sense,omitempty"`
	// Holds stated facts against each other: it waits for all of them and does not lean on what is usual.
	Stated bool `yaml:"stated" json:"stated,omitempty"`
	// When the rule applies; always, if not given.
	Applies *Expression `yaml:"applies" json:"applies,omitempty"`
	// The number or quantity that must and should bound.
	Measure *Expression `yaml:"measure" json:"measure,omitempty"`
	// Broken means fail.
	Must *Test `yaml:"must" json:"must,omitempty"`
	// Broken means warn.
	Should *Test `yaml:"should" json:"should,omitempty"`
	// The sentence of a pass, with its numbers in {braces}; the title, if not given.
	Met string `yaml:"met" json:"met,omitempty"`
	// What is wrong and what then happens, in one sentence with the numbers in {braces}.
	Say string `yaml:"say" json:"say" jsonschema:"required"`
	// What to do about it; begins with a verb. A list gives a text for each condition, and a last one without.
	Mend Mend `yaml:"mend" json:"mend" jsonschema:"required"`
	// What a rule of a region is.
	Consequence string `yaml:"consequence" json:"consequence,omitempty" jsonschema:"enum=duty,enum=inspection,enum=advice"`
	// The matter of law a rule of a region is about.
	Topic Topic `yaml:"topic" json:"topic,omitempty" jsonschema:"enum=tampering,enum=crankcase,enum=evaporative,enum=exhaust_limits,enum=noise,enum=fuel_system,enum=electrical,enum=parts_approval,enum=certificate,enum=fitter,enum=seller,enum=notices,enum=historic"`
	// Rules of a wider region that this one takes the place of, by their full names.
	InsteadOf []string `yaml:"instead_of" json:"instead_of,omitempty"`
	// What to confirm and with whom, where it differs from the region's own.
	Confirm string `yaml:"confirm" json:"confirm,omitempty"`
	// Derived values that what was measured contradicts when the rule is broken; findings that rest on them are marked.
	Doubts []string `yaml:"doubts" json:"doubts,omitempty"`
	// Why it is a rule.
	Because []Reason `yaml:"because" json:"because" jsonschema:"required"`
	// Known failures it catches.
	Covers []string `yaml:"covers" json:"covers,omitempty"`
	// Proof that it judges as meant.
	Cases []Case `yaml:"cases" json:"cases,omitempty"`

	Node  *yaml.Node   `yaml:"-" json:"-"`
	Place schema.Place `yaml:"-" json:"-"`
}

// Expression is a CEL expression with its place in the pack.
type Expression struct {
	Text string
	Node *yaml.Node `yaml:"-" json:"-"`
}

// Scalar is a plain value of a pack with its place.
type Scalar struct {
	Text string
	// Quoted is true when the value was quoted or is a text anyway.
	Tag  string     `yaml:"-" json:"-"`
	Node *yaml.Node `yaml:"-" json:"-"`
}

// Test is a condition, or bounds on the rule's measure.
type Test struct {
	// Condition is set when the test is one expression.
	Condition *Expression
	// Bounds are set when it is a mapping of at_least, at_most, more_than, less_than or between.
	Bounds []Bound
	Node   *yaml.Node `yaml:"-" json:"-"`
}

// Bound is one bound on a measure: Op is at_least, at_most, more_than or less_than.
type Bound struct {
	Op    string
	Value Scalar
}

// Case is a partial design and the outcome it must give.
type Case struct {
	// Says which boundary or situation: just-below, no-curve.
	Name string `yaml:"name" json:"name" jsonschema:"required"`
	// Facts, laid out as in a design.
	Given *yaml.Node `yaml:"given" json:"given,omitempty"`
	// Day it is judged on: 2026-01-31.
	Today string `yaml:"today" json:"today,omitempty"`
	// Derived values set instead of computed, by path.
	Assume Named[Scalar] `yaml:"assume" json:"assume,omitempty"`
	// Expected outcome: pass, warn, fail, open or not applicable; the worst one when the rule judges several.
	Expect string `yaml:"expect" json:"expect" jsonschema:"required,enum=pass,enum=warn,enum=fail,enum=open,enum=not applicable"`
	// Facts an open outcome must ask for; a path's beginning is enough.
	Asks  []string     `yaml:"asks" json:"asks,omitempty"`
	Node  *yaml.Node   `yaml:"-" json:"-"`
	Place schema.Place `yaml:"-" json:"-"`
}

// Named is a mapping in the order it was written.
type Named[T any] []Entry[T]

// Entry is one key of a Named mapping.
type Entry[T any] struct {
	Key   string
	Place schema.Place `yaml:"-" json:"-"`
	Value T
}

// Get finds an entry by its key.
func (n Named[T]) Get(key string) (*T, bool) {
	for i := range n {
		if n[i].Key == key {
			return &n[i].Value, true
		}
	}
	return nil, false
}

// Keys lists the keys in order.
func (n Named[T]) Keys() []string {
	out := make([]string, len(n))
	for i := range n {
		out[i] = n[i].Key
	}
	return out
}
