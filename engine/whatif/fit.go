package whatif

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/schema"
)

// Fitting is what of a shelf makes a design pass.
type Fitting struct {
	// File of the design.
	File string `json:"file"`
	// Title of the design.
	Title string `json:"title,omitempty"`
	// Number of parts on the shelf.
	Parts int `json:"parts"`
	// How many changes, and sets of them, were looked at.
	Tried int `json:"tried"`
	// The things that are wrong, or the places that were asked about, each with what would do.
	Answers []Answer `json:"answers"`
	// The things that are wrong and that no part of the shelf bears on.
	Left []Complaint `json:"left,omitempty"`
	// All of it at once: of every answer the first choice, but another where it mends what a later answer is for.
	Together *AtOnce `json:"together,omitempty"`
}

// Answer is what would do for one thing that is wrong, or in the places asked about.
type Answer struct {
	// The things that are wrong now and are not with any of the choices; none where nothing is wrong.
	Mends []Complaint `json:"mends,omitempty"`
	// Set where the shelf holds nothing for the places asked about.
	Bare bool `json:"bare,omitempty"`
	// The things about the places that stay wrong with every part of the shelf that was tried there.
	Whatever []Complaint `json:"whatever,omitempty"`
	// The best, fewest changes first, then by price, then by stock; none where nothing does.
	Choices []Choice `json:"choices"`
	// How many others may mend it that were not looked at further, as they cost more.
	More int `json:"more,omitempty"`
	// The parts that come nearest to it, with what is wrong with each.
	Near []Near `json:"near,omitempty"`
	// Set where not all pairs of parts were tried that may do: another, or a cheaper one, is possible then.
	Capped bool `json:"capped,omitempty"`
	// Set where more changes are told than two, and it is not proved that no pair does.
	Few bool `json:"few,omitempty"`
}

// Choice is a set of changes with which nothing of it is wrong and nothing else becomes so.
type Choice struct {
	// The changes.
	Changes []Exchanged `json:"changes"`
	// What they cost together; left out where one has no price.
	Price *float64 `json:"price,omitempty"`
	// The rules that could be judged before and wait now for a fact that a label does not say.
	Opens []string `json:"opens,omitempty"`
	// The facts that labels do not say and that rules wait for.
	Silent []Silent `json:"silent,omitempty"`
	// Set where it rests on what is usual of facts nobody stated.
	Usual bool `json:"usual,omitempty"`
}

// Exchanged is one change: a part of the shelf, or a size of a series, in a place of the design.
type Exchanged struct {
	// Path of the place.
	Path string `json:"path"`
	// Name of the part.
	Part string `json:"part,omitempty"`
	// Kind of the part.
	Kind string `json:"kind,omitempty"`
	// What the part is.
	Title string `json:"title,omitempty"`
	// Size of a series, where it is no part of the shelf.
	Size string `json:"size,omitempty"`
	// What it costs there, of what is sold by length for its length.
	Price *float64 `json:"price,omitempty"`
	// How many are there.
	Stock *int `json:"stock,omitempty"`
	// Where the shelf has the part.
	Place *schema.Place `json:"place,omitempty"`
}

// Silent is a fact that a part's label does not say.
type Silent struct {
	// Path of the fact.
	Path string `json:"path"`
	// How many rules wait for it.
	Rules int `json:"rules"`
}

// Near is a change that does not do.
type Near struct {
	// The change.
	Change Exchanged `json:"change"`
	// The worst that is wrong with it.
	Wrong Complaint `json:"wrong"`
	// How many things are wrong with it.
	Count int `json:"count"`
}

// Complaint is one thing that is wrong.
type Complaint struct {
	// Rule that says so.
	Rule string `json:"rule"`
	// Path of the part it is about.
	Subject string `json:"subject"`
	// How it came out.
	Outcome engine.Outcome `json:"outcome"`
	// Set where it is so only with what is usual of facts nobody stated.
	Usual bool `json:"usual,omitempty"`
	// What is wrong, and what then happens.
	Text string `json:"text"`
	// The bound it breaks, with how far, where a number decides.
	By *engine.BoundFound `json:"by,omitempty"`
}

