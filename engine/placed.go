package engine

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// A design that is used in a region is judged by the figures of that region. One that is used in several has to keep the rules
// by the figures of each, so the worst that comes out counts. Of one that does not say where it is used nothing is decided that
// would come out otherwise somewhere: such a finding is open and asks for the regions. So stating them never changes what was
// decided.

// placed are the figures of one region.
type placed struct {
	region string
	// of are the figures that are others there, by the pack that reads them and its name for them; others those for packs that
	// have none of these themselves.
	of     map[string]map[string]ref.Val
	others map[string]ref.Val
	// changed tells of each.
	changed []placedChange
	// grounds are those that rules have for them, by rule.
	grounds sync.Map
}

type placedChange struct {
	Overridden
	by *override
}

// names are the figures that are others there for a pack.
func (p *placed) names(pack string) map[string]ref.Val {
	if p == nil {
		return nil
	}
	if own := p.of[pack]; own != nil {
		return own
	}
	return p.others
}

// mark tells the figures of regions apart.
func (p *placed) mark() string {
	var b strings.Builder
	for i := range p.changed {
		b.WriteString(p.changed[i].What + "=" + p.changed[i].To + ";")
	}
	return b.String()
}

// placedIn are the figures of a region; those of the packs themselves for none.
func (l *Library) placedIn(region string) *placed {
	l.placed.Lock()
	defer l.placed.Unlock()
	if p := l.placed.of[region]; p != nil {
		return p
	}
	p := &placed{region: region, of: map[string]map[string]ref.Val{}, others: map[string]ref.Val{}}
	last := map[string]int{}
	figures := map[string]map[string]ref.Val{}
	for _, in := range l.withParents([]string{region}) {
		for _, o := range l.overrides[in] {
			own := o.owner.Pack.Pack
			if figures[own] == nil {
				figures[own] = maps.Clone(o.owner.Names)
			}
			if h := l.houses(o, figures[own]); h {
				continue
			}
			x := placedChange{Overridden{What: o.what(), From: "no figure", To: cellText(o.to()), Region: in, Because: o.grounds, Place: o.place}, o}
			if from := o.now(figures[own]); from != nil {
				x.From = cellText(from)
			}
			o.put(figures[own])
			if p.of[own] == nil {
				p.of[own] = map[string]ref.Val{}
			}
			p.of[own][o.name] = figures[own][o.name]
			p.others[vocabulary.FigureName(o.kind, o.full)] = figures[own][o.name]
			if at, before := last[x.What]; before {
				x.From = p.changed[at].From
				p.changed[at] = x
				continue
			}
			last[x.What] = len(p.changed)
			p.changed = append(p.changed, x)
		}
	}
	p.changed = slices.DeleteFunc(p.changed, func(x placedChange) bool { return x.From == x.To }) // set back to what it was
	for _, own := range p.of {
		maps.Copy(own, p.others)
	}
	l.placed.of[region] = p
	return p
}

// cellText writes a figure, in both systems.
func cellText(v ref.Val) string { return (&judging{}).words(v) }

// houses reports whether a local pack made a limit stricter than a region has it: then its own value holds there too.
func (l *Library) houses(o *override, now map[string]ref.Val) bool {
	steps := l.steps[o.full]
	if o.kind != "limit" || !slices.ContainsFunc(steps, func(s LimitStep) bool { return s.How == "tightened" }) {
		return false
	}
	a := &adjuster{Library: l}
	return !stricterValue(a.stricter(o.owner, o.name), now[o.name], o.value)
}

// placed takes up the figures a design is judged by: of each region where it is used, of all there are where it does not say;
// none where no pack overrides any.
func (j *judging) placed() {
	l := j.library
	if len(l.overrides) == 0 {
		return
	}
	regions := j.named
	if j.unplaced = len(regions) == 0 && !j.design.Regions.Known(); j.unplaced {
		regions = append([]string{""}, slices.Sorted(maps.Keys(l.overrides))...)
	}
	if len(regions) == 0 {
		regions = []string{""}
	}
	j.figures = nil
	var marks []string
	for _, region := range regions {
		p := l.placedIn(region)
		if mark := p.mark(); !slices.Contains(marks, mark) {
			marks, j.figures = append(marks, mark), append(j.figures, p)
		}
	}
	j.place = j.figures[0]
}

