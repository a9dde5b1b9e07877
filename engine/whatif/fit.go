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
	// File and Title are the design's.
	File  string `json:"file"`
	Title string `json:"title,omitempty"`
	// Parts is how many parts the shelf holds, Tried how often the design was judged with other parts in it.
	Parts int `json:"parts"`
	Tried int `json:"tried"`
	// Answers are the things that are wrong, or the places that were asked about, each with what would do.
	Answers []Answer `json:"answers"`
	// Left are the things that are wrong and that no part of the shelf bears on.
	Left []Complaint `json:"left,omitempty"`
	// Together is all of it: the first choice of every answer at once.
	Together *Together `json:"together,omitempty"`
}

// Answer is what would do for one thing that is wrong, or in the places asked about.
type Answer struct {
	// Mends are the things that are wrong now and are not with any of the choices; none where nothing is wrong.
	Mends []Complaint `json:"mends,omitempty"`
	// Whatever are the things that stay wrong with every part of the shelf that was tried there.
	Whatever []Complaint `json:"whatever,omitempty"`
	// Choices are the best, fewest changes first, then by price, then by stock; More is how many others mend it
	// and were not looked at further, as they cost more.
	Choices []Choice `json:"choices"`
	More    int      `json:"more,omitempty"`
	// Near are the parts that come nearest to it, with what is wrong with each.
	Near []Near `json:"near,omitempty"`
	// Capped is set where not all pairs of parts were tried.
	Capped bool `json:"capped,omitempty"`
}

// Choice is a set of changes with which nothing of it is wrong and nothing else becomes so.
type Choice struct {
	Changes []Exchanged `json:"changes"`
	// Price is what they cost together; nil where one has no price.
	Price *float64 `json:"price,omitempty"`
	// Opens are the rules that could be judged before and wait for a fact now, which a label does not say.
	Opens []string `json:"opens,omitempty"`
	// Silent are the facts that labels do not say and that rules wait for.
	Silent []Silent `json:"silent,omitempty"`
	// Usual is set where it rests on what is usual of facts nobody stated.
	Usual bool `json:"usual,omitempty"`
}

// Exchanged is one change: a part of the shelf, or a size of a series, in a place of the design.
type Exchanged struct {
	// Path is the place.
	Path string `json:"path"`
	// Part is the name of the part, Kind its kind, Title what it is; Size is set instead for a size of a series.
	Part  string `json:"part,omitempty"`
	Kind  string `json:"kind,omitempty"`
	Title string `json:"title,omitempty"`
	Size  string `json:"size,omitempty"`
	// Price is what it costs there, of what is sold by length for its length; Stock how many are there.
	Price *float64      `json:"price,omitempty"`
	Stock *int          `json:"stock,omitempty"`
	Place *schema.Place `json:"place,omitempty"`
}

// Silent is a fact that a part's label does not say.
type Silent struct {
	Path string `json:"path"`
	// Rules is how many rules wait for it.
	Rules int `json:"rules"`
}

// Near is a change that does not do.
type Near struct {
	Change Exchanged `json:"change"`
	// Wrong is the worst that is wrong with it, Count how many things are.
	Wrong Complaint `json:"wrong"`
	Count int       `json:"count"`
}

// Complaint is one thing that is wrong.
type Complaint struct {
	Rule    string         `json:"rule"`
	Subject string         `json:"subject"`
	Outcome engine.Outcome `json:"outcome"`
	// Usual is set where it is so only with what is usual of facts nobody stated.
	Usual bool   `json:"usual,omitempty"`
	Text  string `json:"text"`
	// By is the bound it breaks, with how far, where a number decides.
	By *engine.BoundFound `json:"by,omitempty"`
}

// Together is the first choice of every answer at once.
type Together struct {
	Changes []Exchanged `json:"changes"`
	Price   *float64    `json:"price,omitempty"`
	// Wrong are the things that are wrong then, the whole design judged anew.
	Wrong []Complaint `json:"wrong,omitempty"`
}

// FitOptions say how far fit goes.
type FitOptions struct {
	// Of are paths of the design: the places to fill. Without them the places are those that what is wrong rests on.
	Of []string
	// Choices is how many choices are told, 0 for five.
	Choices int
	// MostPairs is how many pairs of parts are tried, 0 for twenty thousand.
	MostPairs int
	// Single leaves pairs of parts out.
	Single bool
}

// Fit searches a shelf for the parts, and series for the sizes of wires, fuses and bores, with which nothing is wrong with a design.
//
// A choice mends what it is for and makes nothing else wrong: every rule that may read what was exchanged is judged anew. The
// fewest changes are found, at most two at once: pairs are tried only where no single part will do.
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
		} else if f.sameAll(seats, k) {
			whatever = append(whatever, complaint(f.wrong[k]))
		}
	}
	second := f.seats
	if len(seats) > 1 {
		second = seats
	}
	a, _ := f.answer(goals, seats, second)
	a.Whatever = whatever
	return a
}

// sameAll reports whether something is wrong with every part that was tried in the places where it may be read.
func (f *fitter) sameAll(seats []*seat, k key) bool {
	return slices.ContainsFunc(seats, func(s *seat) bool { return len(s.options) > 0 && f.v.Has(s.rules, k.rule) })
}

// together takes the first choice of every answer at once and judges the whole.
func (f *fitter) together(out *Fitting) {
	var changes []change
	taken := map[*seat]bool{}
	all := &Together{Price: new(float64)}
	for i := range out.Answers {
		if len(out.Answers[i].Choices) == 0 {
			continue
		}
		for _, x := range out.Answers[i].Choices[0].Changes {
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
	}
	out.Together = all
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
