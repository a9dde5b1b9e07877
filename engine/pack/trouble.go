package pack

import (
	"strings"

	"plumbline/schema"
)

// Trouble is a physical fault that can befall a finished build: what it changes, by one size that is found from readings.
type Trouble struct {
	// Name within the pack.
	ID string `yaml:"id" json:"id" jsonschema:"required"`
	// The trouble in a few words: worn fuel pump.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// The vehicles it can befall, as a condition on the design; all, if not given.
	When *Expression `yaml:"when" json:"when,omitempty"`
	// Its size; none of a trouble that is known by its signs alone.
	Size TroubleSize `yaml:"size" json:"size,omitempty"`
	// What it changes in the vehicle; nothing for a trouble that is known by its signs alone.
	Changes []TroubleChange `yaml:"changes" json:"changes,omitempty"`
	// The signs it gives, by their ids in any pack.
	Sees []string `yaml:"sees" json:"sees,omitempty"`
	// What is seen, heard or smelled of it.
	Signs string `yaml:"signs" json:"signs" jsonschema:"required"`
	// How to make sure of it, cheaply and safely; begins with a verb.
	Confirm string `yaml:"confirm" json:"confirm" jsonschema:"required"`
	// How to mend it; begins with a verb.
	Mend string `yaml:"mend" json:"mend" jsonschema:"required"`
	// What readings tell of it where they do not tell it from others with the same words: a bad contact between battery and pump.
	Together string `yaml:"together" json:"together,omitempty"`
	// Parts of a design where the work is, by their paths; cautions go with them.
	Parts []string `yaml:"parts" json:"parts" jsonschema:"required"`
	// What is at stake while it lasts.
	Danger Danger `yaml:"danger" json:"danger" jsonschema:"required,enum=fire,enum=poisoning,enum=loss_of_control,enum=shock,enum=burn,enum=engine,enum=none"`
	// Other troubles it is taken for, and what tells them apart.
	TakenFor []Mistaken `yaml:"taken_for" json:"taken_for,omitempty"`
	// Why it shows as it does.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Unsized reports whether it is known by its signs alone.
func (t *Trouble) Unsized() bool { return t.Size.Of == "" && len(t.Changes) == 0 && len(t.Sees) > 0 }

// Sign is something seen, heard or smelled, a sign and not a reading.
type Sign struct {
	// Its id: lower-case words joined by hyphens, one of its own among all packs.
	ID string `yaml:"id" json:"id" jsonschema:"required"`
	// What it is, as whoever sees it says: the pressure needle swings.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// Other ways to say it.
	Said  []string     `yaml:"said" json:"said,omitempty"`
	Place schema.Place `yaml:"-" json:"-"`
}

// TroubleSize is how large a trouble may be.
type TroubleSize struct {
	// What it is: share, or another dimension such as resistance.
	Of string `yaml:"of" json:"of" jsonschema:"required"`
	// The size at which nothing is wrong; it is one of the ends.
	Sound Scalar `yaml:"sound" json:"sound" jsonschema:"required"`
	// The other end, the worst that is looked for.
	Worst Scalar `yaml:"worst" json:"worst" jsonschema:"required"`
	// A size as it is often found.
	Usual Scalar `yaml:"usual" json:"usual" jsonschema:"required"`
	// Path of a count that it is a whole share of: one, two or more of so many injectors.
	WholeOf string `yaml:"whole_of" json:"whole_of,omitempty"`
	// The size in a sentence, as {size}.
	Say string `yaml:"say" json:"say" jsonschema:"required"`
}

// TroubleChange is what a trouble does to one fact of the design or to one thing that a sound vehicle has none of.
type TroubleChange struct {
	// Path of the fact, list indices left empty: pump.curve[].flow. What the design does not have is left as it is.
	Fact string `yaml:"fact" json:"fact,omitempty"`
	// In place of a fact, a fault that no fact states: air_leak.
	Fault string `yaml:"fault" json:"fault,omitempty"`
	// How: times and plus change the value there is, is takes its place.
	Do string `yaml:"do" json:"do" jsonschema:"required,enum=times,enum=plus,enum=is"`
	// How much of the size's way from sound counts; all of it, if not given. A negative number goes the other way.
	Gain Scalar `yaml:"gain" json:"gain,omitempty"`
	// Only items of the list with this word, as key and word: {load.kind: fuel_pump}.
	Where Named[string] `yaml:"where" json:"where,omitempty"`
	// Only the first or the last that is found; all, if not given.
	Only string `yaml:"only" json:"only,omitempty" jsonschema:"enum=first,enum=last"`
}

// Mistaken is another trouble that looks alike.
type Mistaken struct {
	// Its name: of another pack with the pack's name before it.
	Trouble string `yaml:"trouble" json:"trouble" jsonschema:"required"`
	// What tells the two apart.
	Tells string `yaml:"tells" json:"tells" jsonschema:"required"`
}

// Reading is something a shop can measure, with what is expected of it.
type Reading struct {
	// Path of the fact that holds it: measured.idle_pressure.
	Fact string `yaml:"fact" json:"fact" jsonschema:"required"`
	// What is measured, within a sentence.
	Title string `yaml:"title" json:"title" jsonschema:"required"`
	// Path of the derived value it is held against: at.idle.pump_voltage.
	Expects string `yaml:"expects" json:"expects" jsonschema:"required"`
	// Vehicles on which it can be taken; all, if not given.
	When *Expression `yaml:"when" json:"when,omitempty"`
	// Whoever tunes the vehicle takes out what a sound one shows: only what a trouble adds to the expected share counts.
	Tuned bool `yaml:"tuned" json:"tuned,omitempty"`
	// How far the instrument may be off.
	Error Margin `yaml:"error" json:"error" jsonschema:"required"`
	// How far a sound vehicle's own value lies from the computed one, as parts scatter.
	Scatter Margin `yaml:"scatter" json:"scatter" jsonschema:"required"`
	// Share of what a trouble changes of it that may come out otherwise, where how it changes is known only roughly.
	Change Scalar `yaml:"change" json:"change,omitempty"`
	// The work it asks for: 1 read off a screen, 2 a meter or gauge on, 3 tools and a hose taken off, 4 an hour, 5 a drive or a part taken apart.
	Effort int `yaml:"effort" json:"effort" jsonschema:"required"`
	// What can happen while it is taken.
	Danger Danger `yaml:"danger" json:"danger" jsonschema:"required,enum=fire,enum=poisoning,enum=loss_of_control,enum=shock,enum=burn,enum=engine,enum=none"`
	// How it is taken; begins with a verb.
	How string `yaml:"how" json:"how" jsonschema:"required"`
	// Parts of a design where it is taken; cautions go with them.
	Parts []string `yaml:"parts" json:"parts,omitempty"`
	// Why these margins.
	Because []Reason     `yaml:"because" json:"because" jsonschema:"required"`
	Place   schema.Place `yaml:"-" json:"-"`
}

// Expected is the whole path of the derived value it is held against.
func (r *Reading) Expected() string {
	if strings.HasPrefix(r.Expects, "at.") {
		return r.Expects
	}
	return "design." + r.Expects
}

// Margin is how far a value may be off: a share of it and a fixed part, which add up, or what the design states of the instrument.
type Margin struct {
	// Share of the value.
	Share Scalar `yaml:"share" json:"share,omitempty"`
	// Fixed part, in a unit of the value.
	Plus Scalar `yaml:"plus" json:"plus,omitempty"`
	// Path of the fact that states it, or of two whose product does; while stated it counts instead.
	Stated []string `yaml:"stated" json:"stated,omitempty"`
}