// touches are the grounds that a rule has for figures of a region; none where it reads none of them.
func (p *placed) touches(r *rule.Rule, l *Library) []rule.Ground {
	if p == nil || len(p.changed) == 0 {
		return nil
	}
	if known, ok := p.grounds.Load(r.ID); ok {
		return known.([]rule.Ground)
	}
	a, out := &adjuster{Library: l}, []rule.Ground(nil)
	for i := range p.changed {
		x := &p.changed[i]
		if !r.Mentions(a.nameIn(r, x.by.owner, x.by.name)) {
			continue
		}
		for _, g := range x.by.grounds {
			g.For = x.What + " is " + x.To + " in " + l.regionTitle(x.Region) + ", " + x.From + " elsewhere"
			out = append(out, g)
		}
	}
	p.grounds.Store(r.ID, out)
	return out
}

func (l *Library) regionTitle(name string) string {
	if r := l.regions[name]; r != nil {
		return r.Title
	}
	return name
}

// inPlaces judges one subject of a rule by the figures of each place. judge makes one finding.
func (j *judging) inPlaces(r *rule.Rule, judge func()) {
	if len(j.figures) < 2 || !slices.ContainsFunc(j.figures, func(p *placed) bool { return len(p.touches(r, j.library)) > 0 }) {
		judge()
		return
	}
	n, room := len(j.found), len(j.room)
	var all []Finding
	for i, p := range j.figures {
		if i > 0 {
			j.found, j.orders = j.found[:n], j.orders[:n]
			if len(j.room) > room {
				j.room[room] = Finding{}
				j.room = j.room[:room]
			}
		}
		own := slices.Clone(j.names.own)
		j.place = p
		j.of(r)
		j.names.own = append(j.names.own, own...)
		judge()
		j.names.own = append(j.names.own[:0], own...)
		all = append(all, *j.found[n])
	}
	j.place = j.figures[0]
	j.of(r)
	*j.found[n] = j.among(all)
}

// among is what comes out of a subject judged by the figures of several places.
func (j *judging) among(all []Finding) Finding {
	out := all[0]
	if !j.unplaced {
		for _, f := range all[1:] {
			if rank := placeRank(f.Outcome) - placeRank(out.Outcome); rank < 0 || rank == 0 && margin(&f) < margin(&out) {
				out = f
			}
		}
		return out
	}
	if !slices.ContainsFunc(all, func(f Finding) bool { return f.Outcome != out.Outcome }) {
		return out
	}
	out.Outcome, out.Measured, out.Bounds, out.Remedy, out.Text, out.Absent = Open, nil, nil, "", out.Title, ""
	out.Missing = []string{"design.regions"}
	for _, f := range all {
		out.Missing = append(out.Missing, f.Missing...)
	}
	slices.Sort(out.Missing)
	out.Missing = slices.Compact(out.Missing)
	out.Unreachable = nil
	for _, p := range j.figures {
		for _, g := range p.known(out.Rule) {
			if !slices.Contains(out.Unreachable, g.For) {
				out.Unreachable = append(out.Unreachable, g.For)
			}
		}
	}
	return out
}

// known are the grounds found before for a rule.
func (p *placed) known(name string) []rule.Ground {
	found, _ := p.grounds.Load(name)
	out, _ := found.([]rule.Ground)
	return out
}

// placeRank orders what comes out in several places: what fails somewhere fails, and what is open somewhere is not yet met.
func placeRank(o Outcome) int {
	return slices.Index([]Outcome{Fail, Open, Warn, Pass, NotApplicable}, o)
}

// margin is the least of a finding's bounds.
func margin(f *Finding) float64 {
	out := 0.0
	for i, b := range f.Bounds {
		if b.Margin != nil && (i == 0 || *b.Margin < out) {
			out = *b.Margin
		}
	}
	return out
}

// overridden lists the figures that are others where the design is used.
func (j *judging) overridden() []Overridden {
	var out []Overridden
	if j.unplaced {
		return nil
	}
	for _, p := range j.figures {
		for _, x := range p.changed {
			if !slices.ContainsFunc(out, func(o Overridden) bool { return o.What == x.What && o.Region == x.Region && o.To == x.To }) {
				out = append(out, x.Overridden)
			}
		}
	}
	return out
}
