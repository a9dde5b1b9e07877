package engine

// Turned is a finding that comes out otherwise with other facts than with those of the design. Before is nil for a subject that
// was not there, After for one that is no more.
type Turned struct{ Before, After *Finding }

// Standing is what a finding stands for when one has to act on it: its outcome; of an open one that leans, what it would
// most likely become; and of a conceded one that it may stay.
func (f *Finding) Standing() Outcome {
	switch {
	case f == nil:
		return NotApplicable
	case f.Conceded != nil:
		return Pass
	case f.Outcome != Open || f.Leaning == nil:
		return f.Outcome
	case f.Leaning.OftenFails():
		return Fail
	}
	return f.Leaning.Likely
}

// Worse reports whether it stands worse than before: what does not apply is as good as what is met.
func (t Turned) Worse() bool { return standing(t.After) < standing(t.Before) }

// Better reports whether it stands better than before.
func (t Turned) Better() bool { return standing(t.After) > standing(t.Before) }

func standing(f *Finding) int { return min(f.Standing().Rank(), Pass.Rank()) }

// Finding is the one it is about: after, or what was before it went.
func (t Turned) Finding() *Finding {
	if t.After != nil {
		return t.After
	}
	return t.Before
}

// Key names what was found on what.
func (f *Finding) Key() string { return f.Rule + " " + f.Subject }

// base are the findings of the design as it stands.
type base struct {
	found []Finding
	at    map[pointKey]*Finding
	of    map[string][]*Finding // by their rules
}

func baseOf(found []Finding) *base {
	out := &base{found, make(map[pointKey]*Finding, len(found)), map[string][]*Finding{}}
	for i := range found {
		f := &found[i]
		out.at[pointKey{f.Rule, f.Subject}] = f
		out.of[f.Rule] = append(out.of[f.Rule], f)
	}
	return out
}

// Findings are those of the design as it stands, looked at so closely, the worst first.
func (b *Bench) Findings(depth Depth) []Finding { return b.base(depth).found }

func (b *Bench) base(depth Depth) *base {
	if out := b.bases[depth]; out != nil {
		return out
	}
	b.depth = depth
	defer func() { b.depth = Whole }()
	out := baseOf(b.judge(b.all))
	b.bases[depth] = out
	return out
}

// Turned judges the design with changes, and gives the findings that come out otherwise than without them: the worst first,
// those that are no more at the end.
func (b *Bench) Turned(depth Depth, changes ...Change) []Turned {
	out, _ := b.turned(depth, changes)
	return out
}

// turned gives the findings that rest on what is changed, too.
func (b *Bench) turned(depth Depth, changes []Change) (out []Turned, found []Finding) {
	before := b.base(depth)
	found, rules := b.try(depth, changes)
	seen := make(map[pointKey]bool, len(found))
	for i := range found {
		after := &found[i]
		k := pointKey{after.Rule, after.Subject}
		seen[k] = true
		if was := before.at[k]; was == nil || was.Outcome != after.Outcome || was.Standing() != after.Standing() {
			out = append(out, Turned{was, after})
		}
	}
	b.changed = b.mark(pathsOf(changes))
	defer func() { b.changed = 0 }()
	for _, r := range rules {
		for _, was := range before.of[r.ID] {
			if !seen[pointKey{was.Rule, was.Subject}] && !b.untouched(was.Rule, was.Subject) {
				out = append(out, Turned{was, nil})
			}
		}
	}
	return out, found
}

// TurnedOnly is Turned without what findings say, which is quicker.
func (b *Bench) TurnedOnly(depth Depth, changes ...Change) []Turned {
	out, _ := b.TurnedAndFound(depth, changes...)
	return out
}

// TurnedAndFound is TurnedOnly, with all findings that rest on what is changed.
func (b *Bench) TurnedAndFound(depth Depth, changes ...Change) (turned []Turned, found []Finding) {
	b.terse = true
	defer func() { b.terse = false }()
	return b.turned(depth, changes)
}

// Straight reports whether a rule turns once at most while a fact moves one way and all that is computed stays: nil of a rule that is not among
// those judged.
func (b *Bench) Straight(name, path string) bool {
	for _, r := range b.all {
		if r.ID == name {
			return r.Straight(path)
		}
	}
	return true
}

func pathsOf(changes []Change) []string {
	out := make([]string, len(changes))
	for i, c := range changes {
		out[i] = c.Path
	}
	return out
}
