package whatif

import (
	"cmp"
	"slices"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/internal/cores"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Difference is what differs between two designs, or one and itself after a change: what is stated, what is computed from it and what
// is found. What stands in lists is matched by its name, or what it is, not by its place.
type Difference struct {
	Before Side `json:"before"`
	After  Side `json:"after"`
	// Facts are what is stated otherwise, in the order of a design.
	Facts []FactDiffers `json:"facts"`
	// Parts are those that only one of the two has: pieces of line, circuits, parts that may be absent.
	Parts []PartDiffers `json:"parts,omitempty"`
	// Values are the computed values that findings rest on and that are printed otherwise.
	Values []ValueDiffers `json:"values"`
	// Findings are those that come out otherwise: what is worse first, the worst of it first.
	Findings []FindingDiffers `json:"findings"`
}

// Side is one of the two designs, and how many of its findings come out how.
type Side struct {
	File   string                 `json:"file,omitempty"`
	Title  string                 `json:"title,omitempty"`
	Counts map[engine.Outcome]int `json:"counts"`
}

// FactDiffers is a fact that is stated otherwise; one of a part that only one of the designs has says so by the other text, "".
type FactDiffers struct {
	// Key names it in both designs, Path in the one that states it, the second where both do.
	Key    string `json:"key"`
	Path   string `json:"path"`
	Before string `json:"before,omitempty"`
	After  string `json:"after,omitempty"`
}

// PartDiffers is a part that only one of the designs has.
type PartDiffers struct {
	// Key names it as facts are named, Path is where it stands in the one that has it.
	Key  string `json:"key"`
	Path string `json:"path"`
	// Come is set where the second has it, not the first.
	Come bool `json:"come"`
}

// ValueDiffers is a computed value that differs.
type ValueDiffers struct {
	Key  string `json:"key"`
	Path string `json:"path"`
	// Means says in a line what it is, Point at which operating point; "" for none.
	Means  string `json:"means,omitempty"`
	Point  string `json:"point,omitempty"`
	Before string `json:"before,omitempty"`
	After  string `json:"after,omitempty"`
	// Facts are the keys of the facts that differ and that it rests on.
	Facts []string `json:"facts,omitempty"`
}

// FindingDiffers is a finding that comes out otherwise.
type FindingDiffers struct {
	Rule    string         `json:"rule"`
	Subject string         `json:"subject"`
	Danger  pack.Danger    `json:"danger"`
	Before  engine.Outcome `json:"before"`
	After   engine.Outcome `json:"after"`
	// Worse says that it stands worse than before, Text what is found now, or was found before where it is gone.
	Worse  bool   `json:"worse"`
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
	// Causes are the facts that differ and that it rests on, those first that alone would turn it.
	Causes []Cause `json:"causes,omitempty"`
}

// Cause is a fact that differs, or a part that only one of the designs has, and that a finding rests on.
type Cause struct {
	// Fact is the key of the fact or of the part.
	Fact string `json:"fact"`
	// Alone says whether the first design with this alone as in the second one has the finding so; nil where that was not tried.
	Alone *bool `json:"alone,omitempty"`
}

// side is one of the designs, judged.
type side struct {
	design  *schema.Design
	report  *engine.Report
	session *derive.Session
	keys    *keys
	found   map[string]*engine.Finding // by rule and the key of the subject
}

func newSide(lib *engine.Library, d *schema.Design, o engine.Options) *side {
	return sideOf(lib, Judged{d, lib.Judge(d, o)}, o)
}

func sideOf(lib *engine.Library, x Judged, o engine.Options) *side {
	s := &side{design: x.Design, report: x.Report, session: lib.Session(x.Design, o), keys: keysOf(x.Design), found: map[string]*engine.Finding{}}
	for i := range s.report.Findings {
		f := &s.report.Findings[i]
		s.found[s.key(f)] = f
	}
	return s
}

func (s *side) key(f *engine.Finding) string { return f.Rule + " " + s.keys.of(f.Subject) }

func (s *side) tell() Side {
	out := Side{File: s.report.File, Title: s.report.Title, Counts: map[engine.Outcome]int{}}
	for i := range s.report.Findings {
		out.Counts[s.report.Findings[i].Outcome]++
	}
	return out
}

// mostAlone is how many of the facts and parts that differ are tried alone.
const mostAlone = 100

// Differences compares two designs.
func Differences(lib *engine.Library, before, after *schema.Design, o engine.Options) Difference {
	sides := make([]*side, 2)
	cores.Do(2, func(_, i int) { sides[i] = newSide(lib, []*schema.Design{before, after}[i], o) })
	return between(lib, sides[0], sides[1], o)
}

// Judged is a design with what was found in it.
type Judged struct {
	Design *schema.Design
	Report *engine.Report
}

// Between compares two designs that were judged with o. Which of the facts that differ would turn a finding alone is not tried.
func Between(lib *engine.Library, before, after Judged, o engine.Options) Difference {
	return between(nil, sideOf(lib, before, o), sideOf(lib, after, o), o)
}

// between compares two sides; without a library no fact or part is tried alone.
func between(lib *engine.Library, a, b *side, o engine.Options) Difference {
	out := Difference{Before: a.tell(), After: b.tell(), Facts: factsThatDiffer(a, b)}
	differs := map[string]bool{}
	for _, f := range out.Facts {
		differs[f.Key] = true
	}
	out.Values = valuesThatDiffer(a, b, differs, o.Units)

	// The first design with each of these facts, or parts, alone as in the second.
	parts := lones(a, b, out.Facts)
	causes := out.causes(parts)
	tried := make([]map[string]*engine.Finding, len(causes))
	most := min(len(causes), mostAlone)
	if lib == nil {
		most = 0
	}
	cores.Do(most, func(_, i int) {
		d := (*schema.Design)(nil)
		if x := causes[i].part; x != nil {
			d = x.with(a, b)
		} else {
			d = withAlone(a, b, causes[i].key)
		}
		if d != nil {
			tried[i] = newSide(lib, d, o).found
		}
	})

	keys := map[string]bool{}
	for k := range a.found {
		keys[k] = true
	}
	for k := range b.found {
		keys[k] = true
	}
	for k := range keys {
		was, is := a.found[k], b.found[k]
		turned := engine.Turned{Before: was, After: is}
		if standsAlike(was, is) {
			continue
		}
		f := turned.Finding()
		x := FindingDiffers{Rule: f.Rule, Subject: f.Subject, Danger: f.Danger, Before: outcomeOf(was), After: outcomeOf(is), Worse: turned.Worse(), Text: f.Text, Remedy: f.Remedy}
		if f.Leaning != nil && f.Outcome == engine.Open {
			x.Text = cmp.Or(f.Leaning.Text, f.Text)
		}
		rests := map[string]bool{}
		a.rests(was, rests)
		b.rests(is, rests)
		for i, one := range causes {
			turns := tried[i] != nil && standsAlike(tried[i][k], is)
			if !turns && !slices.ContainsFunc(one.facts, func(key string) bool { return rests[key] }) {
				continue
			}
			cause := Cause{Fact: one.key}
			if tried[i] != nil {
				cause.Alone = &turns
			}
			x.Causes = append(x.Causes, cause)
		}
		slices.SortStableFunc(x.Causes, func(a, b Cause) int { return turnsFirst(a) - turnsFirst(b) })
		out.Findings = append(out.Findings, x)
	}
	slices.SortFunc(out.Findings, func(x, y FindingDiffers) int {
		if x.Worse != y.Worse {
			if x.Worse {
				return -1
			}
			return 1
		}
		return cmp.Or(worst(x)-worst(y), x.Danger.Rank()-y.Danger.Rank(), cmp.Compare(x.Rule, y.Rule), cmp.Compare(x.Subject, y.Subject))
	})
	return out
}

// differing is something that may cause that a finding comes out otherwise: a fact, or a part that only one design has, with its facts.
type differing struct {
	key   string
	facts []string
	part  *lone
}

// causes are the facts and parts that differ, in the order of the facts; the parts are told, too.
func (x *Difference) causes(parts map[string]*lone) (out []differing) {
	at := map[*lone]int{}
	for i := range x.Facts {
		key := x.Facts[i].Key
		part := parts[key]
		if part == nil {
			out = append(out, differing{key: key, facts: []string{key}})
			continue
		}
		n, known := at[part]
		if !known {
			n = len(out)
			at[part] = n
			out = append(out, differing{key: part.key, part: part})
			x.Parts = append(x.Parts, PartDiffers{part.key, part.path, part.come})
		}
		out[n].facts = append(out[n].facts, key)
	}
	return out
}

// worst is the rank of the worse of two outcomes.
func worst(x FindingDiffers) int { return min(x.Before.Rank(), x.After.Rank()) }

func turnsFirst(c Cause) int {
	if c.Alone != nil && *c.Alone {
		return 0
	}
	return 1
}

// standsAlike reports whether two findings stand alike; a finding that is not there is one that does not apply.
func standsAlike(a, b *engine.Finding) bool {
	return outcomeOf(a) == outcomeOf(b) && a.Standing() == b.Standing()
}

func outcomeOf(f *engine.Finding) engine.Outcome {
	if f == nil {
		return engine.NotApplicable
	}
	return f.Outcome
}

// rests adds the keys of the facts that a finding rests on, down through the values it reads.
func (s *side) rests(f *engine.Finding, into map[string]bool) {
	if f == nil {
		return
	}
	for _, read := range f.Facts {
		into[s.keys.of(read.Path)] = true
	}
	for _, path := range f.Missing {
		into[s.keys.of(path)] = true
	}
	followed := map[*derive.Result]bool{}
	for _, value := range f.Derived {
		s.follow(value.Path, followed, into)
	}
}

// follow adds the keys of the facts that a value rests on.
func (s *side) follow(value string, followed map[*derive.Result]bool, into map[string]bool) {
	if value == "" {
		return
	}
	if r := s.session.Named(value); r != nil {
		r.Follow(followed, func(path string) { into[s.keys.of(path)] = true })
	}
}

// valuesThatDiffer are the values that findings rest on and that are printed otherwise.
func valuesThatDiffer(a, b *side, differs map[string]bool, units quantity.System) []ValueDiffers {
	values := func(s *side) (map[string]engine.DerivedRead, []string) {
		out, order := map[string]engine.DerivedRead{}, []string(nil)
		for i := range s.report.Findings {
			for _, v := range s.report.Findings[i].Derived {
				key := s.keys.of(v.Path)
				if _, had := out[key]; !had {
					order = append(order, key)
				}
				out[key] = v
			}
		}
		return out, order
	}
	was, _ := values(a)
	is, order := values(b)
	for key := range was {
		if _, there := is[key]; !there {
			order = append(order, key)
		}
	}
	slices.Sort(order)
	var out []ValueDiffers
	for _, key := range order {
		was[key], is[key] = a.value(key, was[key], is[key].Path, units), b.value(key, is[key], was[key].Path, units)
		x := ValueDiffers{Key: key, Path: cmp.Or(is[key].Path, was[key].Path), Before: was[key].Text, After: is[key].Text}
		if x.Before == x.After {
			continue
		}
		if e, _, point := derive.Named(x.Path); e != nil {
			x.Means = e.Meaning
			if point != derive.NoPoint {
				x.Point = point.String()
			}
		}
		rests := map[string]bool{}
		a.follow(was[key].Path, map[*derive.Result]bool{}, rests)
		b.follow(is[key].Path, map[*derive.Result]bool{}, rests)
		for fact := range rests {
			if differs[fact] {
				x.Facts = append(x.Facts, fact)
			}
		}
		slices.Sort(x.Facts)
		out = append(out, x)
	}
	return out
}

// value is a value as a finding read it; one that none reads is worked out where the other design has it, if it is the same thing.
func (s *side) value(key string, read engine.DerivedRead, elsewhere string, units quantity.System) engine.DerivedRead {
	if read.Path != "" || s.keys.of(elsewhere) != key {
		return read
	}
	if r := s.session.Named(elsewhere); r != nil && r.Value() != nil {
		return engine.DerivedRead{Path: elsewhere, Text: derive.ValueText(r.Value(), units)}
	}
	return read
}
