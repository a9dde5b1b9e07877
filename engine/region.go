package engine

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Regions lists the regions that packs of the library declare, by name.
func (l *Library) Regions() []*pack.Region {
	out := make([]*pack.Region, 0, len(l.regions))
	for _, r := range l.regions {
		out = append(out, r)
	}
	slices.SortFunc(out, func(a, b *pack.Region) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// regionNames lists the names of the declared regions.
func (l *Library) regionNames() []string {
	var out []string
	for _, r := range l.Regions() {
		out = append(out, r.Name)
	}
	return out
}

// parents lists the regions whose rules hold in a region too: us-ca is in us, de in eu.
func (l *Library) parents(name string) []string {
	var out []string
	if parent, _, has := strings.Cut(name, "-"); has {
		out = append(out, parent)
	}
	if r := l.regions[name]; r != nil && r.Within != "" {
		out = append(out, r.Within)
	}
	return out
}

// withParents lists regions and those they lie in, each once, the wider one first.
func (l *Library) withParents(names []string) []string {
	var out []string
	var add func(name string, depth int)
	add = func(name string, depth int) {
		if slices.Contains(out, name) || depth > len(l.regions)+1 {
			return
		}
		for _, p := range l.parents(name) {
			add(p, depth+1)
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	for _, n := range names {
		add(n, 0)
	}
	return out
}

// declareRegions takes up the regions that packs declare, and refuses what cannot be right about them.
func (l *Library) declareRegions() document.Problems {
	var problems document.Problems
	say := func(place schema.Place, path, message, near string) {
		if near != "" {
			message += "; did you mean " + near + "?"
		}
		problems = append(problems, document.Problem{Place: place, Path: path, Message: message, Suggest: near})
	}
	// Those of the library first: a local pack is told that a region is taken.
	own := slices.Clone(l.packs)
	slices.SortStableFunc(own, func(a, b *pack.Pack) int {
		if a.Local != b.Local && b.Local {
			return -1
		}
		if a.Local != b.Local {
			return 1
		}
		return 0
	})
	for _, p := range own {
		r := p.Region
		if r == nil {
			continue
		}
		if len(p.Regions) == 0 {
			p.Regions = []string{r.Name}
		}
		switch other := l.regions[r.Name]; {
		case other != nil:
			say(r.Place, "region.name", fmt.Sprintf("the region %s is already declared at %s", r.Name, other.Place), "")
		default:
			l.regions[r.Name] = r
		}
	}
	names := l.regionNames()
	for _, p := range l.packs {
		if r := p.Region; r != nil {
			for _, parent := range l.parents(r.Name) {
				if l.regions[parent] == nil {
					say(r.Place, "region", fmt.Sprintf("%s lies in %s, which no pack declares", r.Name, parent), document.Nearest(parent, names))
				}
			}
			if slices.Contains(l.withParents(l.parents(r.Name)), r.Name) {
				say(r.Place, "region.within", r.Name+" lies in itself", "")
			}
		}
		for i, name := range p.Regions {
			if l.regions[name] == nil {
				place := l.files[p.Pack].At(pack.ItemOf(pack.ChildOf(p.Node, "regions"), i))
				say(place, "regions", fmt.Sprintf("no pack declares the region %q; there are %s", document.Cut(name), strings.Join(names, ", ")), document.Nearest(name, names))
			}
		}
	}
	return problems
}

// checkInsteadOf wants every rule that another takes the place of to exist, in a region the other lies in.
func (l *Library) checkInsteadOf() document.Problems {
	var problems document.Problems
	var names []string
	of := map[string]*rule.Rule{}
	for _, r := range l.rules {
		if len(r.Pack.Regions) > 0 {
			names = append(names, r.ID)
			of[r.ID] = r
		}
	}
	for _, r := range l.rules {
		for i, name := range r.Decl.InsteadOf {
			if len(problems) >= rule.MaxProblems {
				return problems
			}
			other := of[name]
			near := ""
			message := fmt.Sprintf("%s is no rule of a region", document.Cut(name))
			switch {
			case other == nil:
				if near = nearestIn(name, names); near != "" {
					message += "; did you mean " + near + "?"
				}
			case slices.ContainsFunc(r.Pack.Regions, func(own string) bool {
				wider := l.withParents([]string{own})
				return slices.ContainsFunc(other.Pack.Regions, func(x string) bool { return x != own && slices.Contains(wider, x) })
			}):
				if message = l.waives(r, other); message == "" {
					continue
				}
			default:
				message = fmt.Sprintf("%s is not of a region that %s lies in", name, strings.Join(r.Pack.Regions, ", "))
			}
			problems = append(problems, document.Problem{Place: l.itemPlace(r, i), Path: "rules." + r.Decl.ID + ".instead_of", Message: message, Suggest: near})
		}
	}
	return problems
}

// itemPlace is where one of the rules stands that a rule takes the place of.
func (l *Library) itemPlace(r *rule.Rule, i int) schema.Place {
	if r.Decl.Node == nil {
		return r.Decl.Place
	}
	return l.files[r.Pack.Pack].At(pack.ItemOf(pack.ChildOf(r.Decl.Node, "instead_of"), i))
}

// nearestIn is the full name meant by a misspelt one: of its own pack before those of others.
func nearestIn(name string, full []string) string {
	pack, _, _ := strings.Cut(name, ".")
	own := slices.DeleteFunc(slices.Clone(full), func(f string) bool { return !strings.HasPrefix(f, pack+".") })
	if near := document.Nearest(name, own); near != "" {
		return near
	}
	return document.Nearest(name, full)
}

// waives says what a local pack's rule would wave through by taking the place of another; empty when nothing.
func (l *Library) waives(r, other *rule.Rule) string {
	switch {
	case !r.Pack.Local:
	case ofLaw(other.Ready()) && !ofLaw(r.Ready()):
		return fmt.Sprintf("%s says what the law demands; only a duty that rests on a law takes its place", other.ID)
	case other.Decl.Danger.Grave() && !r.Decl.Danger.Grave():
		return fmt.Sprintf("%s guards against %s; what takes its place does so too", other.ID, other.Decl.Danger.Words())
	}
	return ""
}

// replaced lists the rules that others take the place of where the design is judged.
func (j *judging) replaced(rules []*rule.Rule) map[string]bool {
	out := map[string]bool{}
	for _, r := range rules {
		if len(r.Decl.InsteadOf) > 0 && j.inRegion(r.Pack) {
			for _, name := range r.Decl.InsteadOf {
				out[name] = true
			}
		}
	}
	return out
}

// RegionJudged is one region a design was judged for.
type RegionJudged struct {
	Name      string `json:"name"`
	Title     string `json:"title"`
	DecidedBy string `json:"decided_by"`
	Confirm   string `json:"confirm"`
	// Rules is how many of its own rules there are, those of wider regions not counted; Concern how many of them
	// concern this vehicle, or may: the rest do not apply. NotMet and Open are those broken and those not judged yet.
	Rules   int `json:"rules"`
	Concern int `json:"concern"`
	NotMet  int `json:"not_met"`
	Open    int `json:"open"`
	// Topics say what was read.
	Topics []TopicJudged `json:"topics"`
}

// judgedFor lists the regions a design was judged for, the wider ones first, with what became of their rules.
func (j *judging) judgedFor(findings []Finding) []RegionJudged {
	var out []RegionJudged
	for _, name := range j.regions {
		r := j.library.regions[name]
		if r == nil {
			continue
		}
		x := RegionJudged{Name: r.Name, Title: r.Title, DecidedBy: r.DecidedBy, Confirm: r.Confirm, Topics: j.library.TopicsOf(name)}
		for _, c := range j.library.rules {
			if slices.Contains(c.Pack.Regions, name) {
				x.Rules++
			}
		}
		worst := map[string]Outcome{}
		for i := range findings {
			if f := &findings[i]; f.Region == name {
				if o, ok := worst[f.Rule]; !ok || f.Outcome.Rank() < o.Rank() {
					worst[f.Rule] = f.Outcome
				}
			}
		}
		for _, o := range worst {
			switch o {
			case NotApplicable:
				continue
			case Fail, Warn:
				x.NotMet++
			case Open:
				x.Open++
			}
			x.Concern++
		}
		out = append(out, x)
	}
	return out
}

// unstated is the finding on a design that says nothing of where the vehicle is used.
func (j *judging) unstated() []*Finding {
	if len(j.options.Regions) > 0 || j.design.Regions.Known() || len(j.library.regions) == 0 {
		return nil
	}
	return []*Finding{{
		Rule: "design/regions.stated", Title: "the design says where the vehicle is used", Part: "Place", Outcome: Open, Danger: pack.NoDanger, Due: "handed_over",
		Subject: "design.regions", Place: j.placeOf("design.regions"), Missing: []string{"design.regions"},
		Text:    "Nothing was judged by the law of any place.",
		Because: []rule.Ground{{Standing: "practice", Text: "local codes come first, and which they are depends on the place"}},
	}}
}

// unknownRegions returns a finding for every region of the design that no pack declares.
func (j *judging) unknownRegions(named []string) []*Finding {
	var out []*Finding
	for i, name := range named {
		if j.library.regions[name] != nil || len(j.library.regions) == 0 {
			continue
		}
		f := &Finding{
			Rule: "design/regions.known", Title: "there are rules for every region the design names", Part: "Place", Outcome: Warn, Danger: pack.NoDanger, Due: "planned",
			Subject: fmt.Sprintf("design.regions[%d]", i), SubjectName: name, Place: j.design.Regions.Place(),
			Because: []rule.Ground{{Standing: "practice", Text: "what no rule covers has not been judged"}},
		}
		f.Text = fmt.Sprintf("There are no rules for the region %s; nothing about it was judged.", name)
		if parent, _, has := strings.Cut(name, "-"); has && j.library.regions[parent] != nil {
			f.Text = fmt.Sprintf("There are no rules for the region %s, only for %s, which it lies in; it may have rules of its own on altered emission equipment and inspections.", name, parent)
		}
		f.Remedy = "Ask the authority there, write a pack of its rules, or name one of the known regions: " + strings.Join(j.library.regionNames(), ", ") + "."
		out = append(out, f)
	}
	return out
}

// regional adds to a finding what its region says of it.
func (j *judging) regional(r *rule.Rule, f *Finding) {
	if len(r.Pack.Regions) == 0 {
		return
	}
	for _, name := range r.Pack.Regions {
		if region := j.library.regions[name]; region != nil && slices.Contains(j.regions, name) {
			f.Region = name
			f.Confirm = region.Confirm
			break
		}
	}
	f.Consequence, f.KnownFrom = r.Decl.Consequence, r.KnownFrom
	if r.Decl.Confirm != "" {
		f.Confirm = r.Decl.Confirm
	}
}