// AtOnce is a choice of every answer at once.
type AtOnce struct {
	// The changes.
	Changes []Exchanged `json:"changes"`
	// What they cost together; left out where one has no price.
	Price *float64 `json:"price,omitempty"`
	// The things that are wrong then, the whole design judged anew.
	Wrong []Complaint `json:"wrong,omitempty"`
	// Those of them that are not wrong now.
	New []Complaint `json:"new,omitempty"`
}

// FitOptions say how far fit goes.
type FitOptions struct {
	// Of are paths of the design: the places to fill. Without them the places are those that what is wrong rests on.
	Of []string
	// Choices is how many choices are told, 0 for five.
	Choices int
	// MostPairs is how many pairs of parts are tried for one answer, and then how many sets of three; 0 for a thousand.
	MostPairs int
}

// Fit searches a shelf for the parts, and series for the sizes of wires, fuses and bores, with which nothing is wrong with a design.
//
// A choice mends what it is for and makes nothing else wrong: every rule that may read what was exchanged is judged anew. The
// fewest changes are found, at most three at once: pairs are tried only where no single part will do, three only where no pair does.
func Fit(lib *engine.Library, d *schema.Design, o engine.Options, shelf *schema.Shelf, series []Series, fo FitOptions) *Fitting {
	f := newFitter(lib, d, o, shelf, series, fo)
	out := &Fitting{Parts: len(shelf.Parts), Answers: []Answer{}, File: d.Place().File}
	out.Title, _ = d.Title.Get()
	if len(fo.Of) > 0 {
		out.Answers = append(out.Answers, f.asked(fo.Of))
	} else {
		f.all(out)
	}
	f.together(out)
	out.Tried = int(f.tried.Load())
	return out
}

// all answers each thing that is wrong, the worst first; what an earlier answer mends too is not asked again.
func (f *fitter) all(out *Fitting) {
	done := map[key]bool{}
	for _, k := range f.worst {
		if done[k] {
			continue
		}
		seats := f.bearing(k)
		if len(seats) == 0 {
			out.Left = append(out.Left, complaint(f.wrong[k]))
			continue
		}
		a, mended := f.answer([]key{k}, seats, f.seats)
		for m := range mended {
			done[m] = true
		}
		if n := len(out.Answers) - 1; n >= 0 && len(a.Choices) == 0 && len(out.Answers[n].Choices) == 0 && out.Answers[n].Mends[0].Subject == k.subject {
			out.Answers[n].Mends = append(out.Answers[n].Mends, a.Mends...) // nothing will do for either
			continue
		}
		out.Answers = append(out.Answers, a)
	}
}

// asked answers for some places.
func (f *fitter) asked(paths []string) Answer {
	var seats []*seat
	for _, s := range f.every {
		if slices.ContainsFunc(paths, func(p string) bool { return schema.Path(p).Holds(schema.Path(s.path)) && !s.inside(paths) }) {
			seats = append(seats, s)
		}
	}
	var goals []key
	bears := func(k key) bool {
		return slices.ContainsFunc(seats, func(s *seat) bool { return f.v.Has(s.rules, k.rule) })
	}
	var whatever []Complaint
	for _, k := range f.worst {
		if !bears(k) {
			continue
		}
		mended := false
		for _, s := range seats {
			mended = mended || slices.ContainsFunc(f.stay(f.singles(s), []key{k}), func(w wrongs) bool { return len(w) == 0 })
		}
		if mended {
			goals = append(goals, k)
		} else if f.sameAll(seats, k) && slices.ContainsFunc(paths, func(p string) bool {
			return schema.Path(p).Holds(schema.Path(k.subject)) || schema.Path(k.subject).Holds(schema.Path(p))
		}) {
			whatever = append(whatever, complaint(f.wrong[k]))
		}
	}
	second := f.seats
	if len(seats) > 1 {
		second = seats
	}
	a, _ := f.answer(goals, seats, second)
	a.Whatever = whatever
	a.Bare = !slices.ContainsFunc(seats, func(s *seat) bool { return len(s.options) > 0 })
	return a
}

