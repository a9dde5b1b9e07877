// Package sheet makes papers of a judged design: each is data, lines with a role, which report and page write.
package sheet

import (
	"cmp"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/pack"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// Slip is the answer for the counter: may it be ordered, and part by part why.
type Slip struct {
	// Vehicle says in a few words what it is for.
	Vehicle string `json:"vehicle"`
	// Answer is no, ask or yes.
	Answer Word `json:"answer" jsonschema:"enum=no,enum=ask,enum=yes"`
	// Doubts are what does not add up with the rest that was said.
	Doubts []Puzzle `json:"doubts,omitempty"`
	// Parts are those in hand, what must not be bought first.
	Parts []Part `json:"parts"`
	// Add is what nobody has named yet and the job needs.
	Add []Wanted `json:"add,omitempty"`
	// Ask are at most three questions this customer can answer.
	Ask []Ask `json:"ask,omitempty"`
	// NotLooked are the parts of the vehicle nothing was said about.
	NotLooked []string `json:"not_looked_at,omitempty"`
}

// Word is the verdict of a part, or of the list.
type Word string

// The verdicts: not so; right; it depends on what is not known; and, of a list, nothing against it.
const (
	No   Word = "no"
	OK   Word = "ok"
	Asks Word = "ask"
	Yes  Word = "yes"
)

// Part is one part in hand with its verdict.
type Part struct {
	// Subject is its path, Name what it is called.
	Subject string `json:"subject"`
	Name    string `json:"name"`
	// Stated are its facts as written, the first few.
	Stated []string `json:"stated,omitempty"`
	// Word is the verdict.
	Word Word `json:"word" jsonschema:"enum=no,enum=ok,enum=ask"`
	// Danger is what is at stake where it is wrong.
	Danger string `json:"danger,omitempty"`
	// Text says why, with the deciding number; Do what to buy or do instead.
	Text string `json:"text"`
	Do   string `json:"do,omitempty"`
	// Instead are sizes that would do where the first of the rules turns on a size, each by itself.
	Instead []whatif.Instead `json:"instead,omitempty"`
	// Holds says how far what Text says holds: whatever the rest is; with anything usual; with most that is usual; or with some.
	Holds string `json:"holds,omitempty" jsonschema:"enum=whatever the rest is,enum=with anything usual,enum=with most that is usual,enum=with some that is usual"`
	// Turn is where it turns.
	Turn *Turn `json:"turn,omitempty"`
	// Margin is how far the tightest number is inside its limit.
	Margin *float64 `json:"margin,omitempty"`
	// Rules decided, the first the deciding one.
	Rules []string `json:"rules"`
	// Headline is set where the number is the one such a part is bought for.
	Headline bool `json:"headline,omitempty"`
	// More is how many other things are wrong with it.
	More int `json:"more,omitempty"`
}

// Turn is the value of one unknown at which a part turns from right to wrong, with the rest at its usual worst.
type Turn struct {
	// Path of the unknown, Name what it is called.
	Path string `json:"path"`
	Name string `json:"name"`
	// Right is at_least or at_most: the side on which it is right.
	Right string `json:"right" jsonschema:"enum=at_least,enum=at_most"`
	// At is the value, as printed.
	At string `json:"at"`
	// Stated is set where the unknown is a range of the design itself.
	Stated bool `json:"stated,omitempty"`
}

// turn is the turn of a leaning; nil for none.
func (b *builder) turn(t *engine.Turn) *Turn {
	if t == nil {
		return nil
	}
	return &Turn{Path: t.Path, Name: NameOf(b.design, t.Path), Right: t.Better, At: t.At.Text, Stated: t.Stated}
}

// Wanted is a part that nobody named.
type Wanted struct {
	// Subject is where it belongs, Text what is wrong without it, Do what to add.
	Subject string   `json:"subject"`
	Text    string   `json:"text"`
	Do      string   `json:"do"`
	Rules   []string `json:"rules"`
}

// Ask is a question this customer can answer.
type Ask struct {
	Path string `json:"path"`
	// Question in words, with the answers where there are few.
	Question string `json:"question"`
	// Rules that wait for it.
	Rules int `json:"rules"`
}

// SlipOf makes the slip of a design that was judged with patterns. Sizes finds what would do in the place of what does not; nil
// leaves that out.
func SlipOf(d *schema.Design, r *engine.Report, sizes *whatif.Sizer) *Slip {
	s := &Slip{Vehicle: vehicle(d)}
	b := &builder{design: d, report: r, stage: engine.StageRank(r.Stage) + 1}
	s.Doubts = b.doubts()
	s.Parts = b.parts()
	for i := range s.Parts {
		if p := &s.Parts[i]; (p.Word == No || p.Do != "") && len(p.Rules) > 0 {
			p.Instead = sizes.Instead(p.Subject, p.Rules[0])
		}
	}
	s.Add = b.wanted(s.Parts)
	s.Ask = b.asks(s.Parts)
	s.NotLooked = notLooked(d)
	s.Answer = answer(s)
	return s
}

// answer is no where one part is, ask where something must be known, added or looked at again first.
func answer(s *Slip) Word {
	out := Yes
	if len(s.Add)+len(s.Doubts) > 0 || len(s.Parts) == 0 {
		out = Asks
	}
	for _, p := range s.Parts {
		switch {
		case p.Word == No:
			return No
		case p.Word == Asks:
			out = Asks
		}
	}
	return out
}

type builder struct {
	design *schema.Design
	report *engine.Report
	// stage is the one that comes next: what is due by then counts.
	stage int
	// facts are what is stated of each part, seen the sections of which anything is; found when they are asked for.
	facts map[string][]string
	seen  map[string]bool
}

// counts reports whether a finding is for the decision of this stage.
func (b *builder) counts(f *engine.Finding) bool {
	if f.Sense || f.Conceded != nil {
		return false
	}
	return f.Outcome == engine.Fail || f.Region == "" && (engine.StageRank(f.Due) <= b.stage || f.Outcome == engine.Warn || certainlyBad(f) && b.ofStated(f))
}

// ofStated reports whether a finding rests on something that was said of the part it is about: what is usual of all of it
// says nothing about this one.
func (b *builder) ofStated(f *engine.Finding) bool {
	owner := b.owner(f) + "."
	return slices.ContainsFunc(f.Leaning.Stated, func(path string) bool { return strings.HasPrefix(path, owner) })
}

// certainlyBad reports whether an open finding comes out badly with anything usual: it fails, or warns of a danger.
func certainlyBad(f *engine.Finding) bool {
	lean := f.Leaning
	return lean != nil && (lean.Best == engine.Fail || lean.Best == engine.Warn && (lean.Worst == engine.Fail || f.Danger != pack.NoDanger))
}

// verdicts are the findings about one part.
type verdicts struct {
	owner                    string
	fails, turns, fine, asks []*engine.Finding
}

// parts are the parts in hand with their verdicts.
func (b *builder) parts() []Part {
	byOwner := map[string]*verdicts{}
	var order []string
	for _, owner := range inHand(b.design) {
		byOwner[owner] = &verdicts{owner: owner}
		order = append(order, owner)
	}
	for i := range b.report.Findings {
		f := &b.report.Findings[i]
		if !b.counts(f) {
			continue
		}
		if v := byOwner[b.owner(f)]; v != nil {
			v.take(f)
		}
	}
	b.causesFirst(byOwner)
	out := []Part{}
	for _, owner := range order {
		if p, ok := b.part(byOwner[owner]); ok {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(x, y Part) int { return rank(x.Word) - rank(y.Word) })
	return out
}

func rank(w Word) int { return slices.Index([]Word{No, Asks, OK}, w) }

// causesFirst takes away what follows from something else: where the pump falls short, the pressure at the throttle body does.
func (b *builder) causesFirst(by map[string]*verdicts) {
	pump, body := by["design.pump"], by["design.throttle_body"]
	if pump == nil || body == nil || len(pump.fails)+len(pump.turns) == 0 {
		return
	}
	follows := func(f *engine.Finding) bool {
		return strings.HasPrefix(f.Rule, "fuel/pressure.") && f.Outcome == engine.Open
	}
	body.fails, body.turns = slices.DeleteFunc(body.fails, follows), slices.DeleteFunc(body.turns, follows)
}

// take sorts a finding in.
func (v *verdicts) take(f *engine.Finding) {
	lean := f.Leaning
	if nobodyBuys(v.owner) && f.Outcome != engine.Fail {
		return
	}
	switch {
	case f.Outcome == engine.Fail, f.Outcome == engine.Warn && f.Danger != pack.NoDanger, certainlyBad(f), v.falls(f):
		v.fails = append(v.fails, f)
	case lean != nil && lean.Lean == engine.Turns && lean.OftenFails():
		v.turns = append(v.turns, f)
	case f.Outcome == engine.Pass, f.Outcome == engine.Warn, lean != nil:
		v.fine = append(v.fine, f)
	case f.Outcome == engine.Open:
		v.asks = append(v.asks, f)
	}
}

// falls reports whether a piece of a line does not do what the line needs, so that another one is to be bought: a coarse filter
// where a fine one is wanted.
func (v *verdicts) falls(f *engine.Finding) bool {
	return f.Wanting != nil && !f.Numeric && ownerOf(f.Subject) != v.owner
}

// How far what is said of a part holds.
const (
	Whatever = "whatever the rest is"
	Anything = "with anything usual"
	Most     = "with most that is usual"
	Some     = "with some that is usual"
)

// holds says how far what a finding says holds.
func holds(f *engine.Finding) string {
	switch {
	case f.Leaning == nil:
		return Whatever
	case f.Leaning.Lean == engine.Turns:
		return Most
	}
	return Anything
}

// waits reports whether anything about the part is open.
func (v *verdicts) waits() bool {
	return slices.ContainsFunc(slices.Concat(v.fails, v.turns, v.fine, v.asks), func(f *engine.Finding) bool { return f.Outcome == engine.Open })
}

// part makes the line of a part; false for an engine or fuel of which nothing is impossible: nobody buys them.
func (b *builder) part(v *verdicts) (Part, bool) {
	p := Part{Subject: v.owner, Rules: []string{}, Name: b.name(v.owner), Stated: b.stated(v.owner)}
	certain := slices.ContainsFunc(v.fails, func(f *engine.Finding) bool { return f.Outcome != engine.Open })
	switch missing := b.keys(v.owner); {
	case b.unmarked(v.owner) && !certain:
		p.Word, p.Holds, p.Danger = No, Whatever, string(pack.Fire)
		p.Text, p.Do, p.Rules = "it has no mark and no pressure is printed on it", "Fit hose marked for fuel injection.", rules(v.asks)
	case len(missing) > 0 && !certain && v.waits():
		p.Word, p.Text, p.Rules = Asks, "look for "+strings.Join(missing, " or "), rules(slices.Concat(v.fails, v.turns, v.asks))
		for _, f := range slices.Concat(v.fails, v.turns) {
			if t := f.Leaning.Turn(); t != nil && strings.HasPrefix(t.Path, v.owner+".") {
				p.Turn = b.turn(t)
				break
			}
		}
	case len(v.fails) > 0:
		p.tell(No, v.fails, b.worse)
	case len(v.turns) > 0:
		p.tell(Asks, v.turns, likelier)
		p.Turn = b.turn(v.turns[0].Leaning.Turn())
	case nobodyBuys(v.owner):
		return p, false
	default:
		b.fine(&p, v)
	}
	return p, true
}

// tell gives a part the worst of what is said of it.
func (p *Part) tell(word Word, list []*engine.Finding, order func(x, y *engine.Finding) int) {
	slices.SortStableFunc(list, order)
	f := list[0]
	p.Word, p.More, p.Rules, p.Danger, p.Holds = word, len(list)-1, rules(list), string(f.Danger), holds(f)
	if p.Holds == Most && f.Leaning.Likely == engine.Pass {
		p.Holds = Some // with all usual values it is right: what is told is where it is not
	}
	switch p.Text, p.Do = f.Text, f.Remedy; {
	case f.Wanting != nil && (f.Leaning == nil || f.Leaning.Worst == engine.Pass):
		p.Text, p.Do = f.Wanting.Text, f.Wanting.Remedy
	case f.Leaning != nil:
		p.Text, p.Do = f.Leaning.Text, f.Leaning.Remedy
	}
}

// fine is the line of a part of which nothing is wrong.
func (b *builder) fine(p *Part, v *verdicts) {
	if text := b.otherPressure(v.owner); text != "" {
		p.Word, p.Text, p.Rules = Asks, text, rules(v.asks)
		return
	}
	p.Word, p.Text = OK, "nothing against it in what is known"
	f := deciding(v.fine)
	if f == nil {
		return
	}
	p.Rules, p.Margin, p.Holds, p.Headline = rules([]*engine.Finding{f}), margin(f), holds(f), slices.Contains(headlines, f.Rule)
	p.Text = f.Text
	if f.Leaning != nil {
		p.Text = f.Leaning.Text
		if f.Leaning.Lean == engine.Turns {
			p.Text = f.Leaning.AtUsual
		}
	}
	if doubtful(f) {
		p.Do = cmp.Or(f.Remedy, remedyOf(f))
		if p.Headline && f.Outcome == engine.Open {
			p.Word = Asks // what it is bought for comes out doubtful
		}
	}
}

// nobodyBuys reports whether a part is none to buy: only what is impossible of it is told.
func nobodyBuys(owner string) bool { return owner == "design.engine" || owner == "design.fuel" }

// doubtful reports whether a finding warns, or would with all usual values.
func doubtful(f *engine.Finding) bool {
	return f.Outcome == engine.Warn || f.Leaning != nil && f.Leaning.Likely == engine.Warn
}

// otherPressure says that a pump's label is for another pressure than it will work at, so that what it gives there is a guess; "" otherwise.
func (b *builder) otherPressure(owner string) string {
	d := b.design
	printed, known := d.Pump.RatedPressure.Get()
	setting, set := d.Regulator.Setting.Get()
	if owner != "design.pump" || !known || !set || len(d.Pump.Curve.Items) > 0 || printed.SI() > 0.9*setting.SI() {
		return ""
	}
	text := "its label is for " + d.Pump.RatedPressure.Text() + " and the regulator holds " + d.Regulator.Setting.Text() + ", look at its chart there"
	for i := range b.report.Findings {
		if f := &b.report.Findings[i]; f.Rule == headlines[0] && f.Leaning != nil {
			said, _, _ := strings.Cut(f.Leaning.AtUsual, "; ")
			text += ": by a usual one " + strings.ToLower(said[:1]) + strings.TrimSuffix(said[1:], ".")
		}
	}
	return text
}

func remedyOf(f *engine.Finding) string {
	if f.Leaning != nil {
		return f.Leaning.Remedy
	}
	return ""
}

func rules(list []*engine.Finding) []string {
	out := make([]string, len(list))
	for i, f := range list {
		out[i] = f.Rule
	}
	return out
}