// sameAll reports whether something is wrong with every part that was tried in the places where it may be read.
func (f *fitter) sameAll(seats []*seat, k key) bool {
	return slices.ContainsFunc(seats, func(s *seat) bool { return len(s.options) > 0 && f.v.Has(s.rules, k.rule) })
}

// together takes a choice of every answer at once, the first ones but where another mends what a later answer is for, and judges the whole.
func (f *fitter) together(out *Fitting) {
	var changes []change
	taken, mended := map[*seat]bool{}, map[key]bool{}
	all := &AtOnce{Price: new(float64)}
	for i := range out.Answers {
		a := &out.Answers[i]
		if len(a.Choices) == 0 || len(a.Mends) > 0 && !slices.ContainsFunc(a.Mends, func(c Complaint) bool { return !mended[key{c.Rule, c.Subject}] }) {
			continue
		}
		for _, x := range f.furthest(a, out.Answers[i+1:]) {
			c := f.found(x)
			if taken[c.seat] {
				continue
			}
			taken[c.seat] = true
			changes = append(changes, c)
			all.Changes = append(all.Changes, x)
			if x.Price == nil || all.Price == nil {
				all.Price = nil
			} else {
				*all.Price += *x.Price
			}
		}
		wrong := f.glance(changes).wrong
		for k := range f.wrong {
			mended[k] = wrong[k] == nil
		}
	}
	if len(changes) == 0 {
		return
	}
	var found []*engine.Finding
	for _, w := range badIn(f.lib.Judge(f.with(changes), f.o).Findings) {
		found = append(found, w)
	}
	slices.SortFunc(found, compareWrong)
	for _, w := range found {
		all.Wrong = append(all.Wrong, complaint(w))
		if f.wrong[key{w.Rule, w.Subject}] == nil {
			all.New = append(all.New, complaint(w))
		}
	}
	out.Together = all
}

// furthest are the changes of the choice that mends what most of the later answers are for; of those that mend as much the first.
func (f *fitter) furthest(a *Answer, later []Answer) []Exchanged {
	best, most := a.Choices[0].Changes, -1
	for _, choice := range a.Choices {
		var changes []change
		for _, x := range choice.Changes {
			changes = append(changes, f.found(x))
		}
		wrong, n := f.eval(changes).wrong, 0
		for i := range later {
			if len(later[i].Choices) > 0 && !slices.ContainsFunc(later[i].Mends, func(c Complaint) bool { return wrong[key{c.Rule, c.Subject}] != nil }) {
				n++
			}
		}
		if n > most && (most < 0 || len(choice.Changes) <= len(best)) {
			best, most = choice.Changes, n
		}
	}
	return best
}

// found is the change that an answer tells.
func (f *fitter) found(x Exchanged) change {
	for _, s := range f.every {
		for i := range s.options {
			if o := &s.options[i]; s.path == x.Path && o.size == x.Size && (o.part == nil && x.Part == "" || o.part != nil && o.part.Called() == x.Part) {
				return change{s, o}
			}
		}
	}
	panic("whatif: an answer without its change")
}

// compareWrong puts the worst first.
func compareWrong(a, b *engine.Finding) int {
	return cmp.Or(a.Outcome.Rank()-b.Outcome.Rank(), a.Danger.Rank()-b.Danger.Rank(), strings.Compare(a.Rule, b.Rule), strings.Compare(a.Subject, b.Subject))
}

// complaint tells a finding.
func complaint(f *engine.Finding) Complaint {
	out := Complaint{Rule: f.Rule, Subject: f.Subject, Outcome: f.Outcome, Text: f.Text}
	bounds := f.Bounds
	if f.Leaning != nil {
		out.Usual, out.Text, out.Outcome, bounds = true, f.Leaning.Text, f.Leaning.Likely, f.Leaning.Bounds
	}
	for i := range bounds {
		if b := &bounds[i]; !b.Met && (out.By == nil || b.Of == "must") {
			out.By = b
		}
	}
	return out
}

// sorted are the keys of what is wrong, the worst first.
func sorted(w wrongs) []key {
	return slices.SortedFunc(maps.Keys(w), func(a, b key) int { return compareWrong(w[a], w[b]) })
}
